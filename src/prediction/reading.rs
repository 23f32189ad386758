use super::{Distribution, Doubt};
use crate::units::Interval;

/// A number that the prediction is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reading {
    /// Carbon at the surface, wt%.
    Surface,
    /// Carbon at the middle, axis or far face, wt%.
    Far,
    /// Mean carbon of the layer ground away while sparking, wt%.
    GroundMean,
    /// Total case depth: core + 0.04 %C, mm.
    Total,
    /// Carburization depth: 0.35 %C, mm.
    Carburization,
    /// Visible case depth, mm.
    Visible,
    /// Mass gain, g/m².
    MassGain,
    /// Mass gain of the coupon, mg.
    CouponGain,
    /// Carbon at the finished edge, wt%.
    Edge,
    /// Carbon at the ground faces just behind the edge, wt%.
    GroundFace,
    /// Minutes at the top temperature that carry carbon as far.
    EquivalentMinutes,
    /// Top temperature of the steel, °C.
    TopTemperature,
}

/// A reading with the range that its doubts give it, and what each doubt does to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// About nine in ten (the spreads of the inputs are judged as such).
    pub interval: Interval<f64>,
    /// What each doubt moves, the largest first; none smaller than a hundredth of the width.
    pub effects: Vec<Effect>,
    /// Whether a depth is through.
    pub through: Through,
    /// What many drawn stories make of it; the interval is then theirs. `None`: none were drawn.
    pub drawn: Option<Distribution>,
}

/// Whether a case depth is the whole section, because carbon never falls to its criterion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Through {
    /// At the best value.
    pub best: bool,
    /// At the upper end of the range.
    pub high: bool,
}

/// How far one doubt moves a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// The doubt.
    pub doubt: Doubt,
    /// Lowest change, not above 0, in the reading's unit.
    pub down: f64,
    /// Highest change, not below 0.
    pub up: f64,
}

/// A value of a reading in one story.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// In the reading's unit; the whole section where it is through.
    pub number: f64,
    /// Whether carbon never falls to the criterion.
    pub through: bool,
}

impl Spread {
    /// From the best value and the values with each doubt at its ends; no value can leave `limits`.
    pub(super) fn new(best: Value, moved: &[(Doubt, Value, Value)], limits: (f64, f64)) -> Self {
        let mut effects: Vec<Effect> = moved
            .iter()
            .map(|&(doubt, a, b)| Effect {
                doubt,
                down: (a.number - best.number).min(b.number - best.number).min(0.0),
                up: (a.number - best.number).max(b.number - best.number).max(0.0),
            })
            .collect();
        let root_sum = |f: fn(&Effect) -> f64| effects.iter().map(|e| f(e) * f(e)).sum::<f64>().sqrt();
        let (down, up) = (root_sum(|e| e.down), root_sum(|e| e.up));
        effects.retain(|e| e.up - e.down > 0.01 * (down + up));
        effects.sort_by(|a, b| (b.up - b.down).total_cmp(&(a.up - a.down)));
        let best_number = best.number;
        let (low, high) = ((best_number - down).max(limits.0), (best_number + up).min(limits.1));
        let interval = Interval::new(low.min(best_number), best_number, high.max(best_number))
            .unwrap_or_else(|| Interval::exact(best_number));
        let any = moved.iter().any(|(_, a, b)| a.through || b.through);
        let through = Through { best: best.through, high: best.through || any };
        Self { interval, effects, through, drawn: None }
    }
}
