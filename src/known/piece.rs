use super::Shown;
use crate::units::Interval;

/// One known steel on one day: the unit that a rig is fitted and judged by, however many photos it has.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its record's name.
    pub name: String,
    /// Carbon, wt%.
    pub carbon: Interval<f64>,
    /// Which steel it is, as a number among those of the rig.
    pub steel: usize,
    /// Which day, as a number among those of the rig.
    pub day: usize,
    /// Untreated stock that ties its day to others.
    pub reference: bool,
    /// What it showed.
    pub shown: Shown,
}

/// A label so wide tells no band (judgement: more than a band on either side of its own, wt%).
const WIDEST_LABEL: f64 = 0.30;

impl Piece {
    /// Whether its carbon is known well enough to judge answers by it.
    pub fn judges(&self) -> bool {
        self.carbon.high() - self.carbon.low() <= WIDEST_LABEL && !self.shown.is_empty()
    }

    /// Mean and variance of something over its carbon, which lies evenly within its limits.
    pub(super) fn over_carbon(carbon: &Interval<f64>, of: impl Fn(f64) -> f64) -> (f64, f64) {
        const STEPS: usize = 12;
        let (low, high) = (carbon.low(), carbon.high());
        let values: [f64; STEPS] =
            std::array::from_fn(|i| of(low + (high - low) * (i as f64 + 0.5) / STEPS as f64));
        let mean = values.iter().sum::<f64>() / STEPS as f64;
        (mean, values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / STEPS as f64)
    }
}
