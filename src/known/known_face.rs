use super::{EdgeQuench, Session};
use crate::fracture::{FractureDescription, Quenching};
use crate::units::{CarbonPercent, Depth, Hrc, Interval};

/// A coupon whose case was measured another way beside the rim that its quenched face shows. It knows of no soak.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownFace {
    /// What steel it was before, as the trade writes it.
    pub name: String,
    /// Carbon of that steel: the core's, wt%.
    pub core: Interval<CarbonPercent>,
    /// When it was broken.
    pub session: Session,
    /// Whatever else was said; may be empty.
    pub notes: String,
    /// Thickness or diameter, which depths told as a share of it need.
    pub thickness: Option<Depth>,
    /// Its face.
    pub fracture: FractureDescription,
    /// What was measured another way; at least one point.
    pub points: Vec<CasePoint>,
}

/// What was measured at a depth.
#[derive(Debug, Clone, PartialEq)]
pub struct CasePoint {
    /// Below the surface.
    pub depth: Interval<Depth>,
    /// What is there.
    pub shows: PointShows,
}

/// How a point was measured, and what came out.
#[derive(Debug, Clone, PartialEq)]
pub enum PointShows {
    /// Carbon of a layer, wt%.
    Carbon(Interval<CarbonPercent>),
    /// Hardness as quenched.
    Hardness(Interval<Hrc>),
    /// A file first bites there, going inward.
    FirstBite {
        /// What the file is called.
        file: String,
        /// Hardness at which it turns from skating to biting.
        turns: Interval<Hrc>,
    },
    /// The dark zone of an etched section ends there.
    EtchedEnd,
}

impl KnownFace {
    /// Most points of one coupon.
    pub const MOST_POINTS: usize = 100;

    /// What it was quenched in; `None`: that was not told, or it was not quenched.
    pub fn quench(&self) -> Option<EdgeQuench> {
        match self.fracture.coupon.quenched? {
            Quenching::In(medium) => Some(EdgeQuench::of(medium)),
            Quenching::NotQuenched => None,
        }
    }
}
