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

impl Wheel {
    /// Surface speed: as stated, or else computed from diameter and turning speed; `None` if
    /// neither is known or the product is beyond what a wheel survives.
    pub fn surface_speed(&self) -> Option<Speed> {
        self.speed.or_else(|| {
            let circumference_m = std::f64::consts::PI * self.diameter?.metres();
            Speed::from_metres_per_second(circumference_m * self.turning?.turns_per_second()).ok()
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
