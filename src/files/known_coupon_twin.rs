//! The JSON form of coupons that were measured another way, and of the visible edge; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::known_set::quench_word;
use crate::fracture::RimDepth;
use crate::known::{CasePoint, CouponEdge, KnownFace, LearnedEdge, PointShows, VisibleEdge};
use crate::units::{CarbonPercent, Depth, Hrc, Interval, Share};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct CouponTwin {
    name: String,
    steel: String,
    carbon_wt_pct: RangeTwin,
    session: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    notes: String,
    quenched_in: &'static str,
    rim: Vec<DepthTwin>,
    points: Vec<PointTwin>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum DepthTwin {
    DepthMm(RangeTwin),
    OfThickness(RangeTwin),
}

#[derive(Debug, Serialize)]
struct PointTwin {
    depth_mm: RangeTwin,
    #[serde(flatten)]
    shows: ShowsTwin,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum ShowsTwin {
    CarbonWtPct(RangeTwin),
    HardnessHrc(RangeTwin),
    FirstBiteOf(String),
    EtchedEnd(bool),
}

/// A range of a quantity as plain numbers.
pub(super) fn range<T: Copy + PartialOrd>(of: &Interval<T>, number: impl Fn(T) -> f64) -> RangeTwin {
    let [low, best, high] = [of.low(), of.best(), of.high()].map(number);
    (&Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best))).into()
}

impl CouponTwin {
    pub(super) fn new(name: &str, face: &KnownFace) -> Self {
        let depth = |depth: &RimDepth| match depth {
            RimDepth::Length(length) => DepthTwin::DepthMm(range(length, Depth::millimetres)),
            RimDepth::OfThickness(share) => DepthTwin::OfThickness(range(share, Share::fraction)),
        };
        Self {
            name: name.to_string(),
            steel: face.name.clone(),
            carbon_wt_pct: range(&face.core, CarbonPercent::wt_percent),
            session: face.session.to_string(),
            notes: face.notes.clone(),
            quenched_in: face.quench().map_or("", quench_word),
            rim: face.fracture.coupon.depth.iter().flatten().map(depth).collect(),
            points: face.points.iter().map(PointTwin::new).collect(),
        }
    }
}

impl PointTwin {
    fn new(point: &CasePoint) -> Self {
        let shows = match &point.shows {
            PointShows::Carbon(wt) => ShowsTwin::CarbonWtPct(range(wt, CarbonPercent::wt_percent)),
            PointShows::Hardness(hrc) => ShowsTwin::HardnessHrc(range(hrc, Hrc::points)),
            PointShows::FirstBite { file, .. } => ShowsTwin::FirstBiteOf(file.clone()),
            PointShows::EtchedEnd => ShowsTwin::EtchedEnd(true),
        };
        Self { depth_mm: range(&point.depth, Depth::millimetres), shows }
    }
}

#[derive(Debug, Serialize)]
pub(super) struct VisibleEdgeTwin {
    learned: Vec<LearnedTwin>,
    coupons: Vec<CouponEdgeTwin>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    unused: Vec<String>,
}

#[derive(Debug, Serialize)]
struct LearnedTwin {
    quenched_in: &'static str,
    carbon_wt_pct: RangeTwin,
    coupons: usize,
}

#[derive(Debug, Serialize)]
struct CouponEdgeTwin {
    record: String,
    quenched_in: &'static str,
    alone_wt_pct: RangeTwin,
    by_others_wt_pct: RangeTwin,
    odd: bool,
}

impl VisibleEdgeTwin {
    /// `None`: the set has no coupon.
    pub(super) fn new(edge: &VisibleEdge) -> Option<Self> {
        let learned = |e: &LearnedEdge| LearnedTwin {
            quenched_in: quench_word(e.quench),
            carbon_wt_pct: range(&e.carbon, CarbonPercent::wt_percent),
            coupons: e.coupons,
        };
        let coupon = |c: &CouponEdge| CouponEdgeTwin {
            record: c.name.clone(),
            quenched_in: quench_word(c.quench),
            alone_wt_pct: (&c.alone).into(),
            by_others_wt_pct: (&c.by_others).into(),
            odd: c.is_odd(),
        };
        (*edge != VisibleEdge::default()).then(|| Self {
            learned: edge.learned.iter().map(learned).collect(),
            coupons: edge.coupons.iter().map(coupon).collect(),
            unused: edge.unused.clone(),
        })
    }
}
