use crate::sources::Sourced;
use crate::units::{Depth, Speed, TurningSpeed};

/// What the sparks are thrown by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WheelKind {
    /// Wheel of a bench or pedestal grinder.
    Wheel,
    /// Belt grinder.
    Belt,
    /// Angle grinder.
    AngleGrinder,
}

/// The grinder. `None`: not said.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wheel {
    /// Kind.
    pub kind: Option<WheelKind>,
    /// Diameter of the wheel, or of the belt's driving wheel.
    pub diameter: Option<Depth>,
    /// How fast that wheel turns.
    pub turning: Option<TurningSpeed>,
    /// Surface speed as the maker states it.
    pub speed: Option<Speed>,
}

/// Surface speeds that sparks are watched at.
#[derive(Debug, Clone, PartialEq)]
pub struct SurfaceSpeeds {
    /// The lowest that any source asks for.
    pub least: Sourced<Speed>,
    /// Top of the highest range that any source prefers.
    pub most: Sourced<Speed>,
    /// What an angle grinder runs at when only its kind is told.
    pub angle_grinder: Sourced<Speed>,
}

/// A surface speed against those that sparks are watched at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedJudged {
    /// Slower than any source asks for: streams are short, and read too lean.
    TooSlow,
    /// As the sources have it.
    Usual,
    /// Faster than any source prefers: streams are long and full, and read too rich.
    Fast,
}

impl Wheel {
    /// Surface speed: as stated, or else computed from diameter and turning speed; `None` if
    /// neither is known or the product is beyond what a wheel survives.
    pub fn surface_speed(&self) -> Option<Speed> {
        self.speed.or_else(|| Speed::from_metres_per_second(self.computed_speed()?).ok())
    }

    /// What diameter and turning speed make, m/s, be it beyond what a wheel survives.
    pub fn computed_speed(&self) -> Option<f64> {
        let circumference_m = std::f64::consts::PI * self.diameter?.metres();
        Some(circumference_m * self.turning?.turns_per_second())
    }

    /// The surface speed judged; `None`: it is not known.
    pub fn judged(&self, speeds: &SurfaceSpeeds) -> Option<SpeedJudged> {
        let usual = || (self.kind == Some(WheelKind::AngleGrinder)).then_some(speeds.angle_grinder.value);
        let speed = self.surface_speed().or_else(usual)?;
        Some(if speed < speeds.least.value {
            SpeedJudged::TooSlow
        } else if speed > speeds.most.value {
            SpeedJudged::Fast
        } else {
            SpeedJudged::Usual
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 6 in wheel at 2,850 rpm: π · 0.1524 m · 47.5 /s = 22.74 m/s.
    #[test]
    fn speed_follows_from_size_and_turns() {
        let mut wheel = Wheel {
            diameter: Depth::from_millimetres(152.4).ok(),
            turning: TurningSpeed::from_turns_per_second(47.5).ok(),
            ..Wheel::default()
        };
        assert!((wheel.surface_speed().unwrap().metres_per_second() - 22.742).abs() < 1e-3);
        wheel.speed = Speed::from_metres_per_second(20.0).ok();
        assert_eq!(wheel.surface_speed(), wheel.speed);
        assert_eq!(Wheel::default().surface_speed(), None);
    }
}
