use super::{Inputs, OpenAir, Run};
use crate::soak::{
    Bed, Bracket, COLD_K, ContainerShape, HeatEvidence, HeatThrough, Leg, SQUARE_BOX_RADIUS_PER_WIDTH, Stage,
    StageKind, ThermometerPlace, Timeline, WitnessPlace,
};
use crate::transport::NotConverged;
use crate::units::{Depth, Temperature};

/// A thermometer in the pack is taken half-way between wall and steel (judgement).
const HALF_WAY: f64 = 0.5;
/// Steel fills at most this share of the container's radius: some compound is always around it
/// (judgement).
const MOST_LOAD: f64 = 0.6;
/// Steel never touches the wall: this share of the even gap is left at least (judgement).
const LEAST_GAP: f64 = 0.05;
/// Steel load taken where no size is known: a bar of this radius, m (judgement).
const UNKNOWN_LOAD: f64 = 0.005;

/// How the thermometer's temperature becomes the steel's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeatPath {
    /// The thermometer touches the steel, or the lag was switched off.
    Direct,
    /// Through compound, and the wall if the thermometer is outside.
    Through {
        /// Wall between thermometer and compound, m; 0 if the thermometer is inside.
        wall: f64,
        /// Radius of the steel load, m.
        load: f64,
        /// Share of the layer of compound between thermometer and steel, 0 to 1.
        layer: f64,
        /// What witnesses beside the steel say of its top temperature.
        bracket: Bracket,
        /// Whether it is followed as fast as stories by the thousand need it.
        drawn: bool,
    },
}

impl HeatPath {
    /// From where the thermometer sat, the sizes known, and what was set by hand.
    pub fn of(run: &Run) -> Self {
        if run.choice.heat_through == Some(false) {
            return Self::Direct;
        }
        let load = load_radius(run);
        let bracket = Bracket::of(&run.record.witnesses, WitnessPlace::BesideSteel);
        let bracket = if bracket.contradicts_itself() { Bracket::default() } else { bracket };
        let wall = run.pack.container.and_then(|c| c.wall).map_or(0.0, Depth::metres);
        match run.record.thermometer.place {
            ThermometerPlace::BesideSteel => Self::Direct,
            ThermometerPlace::InPack => {
                Self::Through { wall: 0.0, load, layer: HALF_WAY, bracket, drawn: false }
            }
            ThermometerPlace::Outside | ThermometerPlace::Eye | ThermometerPlace::Unknown => {
                Self::Through { wall, load, layer: off_centre(run, load), bracket, drawn: false }
            }
        }
    }

    /// The same, followed as fast as stories by the thousand need it.
    #[must_use]
    pub(super) fn drawn(self) -> Self {
        match self {
            Self::Direct => self,
            Self::Through { wall, load, layer, bracket, .. } => {
                Self::Through { wall, load, layer, bracket, drawn: true }
            }
        }
    }

    /// The steel's own legs: stages in the pack go through it, each run of them from cold; later
    /// heats are bare; air cooling starts from what the steel had reached.
    pub fn steel(&self, timeline: &Timeline, run: &Run, inputs: &Inputs) -> Result<Vec<Leg>, NotConverged> {
        let mut legs = timeline.legs.clone();
        for p in legs.iter_mut().flat_map(|l| &mut l.points) {
            p.0 *= inputs.time_factor;
            p.1 += inputs.temperature_shift;
        }
        let in_pack = |l: &Leg| matches!(l.stage.kind, StageKind::Soak | StageKind::PackCool);
        let mut first = 0;
        while first < legs.len() {
            let packed = legs[first..].iter().take_while(|l| in_pack(l)).count();
            if packed == 0 {
                first += 1;
                continue;
            }
            let (pack, after) = legs[first..].split_at_mut(packed);
            let reached = self.in_pack(pack, run, inputs)?;
            if let Some(next) = after.first_mut().filter(|l| l.stage == Stage::AIR_COOL) {
                let excess = next.points[0].1 - COLD_K;
                let scale = if excess > 0.0 { (reached - COLD_K).max(0.0) / excess } else { 1.0 };
                for p in &mut next.points {
                    p.1 = COLD_K + (p.1 - COLD_K) * scale;
                }
            }
            first += packed;
        }
        if let Some(OpenAir { seconds, kelvin }) = inputs.open_air {
            let start = legs.last().map_or(0.0, |l| l.points[l.points.len() - 1].0);
            let points = vec![(start, kelvin), (start + seconds, kelvin)];
            legs.push(Leg { stage: Stage::AIR_REHEAT, points });
        }
        Ok(legs)
    }

    /// Turns one run of pack legs from the outside's temperature into the steel's; returns the last.
    fn in_pack(&self, legs: &mut [Leg], run: &Run, inputs: &Inputs) -> Result<f64, NotConverged> {
        let outside: Vec<(f64, f64)> = legs.iter().flat_map(|l| l.points.iter().copied()).collect();
        let end = outside[outside.len() - 1];
        let known = matches!(self, Self::Direct) && inputs.late == 0.0;
        if known || end.0 <= outside[0].0 {
            return Ok(end.1);
        }
        let mut steel = match *self {
            Self::Direct => outside,
            Self::Through { wall, load, layer, bracket, drawn } => {
                let thermal = &run.pack.compound.thermal;
                let load = load.min(MOST_LOAD * inputs.container_radius);
                let radius = load + layer * (inputs.container_radius - load);
                let cells = if drawn { HeatThrough::drawn_cells(radius - load) } else { HeatThrough::CELLS };
                let heat = HeatThrough {
                    radius,
                    wall,
                    load,
                    bed: Bed::with_pores(thermal.conduction.value, inputs.pore, thermal.heat_capacity.value),
                    cells,
                };
                let start = if inputs.charged_cold { outside[0].1.min(COLD_K) } else { outside[0].1 };
                let mut steel = heat.steel(&outside, start)?;
                believe(&mut steel, &outside, &bracket);
                steel
            }
        };
        if inputs.late > 0.0 {
            steel = late(&steel, inputs.late);
        }
        for leg in legs {
            let (start, end) = (leg.points[0].0, leg.points[leg.points.len() - 1].0);
            let inner = steel.iter().copied().filter(|p| p.0 > start && p.0 < end);
            leg.points = std::iter::once((start, at(&steel, start)))
                .chain(inner)
                .chain(std::iter::once((end, at(&steel, end))))
                .collect();
        }
        Ok(steel[steel.len() - 1].1)
    }

    /// Whether the steel lags.
    pub fn lags(&self) -> bool {
        matches!(self, Self::Through { .. })
    }

    /// Whether the thermometer read the outside of the container, where a witness at the wall sat.
    pub(super) fn at_wall(run: &Run) -> bool {
        let inside = [ThermometerPlace::BesideSteel, ThermometerPlace::InPack];
        !inside.contains(&run.record.thermometer.place)
    }

    /// Whether the evidence is a guess by eye or by witnesses, without log or steps.
    pub(super) fn by_eye(run: &Run) -> bool {
        matches!(run.record.evidence, HeatEvidence::TimeAtHeat { .. })
    }
}

/// Inner radius of the container as a cylinder, m, where sizes tell it.
pub(super) fn known_radius(run: &Run) -> Option<f64> {
    let container = run.pack.container;
    let radius =
        container.and_then(|c| Some((c.shape, c.inside?.metres()))).map(|(shape, inside)| match shape {
            ContainerShape::Pipe => inside / 2.0,
            ContainerShape::Box => inside * SQUARE_BOX_RADIUS_PER_WIDTH,
        });
    radius.or_else(|| run.pack.distance_from_wall.map(|d| load_radius(run) + d.metres()))
}

/// Radius of a bar with the section of coupon and piece together, m.
fn load_radius(run: &Run) -> f64 {
    let piece = run.piece.and_then(|p| p.body).map_or(0.0, |(t, w)| t.metres() * w.metres());
    let coupon = match run.coupon.shape {
        crate::steel::Shape::Round { diameter: Some(d) } => {
            d.metres() * d.metres() * std::f64::consts::FRAC_PI_4
        }
        // a coupon is taken twice as wide as thick (judgement)
        crate::steel::Shape::Flat { thickness: Some(t), .. } => 2.0 * t.metres() * t.metres(),
        _ => 0.0,
    };
    let area = piece + coupon;
    if area > 0.0 { (area / std::f64::consts::PI).sqrt() } else { UNKNOWN_LOAD }
}

/// Share of the even layer that heat has to cross when the steel lies off centre: both gaps
/// conduct side by side, so the layer that counts is their harmonic mean.
fn off_centre(run: &Run, load: f64) -> f64 {
    let Some(radius) = known_radius(run) else { return 1.0 };
    let even = radius - load;
    match run.pack.distance_from_wall {
        Some(d) if d.metres() < even => {
            let (near, far) = (d.metres().max(LEAST_GAP * even), 2.0 * even - d.metres());
            (2.0 * near * far / (near + far) / even).clamp(LEAST_GAP, 1.0)
        }
        _ => 1.0,
    }
}

/// A witness beside the steel is believed before the computed lag: the steel is moved towards the
/// outside until its top reaches what melted, or down to what did not.
fn believe(steel: &mut [(f64, f64)], outside: &[(f64, f64)], bracket: &Bracket) {
    let top = |points: &[(f64, f64)]| points.iter().map(|p| p.1).fold(0.0, f64::max);
    if let Some(least) = bracket.at_least.map(Temperature::kelvin).filter(|k| *k > top(steel)) {
        let gap: Vec<f64> = steel.iter().map(|p| at(outside, p.0) - p.1).collect();
        let mixed = |w: f64| steel.iter().zip(&gap).map(|(p, g)| p.1 + w * g).fold(0.0, f64::max);
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let w = f64::midpoint(low, high);
            if mixed(w) < least { low = w } else { high = w }
        }
        for (p, g) in steel.iter_mut().zip(&gap) {
            p.1 += high * g;
        }
    }
    if let Some(most) = bracket.below.map(Temperature::kelvin).filter(|k| *k < top(steel)) {
        let down = top(steel) - most;
        for p in steel {
            p.1 -= down;
        }
    }
}

/// Whether the sizes given do not fit into each other: more steel than room, or a gap wider than it.
pub(super) fn sizes_contradict(run: &Run) -> bool {
    let Some(radius) = known_radius(run) else { return false };
    let load = load_radius(run);
    let too_far = run.pack.distance_from_wall.is_some_and(|d| d.metres() > radius);
    run.pack.container.is_some_and(|c| c.inside.is_some()) && (load > MOST_LOAD * radius || too_far)
}

/// The same heat so many seconds late: never hotter than the steel was `late` before, nor than it is now,
/// so that it cools on time.
fn late(steel: &[(f64, f64)], late: f64) -> Vec<(f64, f64)> {
    let end = steel[steel.len() - 1].0;
    let mut times: Vec<f64> = steel.iter().flat_map(|p| [p.0, p.0 + late]).filter(|t| *t <= end).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    times.into_iter().map(|t| (t, at(steel, t).min(at(steel, t - late)))).collect()
}

fn at(points: &[(f64, f64)], t: f64) -> f64 {
    let i = points.partition_point(|p| p.0 <= t).clamp(1, points.len() - 1);
    let ((t0, k0), (t1, k1)) = (points[i - 1], points[i]);
    let share = if t1 > t0 { ((t - t0) / (t1 - t0)).clamp(0.0, 1.0) } else { 1.0 };
    k0 + (k1 - k0) * share
}
