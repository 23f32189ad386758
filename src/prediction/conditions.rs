use super::{HeatPath, Inputs, Outcome, Physics, Stories, Story};
use crate::diffusion::{Profile, equivalent};
use crate::soak::{Leg, StageKind, Timeline};

/// What a story makes of its run, as whoever was there would say it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Top temperature of the steel in the pack, °C.
    pub top_celsius: f64,
    /// Minutes at it that carry carbon as far as the whole soak did.
    pub minutes: f64,
    /// Minutes at it that the steel lost against the thermometer; 0 where it follows at once.
    pub late_minutes: f64,
    /// Potential of the pack at the top temperature, wt%.
    pub potential: f64,
    /// Carbon of the face when the soak ended, wt%.
    pub face: f64,
    /// ∫ D dt by the law itself, at 0.5 %C, m²: how far the heat carries carbon; 0 below A1.
    pub reach: f64,
}

impl Stories<'_> {
    /// What this story takes for true.
    pub fn conditions(&self, story: &Story) -> Conditions {
        let (physics, inputs, outcome) = (self.physics(), &story.inputs, &story.outcome);
        let form = &physics.law.form.value;
        let soaked = story.timeline.legs.iter().rposition(|l| l.stage.kind == StageKind::Soak).unwrap_or(0);
        let highest = || outcome.steel.iter().flat_map(|l| &l.points).map(|p| p.1).fold(0.0, f64::max);
        let steady = outcome.equivalent;
        Conditions {
            top_celsius: steady.map_or_else(highest, |e| e.kelvin) - 273.15,
            minutes: steady.map_or(0.0, |e| e.seconds / 60.0),
            late_minutes: lost_minutes(self.path(), &story.timeline, outcome, inputs, physics).unwrap_or(0.0),
            potential: self.potential(story),
            face: outcome.coupon.get(soaked).map_or(inputs.core, Profile::surface),
            reach: steady.map_or(0.0, |e| e.diffusivity(form) * e.seconds),
        }
    }
}

/// Minutes at the steel's top temperature that it lost against a piece which had followed the thermometer at once. `None`:
/// it does follow, or never got above A1.
pub(super) fn lost_minutes(
    path: HeatPath,
    timeline: &Timeline,
    outcome: &Outcome,
    inputs: &Inputs,
    physics: &Physics,
) -> Option<f64> {
    let steel = outcome.equivalent.filter(|_| path.lags() || inputs.late > 0.0)?;
    let packed = |l: &&Leg| matches!(l.stage.kind, StageKind::Soak | StageKind::PackCool);
    let told = |p: &(f64, f64)| (p.0 * inputs.time_factor, p.1 + inputs.temperature_shift);
    let legs = timeline.legs.iter().filter(packed);
    let outside: Vec<Vec<(f64, f64)>> = legs.map(|l| l.points.iter().map(told).collect()).collect();
    let form = &physics.law.form.value;
    let direct = equivalent(form, physics.phase, outside.iter().map(Vec::as_slice))?;
    let scale = direct.diffusivity(form) / steel.diffusivity(form);
    Some((direct.seconds * scale - steel.seconds) / 60.0)
}
