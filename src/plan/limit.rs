use super::{Clock, Intent, Tables};
use crate::prediction::{Prediction, Reading};
use crate::soak::ContainerShape;
use crate::units::Interval;

/// Something that limits a planned soak.
#[derive(Debug, Clone, PartialEq)]
pub enum Limit {
    /// The grain grows: plan a refining heat.
    GrainGrows {
        /// Heat from which ordinary steel's grain grows, °C.
        from: f64,
        /// Heat up to which fine-grained steel holds, °C.
        fine_to: f64,
        /// Refining heat for the core, °C.
        refine: Interval<f64>,
    },
    /// So rich a rim is brittle.
    RichRim {
        /// Carbon of the surface, wt%.
        surface: f64,
        /// Carbon from which it is brittle, wt%.
        limit: f64,
    },
    /// No soft core is left in the section.
    CasedThrough {
        /// Carbon in the middle, wt%.
        middle: f64,
    },
    /// A section that keeps no core at the upper end of the range.
    MayCaseThrough,
    /// Little compound between work and wall.
    NarrowPack {
        /// What there is, mm.
        gap: f64,
        /// What there should be, mm.
        wanted: f64,
    },
    /// The steel is late for a large part of the hold.
    SlowHeat {
        /// Minutes of the hold before it is at heat.
        minutes: f64,
    },
    /// It is not at heat within the hold.
    NeverThere,
    /// More is ground off than the edge has.
    NothingLeft,
}

/// Share of the hold that heat may take to get through before it is said (judgement).
const LATE_SHARE: f64 = 0.25;

impl Limit {
    /// What limits this soak.
    pub(super) fn of(intent: &Intent, tables: &Tables, clock: &Clock, prediction: &Prediction) -> Vec<Self> {
        let (rules, physics) = (tables.rules, tables.physics);
        let mut limits = Vec::new();
        let celsius = intent.temperature.celsius();
        let core = prediction.story.inputs.core;
        if celsius > rules.ordinary_grain.value.celsius() {
            limits.push(Self::GrainGrows {
                from: rules.ordinary_grain.value.celsius(),
                fine_to: rules.fine_grain.value.celsius(),
                refine: rules.refining_heat(physics, core),
            });
        }
        let last = prediction.last();
        let best = |reading| last.readings.get(&reading).map(|spread| spread.interval.best());
        let limit = tables.need.brittle.value.wt_percent();
        if let Some(surface) = best(Reading::Surface).filter(|surface| *surface >= limit) {
            limits.push(Self::RichRim { surface, limit });
        }
        if let Some(total) = last.readings.get(&Reading::Total) {
            if total.through.best {
                limits.push(Self::CasedThrough { middle: last.profile.far() });
            } else if total.through.high {
                limits.push(Self::MayCaseThrough);
            }
        }
        if let Some(gap) = gap(intent).filter(|gap| *gap < rules.sides.value.millimetres() - 0.5) {
            limits.push(Self::NarrowPack { gap, wanted: rules.sides.value.millimetres() });
        }
        match clock.steel_there {
            None => limits.push(Self::NeverThere),
            Some(minutes) if minutes > LATE_SHARE * clock.hold => limits.push(Self::SlowHeat { minutes }),
            Some(_) => {}
        }
        let piece = intent.piece.as_ref();
        if piece.is_some_and(|p| p.metal_off.zip(p.edge_thickness).is_some_and(|(off, edge)| off >= edge)) {
            limits.push(Self::NothingLeft);
        }
        limits
    }
}

/// Compound between the work's faces and the wall, mm, if both sizes are known.
fn gap(intent: &Intent) -> Option<f64> {
    let inside = intent.pack.container?.inside?.millimetres();
    Some(((inside - across(intent)?) / 2.0).max(0.0))
}

/// What the work takes up across its container, mm, if both are known.
pub(super) fn across(intent: &Intent) -> Option<f64> {
    let size = intent.coupon.shape.size()?.millimetres();
    Some(match (intent.pack.container?.shape, intent.piece.as_ref().and_then(|p| p.body)) {
        // a flat bar in a pipe reaches out as far as its corners
        (ContainerShape::Pipe, Some((t, w))) => t.millimetres().hypot(w.millimetres()),
        (_, Some((t, w))) => t.millimetres().max(w.millimetres()),
        (_, None) => size,
    })
}
