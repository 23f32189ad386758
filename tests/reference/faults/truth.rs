use super::believed::{Believed, Cooled};
use super::draw::Draw;
use super::fault::Fault;
use crate::support::models;
use snapspark::diffusion::{Potential, Profile};
use snapspark::hardness::{Alloy, NoAnswer, Quench};
use snapspark::prediction::{Doubt, Inputs, OpenAir, Physics, Prediction, Reading, Run, Stories, Story};
use snapspark::soak::CoolingLaw;
use snapspark::steel::{Coupon, Shape};
use snapspark::units::{CarbonPercent, Depth, Share, Temperature};

/// Standard deviations to either end of a doubt: it holds nine in ten.
const NINE_IN_TEN: f64 = 1.645;

/// Case that a smith takes for one, mm.
const LEAST_CASE_MM: f64 = 0.15;

/// How the run really was.
pub(super) struct Truth {
    pub(super) inputs: Inputs,
    /// The coupon when it was sparked and broken.
    pub(super) profile: Profile,
    /// Depth to the edge that an eye sees, mm; `None`: through.
    pub(super) visible: Option<f64>,
    /// Mass gained in the pack, mg.
    pub(super) gain: Option<f64>,
    /// Carbon of the part that the verdict speaks of, wt%.
    pub(super) part: f64,
    /// Top temperature of the steel, °C.
    pub(super) top: f64,
    pub(super) quench: Quenched,
    /// Ground off when the sparks were described, mm.
    pub(super) ground: f64,
    /// Sparks too rich by, wt%.
    pub(super) bias: f64,
    /// Depth of a lip that is taken for the rim, mm.
    pub(super) lip: Option<f64>,
    pub(super) core_hard: bool,
}

/// How it was hardened.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quenched {
    pub(super) celsius: f64,
    pub(super) martensite: f64,
    pub(super) hardened: bool,
    pub(super) just_past_magnet: bool,
}

/// The inputs with every doubt drawn: a normal curve over its range, the two halves each with their own width.
pub(super) fn ordinary(draw: &mut Draw, prediction: &Prediction) -> Inputs {
    let base = prediction.story.inputs;
    let mut inputs = base;
    for (doubt, low, high) in &prediction.ends {
        let z = draw.normal(0.0, 1.0) / NINE_IN_TEN;
        let end = if z < 0.0 { low.inputs } else { high.inputs };
        let share = z.abs();
        let mix = |from: f64, to: f64| from + (to - from) * share;
        let mix_log = |from: f64, to: f64| libm::exp(mix(libm::log(from), libm::log(to)));
        match doubt {
            Doubt::Temperature => {
                inputs.temperature_shift = mix(base.temperature_shift, end.temperature_shift);
            }
            Doubt::HeatThrough => {
                inputs.container_radius = mix(base.container_radius, end.container_radius);
                inputs.pore = mix_log(base.pore, end.pore);
                inputs.charged_cold = end.charged_cold || share < 1.0;
            }
            Doubt::Law => inputs.law_factor = mix(base.law_factor, end.law_factor),
            Doubt::Potential => {
                let mixed = mix(base.potential.number(), end.potential.number()).max(0.05);
                inputs.potential = Potential::ShareOfAcm(mixed);
            }
            // straight in the resistance, which is nothing where the surface is held
            Doubt::Transfer => inputs.transfer = 1.0 / mix(1.0 / base.transfer, 1.0 / end.transfer).max(0.0),
            // between two named laws; the worse one in one run of ten (judgement)
            Doubt::CoolingLaw => {
                inputs.cooling_law = if z < -0.78 { CoolingLaw::FollowsAcm } else { base.cooling_law };
            }
            Doubt::CoolingTime => {
                inputs.times.closed_pack = mix_log(base.times.closed_pack, end.times.closed_pack);
                inputs.times.in_air = mix_log(base.times.in_air, end.times.in_air);
            }
            Doubt::TimeAtHeat => {
                inputs.times.at_heat = mix(base.times.at_heat, end.times.at_heat);
                inputs.times.heat_up = mix_log(base.times.heat_up, end.times.heat_up);
            }
            Doubt::Stock => inputs.core = mix(base.core, end.core).max(0.02),
            Doubt::VisibleEdge => inputs.visible_edge = mix(base.visible_edge, end.visible_edge),
            Doubt::PiecePlace => inputs.piece_shift = mix(base.piece_shift, end.piece_shift),
        }
    }
    inputs
}

/// Draws how the run really was, with the fault if any. `None`: the draw does not solve, or the fault hardly
/// matters in it.
pub(super) fn truth(
    draw: &mut Draw,
    fault: Option<Fault>,
    believed: &Believed,
    run: &Run<'_>,
    physics: &Physics<'_>,
    prediction: &Prediction,
) -> Option<Truth> {
    let inputs = ordinary(draw, prediction);
    let thick = believed.size_mm.unwrap_or_else(|| draw.between(4.0, 8.0));
    let quench = quench(draw, believed, fault);
    let sound = Setting { run, physics, size_mm: thick, quench }.solve(&inputs)?;
    let Some(fault) = fault else {
        return Some(Truth { ground: draw.triangle([0.02, 0.05, 0.12]), ..sound });
    };
    let mut setting = Setting { run, physics, size_mm: thick, quench };
    let mut wrong = inputs;
    let at_heat = prediction.story.outcome.equivalent?.seconds;
    match fault {
        Fault::ColdSteel if draw.chance(0.5) => wrong.temperature_shift -= draw.between(40.0, 120.0),
        Fault::ColdSteel => wrong.late = draw.between(0.3, 0.8) * at_heat,
        Fault::HotSteel => wrong.temperature_shift += draw.between(35.0, 100.0),
        Fault::WeakPack if draw.chance(0.5) => {
            wrong.potential = inputs.potential.times(draw.between(0.3, 0.75));
        }
        Fault::WeakPack => wrong.transfer = draw.between_log(3e-9, 3e-8),
        Fault::CarbonLost if draw.chance(0.35) && inputs.cooling_law != CoolingLaw::FollowsAcm => {
            wrong.cooling_law = CoolingLaw::FollowsAcm;
        }
        Fault::CarbonLost => wrong.open_air = Some(open_air(draw, (4.0, 15.0), (820.0, 900.0))),
        Fault::DecarburisedSkin => wrong.open_air = Some(open_air(draw, (0.4, 2.0), (800.0, 880.0))),
        Fault::SlackQuench if draw.chance(0.7) => {
            wrong.visible_edge = draw.between(0.48, 0.65);
            setting.quench.martensite = draw.between(0.6, 0.9);
        }
        Fault::SlackQuench => setting.quench.hardened = false,
        Fault::OverCarburised => {
            wrong.potential = inputs.potential.times(draw.between(1.1, 1.35));
            if believed.cooled != Cooled::FromHeat {
                setting.quench.celsius = draw.between(900.0, 980.0);
            }
        }
        Fault::WrongStock => wrong.core = draw.between(0.30, 0.60),
        Fault::ThinCoupon => {
            let case = sound.visible.filter(|mm| *mm >= LEAST_CASE_MM)?;
            setting.size_mm = draw.between(0.6, 1.8) * case;
        }
        Fault::GroundThrough | Fault::CoreHardened | Fault::ShearLip | Fault::HardAgainstSoft => {}
    }
    let mut real = setting.solve(&wrong)?;
    real.ground = draw.triangle([0.02, 0.05, 0.12]);
    match fault {
        Fault::OverCarburised if believed.cooled == Cooled::FromHeat => real.quench.celsius = real.top,
        Fault::GroundThrough => real.ground = draw.between(1.0, 2.5) * sound.visible?,
        Fault::CoreHardened => real.core_hard = true,
        Fault::ShearLip => real.lip = Some(draw.between(0.25, 0.9)),
        Fault::HardAgainstSoft => real.bias = draw.between(0.10, 0.30),
        _ => {}
    }
    matters(fault, &sound, &real, run).then_some(real)
}

/// Whether a smith would care.
fn matters(fault: Fault, sound: &Truth, real: &Truth, run: &Run<'_>) -> bool {
    let depth = |t: &Truth| t.visible.unwrap_or_else(|| t.profile.extent() * 1e3);
    let skin = |t: &Truth| t.profile.mean_over(0.05e-3);
    let changed = depth(sound).max(depth(real)) >= LEAST_CASE_MM
        && (depth(real) - depth(sound)).abs() >= 0.3 * depth(sound)
        || (skin(real) - skin(sound)).abs() >= 0.15;
    let has_case = sound.visible.is_some_and(|mm| mm >= LEAST_CASE_MM);
    match fault {
        Fault::ColdSteel | Fault::HotSteel | Fault::WeakPack | Fault::CarbonLost => changed,
        Fault::DecarburisedSkin => skin(sound) - skin(real) >= 0.15 && real.profile.peak() >= 0.45,
        Fault::SlackQuench => has_case && (!real.quench.hardened || depth(real) <= 0.75 * depth(sound)),
        Fault::OverCarburised => {
            real.profile.surface() >= 1.1 && hardness(real, 0.0).is_some_and(|hrc| hrc < 61.0)
        }
        Fault::GroundThrough => has_case && real.profile.at(real.ground * 1e-3) <= 0.30,
        Fault::WrongStock => real.inputs.core >= run.stock.carbon.high().wt_percent() + 0.1,
        Fault::ThinCoupon => real.visible.is_none() && has_case && sound.visible.is_some_and(|mm| mm < 2.0),
        Fault::CoreHardened => has_case && real.inputs.core >= 0.16,
        Fault::ShearLip => sound.visible.zip(real.lip).is_some_and(|(case, lip)| (case - lip).abs() >= 0.2),
        Fault::HardAgainstSoft => skin(real) <= 0.75,
    }
}

fn open_air(draw: &mut Draw, minutes: (f64, f64), celsius: (f64, f64)) -> OpenAir {
    let (seconds, heat) = (draw.between(minutes.0, minutes.1) * 60.0, draw.between(celsius.0, celsius.1));
    OpenAir { seconds, kelvin: heat + 273.15 }
}

/// How the coupon was hardened. A small coupon of plain steel hardens nearly fully in its skin.
pub(super) fn quench(draw: &mut Draw, believed: &Believed, fault: Option<Fault>) -> Quenched {
    let just_past_magnet = fault != Some(Fault::OverCarburised) && draw.chance(0.5);
    let celsius = if just_past_magnet { draw.normal(785.0, 15.0) } else { draw.between(770.0, 860.0) };
    let martensite =
        if believed.medium == "oil" { draw.between(0.88, 0.99) } else { draw.between(0.96, 1.0) };
    Quenched { celsius, martensite, hardened: true, just_past_magnet }
}

/// What a story is solved in.
pub(super) struct Setting<'a> {
    pub(super) run: &'a Run<'a>,
    pub(super) physics: &'a Physics<'a>,
    pub(super) size_mm: f64,
    pub(super) quench: Quenched,
}

impl Setting<'_> {
    pub(super) fn solve(&self, inputs: &Inputs) -> Option<Truth> {
        let size = Some(Depth::from_millimetres(self.size_mm).ok()?);
        let shape = match self.run.coupon.shape {
            Shape::Flat { faces, .. } => Shape::Flat { thickness: size, faces },
            Shape::Round { .. } => Shape::Round { diameter: size },
        };
        let coupon = Coupon { shape, ..*self.run.coupon };
        let run = Run { coupon: &coupon, ..*self.run };
        let stories = Stories::of(&run, self.physics);
        let story = stories.solve(inputs).ok()?;
        Some(self.read(&stories, &story))
    }

    fn read(&self, stories: &Stories<'_>, story: &Story) -> Truth {
        let last = story.outcome.coupon.len() - 1;
        let packed = story.timeline.legs.len() - 1;
        let read = |which, stage| stories.read(story, which, stage, Depth::ZERO).map(|v| v.number);
        let profile = story.outcome.coupon[last].clone();
        let edge = story.inputs.visible_edge;
        let through = profile.far() >= edge;
        // the edge of the piece, or without one the coupon's face, cleaned up with one light touch
        let part = read(Reading::Edge, last).unwrap_or_else(|| profile.at(0.05e-3));
        Truth {
            inputs: story.inputs,
            visible: (!through).then(|| profile.depth_to(edge).unwrap_or(0.0) * 1e3),
            gain: read(Reading::CouponGain, packed),
            part,
            top: read(Reading::TopTemperature, packed).unwrap_or(900.0),
            profile,
            quench: self.quench,
            ground: 0.0,
            bias: 0.0,
            lip: None,
            core_hard: false,
        }
    }
}

/// HRC of the quenched coupon so deep; `None`: softer than the scale reaches.
pub(super) fn hardness(truth: &Truth, depth_mm: f64) -> Option<f64> {
    /// Austenite richer than any source covers: mostly soft austenite, HRC (judgement).
    const FULL_OF_AUSTENITE: f64 = 48.0;
    let Quenched { celsius, martensite, hardened, .. } = truth.quench;
    if !hardened {
        return None;
    }
    let carbon = CarbonPercent::new(truth.profile.at(depth_mm * 1e-3).max(0.0)).ok()?;
    let heat = Temperature::from_celsius(celsius).ok()?;
    let coldest = Temperature::from_celsius(20.0).ok()?;
    let quench = Quench { heat, coldest, martensite: Share::new(martensite).ok()? };
    let alloy = Alloy { manganese: 0.6, silicon: 0.2 };
    match models().hardness.as_quenched(&models().phase, carbon, &alloy, &quench) {
        Ok(hard) => hard.hrc.map(|hrc| hrc.best().points()),
        Err(NoAnswer::NotCovered { .. }) => Some(FULL_OF_AUSTENITE),
        Err(_) => None,
    }
}
