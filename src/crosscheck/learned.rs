use super::hypothesis::Hypothesis;
use crate::stats::weighted_quantiles;
use crate::units::Interval;

/// Something of a run that nobody knows exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Condition {
    /// Top temperature of the steel, °C.
    Temperature,
    /// Minutes at it.
    Time,
    /// Minutes that the steel came late.
    Late,
    /// Potential of the pack, wt%.
    Potential,
    /// Carbon of the face when the soak ended, wt%.
    Face,
    /// Carbon of the stock, wt%.
    Stock,
    /// Carbon at the visible edge, wt%.
    VisibleEdge,
}

impl Condition {
    /// All, in order.
    pub const ALL: [Self; 7] = [
        Self::Temperature,
        Self::Time,
        Self::Late,
        Self::Potential,
        Self::Face,
        Self::Stock,
        Self::VisibleEdge,
    ];

    fn of(self, told: &Hypothesis<'_>) -> f64 {
        let Hypothesis { conditions, inputs, .. } = told;
        match self {
            Self::Temperature => conditions.top_celsius,
            Self::Time => conditions.minutes,
            Self::Late => conditions.late_minutes,
            Self::Potential => conditions.potential,
            Self::Face => conditions.face,
            Self::Stock => inputs.core,
            Self::VisibleEdge => inputs.visible_edge,
        }
    }
}

/// What is known of it before and after the coupon was looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// Of what.
    pub condition: Condition,
    /// By what was told of the run alone, without any fault: nine in ten.
    pub before: Interval<f64>,
    /// By all stories and all that was seen: nine in ten.
    pub after: Interval<f64>,
}

/// A soak at one steady heat that would have carried carbon as far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// The heat, °C.
    pub celsius: f64,
    /// Minutes at it by what was told of the run alone: nine in ten.
    pub before: Interval<f64>,
    /// By all that was seen.
    pub after: Interval<f64>,
}

/// Nine in ten of a number by two sets of weights. `None`: it has no range in one of them.
pub(super) fn ranges(
    stories: &[(Hypothesis<'_>, f64)],
    number: impl Fn(&Hypothesis<'_>) -> f64,
) -> Option<[Interval<f64>; 2]> {
    let range = |pairs: Vec<(f64, f64)>| {
        let [low, best, high] = weighted_quantiles(&pairs, [0.05, 0.5, 0.95])?;
        Interval::new(low, best, high)
    };
    let told = stories.iter().filter(|(h, _)| h.cause.is_none());
    let before = told.map(|(h, _)| (number(h), h.weight)).collect();
    let after = stories.iter().map(|(h, weight)| (number(h), *weight)).collect();
    Some([range(before)?, range(after)?])
}

impl Learned {
    /// All that the run leaves open, or the coupon does.
    pub(super) fn all(stories: &[(Hypothesis<'_>, f64)]) -> Vec<Self> {
        let one = |condition: Condition| {
            let [before, after] = ranges(stories, |told| condition.of(told))?;
            Some(Self { condition, before, after }).filter(|l| !(l.before.is_exact() && l.after.is_exact()))
        };
        Condition::ALL.into_iter().filter_map(one).collect()
    }
}
