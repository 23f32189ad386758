use super::heat::known_radius;
use super::learned::Learned;
use super::marginal::Marginal;
use super::{Common, Doubt, HeatPath, History, Inputs, Kept, Physics, PotentialChoice, Run, SurfaceChoice};
use crate::diffusion::Potential;
use crate::soak::{CoolingLaw, Guesses, HeatEvidence, StageKind, Timeline, Vent};
use crate::steel::CouponPlace;
use crate::units::{CarbonPercent, Interval, Temperature, Time};

/// A number of a story that may not be known exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quantity {
    TemperatureShift,
    LawFactor,
    ShareOfAcm,
    /// CO2 under a lid that gapes, as a multiple of what a tight pack has.
    Co2,
    /// Of the surface, s/m: what a transfer coefficient is the inverse of; none is a held surface.
    Resistance,
    FollowsAcm,
    ClosedPack,
    InAir,
    HeatUp,
    AtHeat,
    Core,
    VisibleEdge,
    PieceShift,
    Pore,
    AlreadyHot,
    ContainerRadius,
}

/// Resistance under which a surface counts as held, s/m.
const HELD_S_PER_M: f64 = 1.0;

impl Quantity {
    /// The doubt that it belongs to.
    fn doubt(self) -> Doubt {
        match self {
            Self::TemperatureShift => Doubt::Temperature,
            Self::Pore | Self::AlreadyHot | Self::ContainerRadius => Doubt::HeatThrough,
            Self::LawFactor => Doubt::Law,
            Self::ShareOfAcm | Self::Co2 => Doubt::Potential,
            Self::Resistance => Doubt::Transfer,
            Self::FollowsAcm => Doubt::CoolingLaw,
            Self::ClosedPack | Self::InAir => Doubt::CoolingTime,
            Self::HeatUp | Self::AtHeat => Doubt::TimeAtHeat,
            Self::Core => Doubt::Stock,
            Self::VisibleEdge => Doubt::VisibleEdge,
            Self::PieceShift => Doubt::PiecePlace,
        }
    }

    /// What of it stays with furnace and container.
    pub(super) fn kept(self) -> Option<Kept> {
        match self {
            Self::TemperatureShift => Some(Kept::Offset),
            Self::Pore => Some(Kept::Lag),
            Self::ShareOfAcm => Some(Kept::Potential),
            _ => None,
        }
    }

    /// What of it is the same in every run.
    fn common(self) -> Option<Common> {
        match self {
            Self::LawFactor => Some(Common::Law),
            Self::Resistance => Some(Common::Transfer),
            Self::VisibleEdge => Some(Common::VisibleEdge),
            _ => None,
        }
    }

    /// Puts a value of it into a story.
    fn set(self, inputs: &mut Inputs, value: f64) {
        match self {
            Self::TemperatureShift => inputs.temperature_shift = value,
            Self::LawFactor => inputs.law_factor = value,
            Self::ShareOfAcm => inputs.potential = inputs.potential.with_share(value),
            Self::Co2 => {
                let tight = Potential::ShareOfAcm(inputs.potential.number());
                inputs.potential = tight.with_co2(value);
            }
            Self::Resistance => {
                inputs.transfer = if value < HELD_S_PER_M { f64::INFINITY } else { 1.0 / value };
            }
            Self::FollowsAcm => {
                let follows = value > 0.5;
                inputs.cooling_law =
                    if follows { CoolingLaw::FollowsAcm } else { CoolingLaw::GivesNothingBack };
            }
            Self::ClosedPack => inputs.times.closed_pack = value,
            Self::InAir => inputs.times.in_air = value,
            Self::HeatUp => inputs.times.heat_up = value,
            Self::AtHeat => inputs.times.at_heat = value,
            Self::Core => inputs.core = value,
            Self::VisibleEdge => inputs.visible_edge = value,
            Self::PieceShift => inputs.piece_shift = value,
            Self::Pore => inputs.pore = value,
            Self::AlreadyHot => inputs.charged_cold = value < 0.5,
            Self::ContainerRadius => inputs.container_radius = value,
        }
    }
}

/// Everything of one run that is not known exactly, each number independent of the others but for what earlier runs tell of
/// several together.
#[derive(Debug, Clone, PartialEq)]
pub struct Prior {
    /// The best story.
    best: Inputs,
    /// What is not known of it, each as it is spread.
    unknowns: Vec<(Quantity, Marginal)>,
    /// What earlier runs tell of some of them.
    learned: Option<Learned>,
}

impl Prior {
    /// Of a run whose thermometer is off by `shift`, K, best and as it is spread.
    pub(super) fn of(
        run: &Run,
        physics: &Physics,
        path: HeatPath,
        timeline: &Timeline,
        (best_shift, shift): (f64, Marginal),
    ) -> Self {
        let compound = &run.pack.compound;
        let mut unknowns = vec![(Quantity::TemperatureShift, shift)];
        let mut add = |quantity, marginal| unknowns.push((quantity, marginal));
        if path.lags() {
            add(Quantity::Pore, Marginal::positive(compound.thermal.pore.value));
            if timeline.starts_hot() {
                add(Quantity::AlreadyHot, Marginal::Chance(physics.priors.already_hot.value));
            }
            if known_radius(run).is_none() {
                let radius = Marginal::positive(physics.priors.container_radius.value);
                add(Quantity::ContainerRadius, radius);
            }
        }
        if run.choice.law.is_none() {
            add(Quantity::LawFactor, Marginal::positive(physics.law_scatter.value));
        }
        if run.choice.potential.is_none() {
            add(Quantity::ShareOfAcm, Marginal::at_least(compound.share_of_acm.value, 0.0));
            if run.pack.vent == Some(Vent::GapingLid) {
                add(Quantity::Co2, Marginal::at_least(physics.priors.gaping_lid_co2.value, 1.0));
            }
        }
        if run.choice.transfer.is_none() && run.choice.surface != Some(SurfaceChoice::Held) {
            let [low, best, high] = ends(&compound.transfer.value).map(|beta| 1.0 / beta);
            add(Quantity::Resistance, Marginal::at_least(interval([high, best, low]), 0.0));
        }
        if run.choice.cooling.is_none() && timeline.legs.iter().any(|l| l.stage.kind == StageKind::PackCool) {
            add(Quantity::FollowsAcm, Marginal::Chance(physics.priors.follows_acm.value));
        }
        if timeline.assumed_cooling {
            let (pack, air) = (&physics.cooling.closed_pack.value, &physics.cooling.in_air.value);
            add(Quantity::ClosedPack, Marginal::positive(seconds(pack)));
            add(Quantity::InAir, Marginal::positive(seconds(air)));
        }
        if let HeatEvidence::TimeAtHeat { time, heat_up, .. } = &run.record.evidence {
            let up = seconds(heat_up.as_ref().unwrap_or(&physics.priors.heat_up.value));
            add(Quantity::HeatUp, Marginal::positive(up));
            add(Quantity::AtHeat, Marginal::positive(seconds(time)));
        }
        let percent = |carbon| interval(ends(carbon).map(CarbonPercent::wt_percent));
        add(Quantity::Core, Marginal::at_least(percent(&run.stock.carbon), 0.0));
        add(Quantity::VisibleEdge, Marginal::at_least(percent(&physics.criteria.visible.value), 0.0));
        if run.piece.is_some() {
            add(Quantity::PieceShift, Marginal::at_least(place(run, physics), f64::NEG_INFINITY));
        }
        let mut prior = Self { best: best(run, physics, best_shift), unknowns, learned: None };
        let best = prior.best;
        prior.unknowns.retain(|(quantity, marginal)| {
            let (low, high) = marginal.ends();
            [low, high].into_iter().any(|value| {
                let mut moved = best;
                quantity.set(&mut moved, value);
                moved != best
            })
        });
        prior
    }

    /// The same with what earlier runs tell of `kept`; the best story is then the one in the middle of that.
    #[must_use]
    pub(super) fn with(mut self, history: &History, kept: &[Kept]) -> Self {
        let learned = Learned::of(&self.unknowns, history, kept);
        for (place, value) in learned.values(&self.unknowns, &vec![0.5; self.unknowns.len()]) {
            self.unknowns[place].0.set(&mut self.best, value);
        }
        self.learned = Some(learned);
        self
    }

    /// The best story.
    pub(super) fn best(&self) -> Inputs {
        self.best
    }

    /// Each of what stays with furnace and container that is not known here: nine in ten without earlier runs, and with
    /// them. Units as of [`Kept`].
    pub fn kept(&self) -> Vec<(Kept, Interval<f64>, Interval<f64>)> {
        let one = |(place, (quantity, marginal)): (usize, &(Quantity, Marginal))| {
            let kept = quantity.kept()?;
            let before = [0.05, 0.5, 0.95].map(|u| marginal.at(u));
            let curve = self.learned.as_ref().and_then(|learned| learned.curve(place));
            let with = curve.map_or(before, |curve| [0.05, 0.5, 0.95].map(|u| marginal.learned(curve, u)));
            Some((kept, interval(before), interval(with)))
        };
        self.unknowns.iter().enumerate().filter_map(one).collect()
    }

    /// Where a story lies on the curve of each of what stays with furnace and container, as [`History::scores`] counts.
    /// `None`: that is no unknown of this run.
    pub fn scores(&self, story: &Inputs) -> [Option<f64>; 3] {
        Kept::ALL.map(|kept| {
            let (_, marginal) = self.unknowns.iter().find(|(quantity, _)| quantity.kept() == Some(kept))?;
            let value = match (kept, story.potential) {
                (Kept::Offset, _) => story.temperature_shift,
                (Kept::Lag, _) => story.pore,
                (Kept::Potential, Potential::Fixed(_)) => return None,
                (Kept::Potential, potential) => potential.number(),
            };
            Some(marginal.score(value))
        })
    }

    /// The same for what every run has in common, in the order of [`Common::ALL`].
    pub fn common_scores(&self, story: &Inputs) -> [Option<f64>; 3] {
        Common::ALL.map(|common| {
            let (_, marginal) =
                self.unknowns.iter().find(|(quantity, _)| quantity.common() == Some(common))?;
            Some(marginal.score(match common {
                Common::Law => story.law_factor,
                Common::Transfer => 1.0 / story.transfer,
                Common::VisibleEdge => story.visible_edge,
            }))
        })
    }

    /// Each doubt with the story at its low and at its high end, all else as in the best one.
    pub(super) fn ends(&self) -> Vec<(Doubt, Inputs, Inputs)> {
        let mut doubts: Vec<Doubt> = self.doubts().collect();
        doubts.sort_unstable();
        doubts.dedup();
        let both = |doubt: Doubt| {
            let (mut low, mut high) = (self.best, self.best);
            let own = self.unknowns.iter().enumerate().filter(|(_, (q, _))| q.doubt() == doubt);
            for (place, (quantity, marginal)) in own {
                let curve = self.learned.as_ref().and_then(|learned| learned.curve(place));
                let ends = |curve| (marginal.learned(curve, 0.05), marginal.learned(curve, 0.95));
                let (first, second) = curve.map_or_else(|| marginal.ends(), ends);
                // a wide container is a slow one, as small pores make it
                let turned = *quantity == Quantity::ContainerRadius;
                let (first, second) = if turned { (second, first) } else { (first, second) };
                quantity.set(&mut low, first);
                quantity.set(&mut high, second);
            }
            (doubt, low, high)
        };
        doubts.into_iter().map(both).collect()
    }

    /// The doubt that each coordinate of [`Self::story`] belongs to.
    pub fn doubts(&self) -> impl Iterator<Item = Doubt> + '_ {
        self.unknowns.iter().map(|(quantity, _)| quantity.doubt())
    }

    /// The story at a point of the unit cube, one coordinate for each number that is not known.
    pub fn story(&self, point: &[f64]) -> Inputs {
        let mut inputs = self.best;
        for ((quantity, marginal), u) in self.unknowns.iter().zip(point) {
            quantity.set(&mut inputs, marginal.at(*u));
        }
        for (place, value) in self.learned.iter().flat_map(|l| l.values(&self.unknowns, point)) {
            self.unknowns[place].0.set(&mut inputs, value);
        }
        inputs
    }
}

/// The best story of a run.
pub(super) fn best(run: &Run, physics: &Physics, shift: f64) -> Inputs {
    let compound = &run.pack.compound;
    Inputs {
        temperature_shift: shift,
        container_radius: known_radius(run).unwrap_or(physics.priors.container_radius.value.best()),
        pore: compound.thermal.pore.value.best(),
        charged_cold: true,
        late: 0.0,
        time_factor: 1.0,
        open_air: None,
        law_factor: physics.law_scatter.value.best(),
        potential: match run.choice.potential {
            Some(PotentialChoice::Fixed(c)) => Potential::Fixed(c.wt_percent()),
            Some(PotentialChoice::ShareOfAcm(share)) => Potential::ShareOfAcm(share),
            None => {
                let tight = Potential::ShareOfAcm(compound.share_of_acm.value.best());
                let gapes = run.pack.vent == Some(Vent::GapingLid);
                if gapes { tight.with_co2(physics.priors.gaping_lid_co2.value.best()) } else { tight }
            }
        },
        transfer: match (run.choice.transfer, run.choice.surface) {
            (Some(beta), _) => beta.metres_per_second(),
            (None, Some(SurfaceChoice::Held)) => f64::INFINITY,
            (None, _) => compound.transfer.value.best(),
        },
        cooling_law: run.choice.cooling.unwrap_or(CoolingLaw::GivesNothingBack),
        times: Guesses {
            closed_pack: physics.cooling.closed_pack.value.best().seconds(),
            in_air: physics.cooling.in_air.value.best().seconds(),
            at_heat: time_at_heat(run, physics).0,
            heat_up: time_at_heat(run, physics).1,
            then: run.then,
        },
        core: run.stock.carbon.best().wt_percent(),
        piece_shift: place(run, physics).best(),
        visible_edge: physics.criteria.visible.value.best().wt_percent(),
    }
}

/// Temperature of the piece minus the coupon's, K.
fn place(run: &Run, physics: &Physics) -> Interval<f64> {
    let (told, untold) = (physics.priors.told_place.value, physics.priors.untold_place.value);
    let range = match run.piece.map(|p| p.coupon_place) {
        Some(CouponPlace::Hotter) => Interval::new(-told.high(), -told.best(), -told.low()),
        Some(CouponPlace::Colder) => Some(told),
        Some(CouponPlace::Unknown) => Interval::new(-untold, 0.0, untold),
        Some(CouponPlace::Same) | None => None,
    };
    range.unwrap_or(Interval::exact(0.0))
}

/// Seconds at heat and on the way there where only that is known; else none.
fn time_at_heat(run: &Run, physics: &Physics) -> (f64, f64) {
    match &run.record.evidence {
        HeatEvidence::TimeAtHeat { time, heat_up, .. } => {
            let up = heat_up.as_ref().unwrap_or(&physics.priors.heat_up.value).best().seconds();
            (time.best().seconds(), up)
        }
        _ => (0.0, 0.0),
    }
}

fn ends<T: Copy + PartialOrd>(interval: &Interval<T>) -> [T; 3] {
    [interval.low(), interval.best(), interval.high()]
}

fn interval([low, best, high]: [f64; 3]) -> Interval<f64> {
    Interval::new(low, best, high).unwrap_or(Interval::exact(best))
}

fn seconds(time: &Interval<Time>) -> Interval<f64> {
    interval(ends(time).map(Time::seconds))
}

/// True temperature minus reading before any witness is asked, K: what the thermometer is off by, or
/// what the eye or the witnesses leave open if that is wider.
pub(super) fn reading_error(
    run: &Run,
    physics: &Physics,
    judged: Option<&Interval<Temperature>>,
) -> Interval<f64> {
    let error = &run.record.thermometer.error.value;
    let out = if run.pack.wholly_in_heat == Some(false) { physics.priors.partly_out.value } else { 0.0 };
    let (mut low, mut high) = (error.low().kelvin(), error.high().kelvin());
    let mut best = error.best().kelvin();
    if let Some(t) = judged {
        let told = |k: Temperature| k.kelvin() - t.best().kelvin();
        let (own_low, own_high) = (told(t.low()), told(t.high()));
        let by_witnesses_alone =
            matches!(run.record.evidence, HeatEvidence::TimeAtHeat { temperature: None, .. });
        (low, high) = if by_witnesses_alone {
            (own_low, own_high)
        } else {
            // a temperature told is no better than its thermometer, and no witness is gone against
            let bracket = run.record.bracket();
            let (floor, ceiling) = (bracket.at_least.map(told), bracket.below.map(told));
            (
                own_low.min(low).max(floor.unwrap_or(f64::NEG_INFINITY)),
                own_high.max(high).min(ceiling.unwrap_or(f64::INFINITY)),
            )
        };
        best = 0.0;
    }
    Interval::new(low - out, best, high).unwrap_or_else(|| Interval::exact(0.0))
}
