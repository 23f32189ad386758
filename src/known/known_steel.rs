use super::{Seen, Session};
use crate::spark::SteelState;
use crate::units::{CarbonPercent, Interval};

/// One piece of known steel on one session: what it is, and what was seen of its sparks.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownSteel {
    /// What it is, as the trade writes it: a grade of `models/steels.toml`, or free words.
    pub name: String,
    /// Its carbon, wt%.
    pub carbon: Interval<CarbonPercent>,
    /// Soft or hardened; `None`: not said.
    pub state: Option<SteelState>,
    /// Grinder, wheel, camera and light that a set of photos shares.
    pub rig: String,
    /// When.
    pub session: Session,
    /// Whether it is the untreated stock that ties this session to others.
    pub reference: bool,
    /// Whatever else was said; may be empty.
    pub notes: String,
    /// What was seen.
    pub seen: Seen,
}

impl KnownSteel {
    /// Most bytes of [`Self::name`].
    pub const LONGEST_NAME: usize = 60;
    /// Most carbon of a steel, wt%: what austenite dissolves (Fe-C assessment in `models/steels.toml`, 2.05, rounded
    /// up). More is cast iron.
    pub const MOST_CARBON: f64 = 2.1;

    /// Whether both say the same of the steel and of when and where it was sparked; notes and photos may differ.
    pub fn same_label(&self, other: &Self) -> bool {
        let what = |s: &Self| (s.name.to_lowercase(), s.carbon, s.state, s.reference);
        what(self) == what(other) && self.same_sitting(other)
    }

    /// Whether both are of the same rig and session.
    pub fn same_sitting(&self, other: &Self) -> bool {
        self.rig == other.rig && self.session == other.session
    }
}
