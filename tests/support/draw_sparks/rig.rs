//! A grinder with its camera and light: what a set of photos shares.

use super::dice::Dice;

/// Shutter times in use, s.
pub(crate) const SHUTTERS: [f64; 10] = [
    1.0 / 500.0,
    1.0 / 250.0,
    1.0 / 160.0,
    1.0 / 100.0,
    1.0 / 60.0,
    1.0 / 50.0,
    1.0 / 30.0,
    1.0 / 25.0,
    1.0 / 15.0,
    1.0 / 8.0,
];

/// What throws the sparks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Machine {
    Bench,
    Angle,
    Belt,
}

/// One rig; every number drawn once from its own seed.
#[derive(Clone, Debug)]
pub(crate) struct Rig {
    pub(crate) name: String,
    pub(crate) machine: Machine,
    /// m
    pub(crate) wheel_radius: f64,
    /// m/s
    pub(crate) speed: f64,
    /// Standard deviation of the direction in the wheel's plane and across it, rad.
    pub(crate) fan: [f64; 2],
    /// Median drop, m, and the spread of its logarithm.
    pub(crate) drop: [f64; 2],
    /// Carriers recorded at 0.2 %C by an exposure of a whole flight.
    pub(crate) carriers: f64,
    /// Share of sparks that the rest or guard throws aside.
    pub(crate) splash: f64,
    /// Camera to stream, m.
    pub(crate) distance: f64,
    /// Part of the picture's longer side that half a metre fills.
    pub(crate) framing: f64,
    /// s
    pub(crate) shutter: f64,
    /// Turning of the drops: share that shows it, Hz.
    pub(crate) turning: [f64; 2],
    /// Bursts: speed of fragments, m/s; their life, s; their light.
    pub(crate) burst: [f64; 3],
}

impl Rig {
    /// Rigs 1 to 24; the same rig from the same number.
    pub(crate) fn number(n: u64) -> Self {
        let mut dice = Dice::new(n, 0x52_49_47);
        let machine = [Machine::Bench, Machine::Angle, Machine::Belt][(n % 3) as usize];
        // surface speed by rpm and diameter: 6 and 8 in bench wheels 18 to 37 m/s, 115 mm angle grinder up
        // to 66 m/s unloaded (computed from nameplate speeds); belts 10 to 30 m/s (common practice, no
        // source). Fans, drops and counts: judgements.
        let (wheel_radius, speed, fan, splash) = match machine {
            Machine::Bench => (dice.pick(&[0.075, 0.1, 0.125]), dice.between(18.0, 34.0), [0.10, 0.06], 0.06),
            Machine::Angle => (dice.pick(&[0.0575, 0.0625]), dice.between(30.0, 60.0), [0.14, 0.05], 0.02),
            Machine::Belt => (dice.pick(&[0.04, 0.1]), dice.between(12.0, 30.0), [0.08, 0.11], 0.05),
        };
        let name = match machine {
            Machine::Bench => "bench",
            Machine::Angle => "angle",
            Machine::Belt => "belt",
        };
        Self {
            name: format!("{name}-{n}"),
            machine,
            wheel_radius,
            speed,
            fan: fan.map(|f| f * dice.between(0.8, 2.2)),
            // 50 to 150 um drops give streams of the observed length by the drag law (inference)
            drop: [dice.between(60e-6, 110e-6), dice.between(0.25, 0.42)],
            carriers: dice.log_between(18.0, 60.0),
            splash: splash * dice.between(0.0, 2.0),
            distance: dice.log_between(0.6, 2.5),
            framing: dice.between(0.35, 1.0),
            // evenly over the rigs, long ones more often: 1/160 s is in use for spark photos, 1/30 s shows
            // whole carriers
            shutter: SHUTTERS[((n as f64 * 0.618_034).fract().powf(0.75) * SHUTTERS.len() as f64) as usize],
            turning: [dice.between(0.0, 0.8), dice.log_between(1200.0, 7000.0)],
            burst: [dice.between(8.0, 22.0), dice.between(2.5e-3, 8.0e-3), dice.between(0.9, 2.8)],
        }
    }
}
