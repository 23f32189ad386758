use super::{Remedy, Target};
use crate::prediction::PredictError;
use crate::units::Time;
use thiserror::Error;

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PlanError {
    /// The soak itself cannot be.
    #[error(transparent)]
    Predict(#[from] PredictError),
    /// Too cold for any case.
    #[error("{got:.0} °C is below {a1:.0} °C, where steel takes no carbon up")]
    TooCold {
        /// Heat asked for, °C.
        got: f64,
        /// A1, °C.
        a1: f64,
    },
    /// So hot that the case melts.
    #[error("{got:.0} °C is above {limit:.0} °C, where a case melts")]
    TooHot {
        /// Heat asked for, °C.
        got: f64,
        /// The eutectic, °C.
        limit: f64,
    },
    /// A depth beyond the middle of the section.
    #[error("a depth of {wanted:.2} mm is more than the {half:.2} mm from face to middle")]
    DeeperThanMiddle {
        /// Wanted, mm.
        wanted: f64,
        /// From face to middle, mm.
        half: f64,
    },
    /// The stock has as much before it is soaked.
    #[error("the stock already has {has:.2} %C: {limit:.2} %C marks no case in it")]
    StockHasIt {
        /// Carbon of the stock, wt%.
        has: f64,
        /// Carbon that is asked for, wt%.
        limit: f64,
    },
    /// The wanted carbon is above what the pack offers.
    #[error("the pack offers about {offers:.2} %C at {celsius:.0} °C: no soak makes {wanted:.2} %C in it")]
    TooRich {
        /// Wanted, wt%.
        wanted: f64,
        /// Potential of the best story, wt%.
        offers: f64,
        /// Heat, °C.
        celsius: f64,
    },
    /// Not within the longest hold.
    #[error("{hours:.0} h at {celsius:.0} °C are not enough")]
    TooLong {
        /// The longest hold that is planned, h.
        hours: f64,
        /// Heat, °C.
        celsius: f64,
        /// What was wanted.
        target: Target,
        /// What was tried and helps, with the hold that it then takes, the shortest first.
        helps: Vec<(Remedy, Time)>,
    },
    /// A target in hardness where the tables tell none.
    #[error("the tables tell no hardness for such a case, so none can be planned for")]
    HardnessUntold,
    /// The soak that is to be gone on with is over.
    #[error("the soak has cooled already: there is nothing to go on with")]
    CooledAlready,
}

impl PlanError {
    /// What to do about it.
    pub fn help(&self) -> String {
        match self {
            Self::Predict(e) => e.help().into(),
            Self::TooCold { .. } | Self::TooHot { .. } => {
                "plan for 850 to 950 °C; 900 to 925 °C is usual".into()
            }
            Self::DeeperThanMiddle { half, .. } => format!(
                "allowed: less than {half:.2} mm; to case the piece through, ask for the carbon of its edge \
                 (--edge 0.6 --edge-thickness ...)"
            ),
            Self::StockHasIt { .. } => {
                "such steel hardens as it is: harden and temper it, or start from mild steel".into()
            }
            Self::TooRich { offers, .. } => format!(
                "ask for less than {offers:.2} %C (an edge wants 0.6 to 0.9 %C), or soak hotter or in a fresh pack"
            ),
            Self::TooLong { target, helps, .. } => too_long(target, helps),
            Self::HardnessUntold => "ask for a depth by carbon: --criterion total, visible or 0.35%C".into(),
            Self::CooledAlready => {
                "leave --go-on out to plan a second soak, or take the cooling out of the sheet's log or steps"
                    .into()
            }
        }
    }
}

/// What was tried, and what else there is.
fn too_long(target: &Target, helps: &[(Remedy, Time)]) -> String {
    /// More than that is no advice.
    const MOST: usize = 3;
    let hours = |time: &Time| format!("{:.1} h at even chance", time.minutes() / 60.0);
    let tried: Vec<String> = helps
        .iter()
        .take(MOST)
        .map(|(remedy, time)| format!("{} ({})", remedy.words(), hours(time)))
        .collect();
    let else_do = match target {
        Target::Depth { .. } => "ask for less depth",
        Target::Edge { .. } => "start from a thinner edge, or grind from one side only",
    };
    if tried.is_empty() {
        return format!("neither heat, container nor compound brings it within that here: {else_do}");
    }
    format!("of what was tried these bring it within that: {}; or {else_do}", tried.join("; "))
}
