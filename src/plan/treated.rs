use super::{Cased, HeatRules, PlanError};
use crate::crosscheck::Need;
use crate::diffusion::{Case, Exchange, Fineness, Leg, Profile, Scaled, march_on};
use crate::prediction::{Physics, PredictError};
use crate::units::Interval;

/// The case after a stage.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// Carbon of the skin, wt%.
    pub skin: f64,
    /// Carbon where it is richest, wt%.
    pub richest: f64,
    /// Metal lost as scale, mm.
    pub scaled: f64,
    /// What must come off, below the scale, before the wanted carbon is at the surface, mm; `None`: it is nowhere.
    pub must_come_off: Option<Interval<f64>>,
    /// What may come off, from the surface as it is then, mm.
    pub may_come_off: Option<Interval<f64>>,
    /// Whether every story leaves the wanted carbon somewhere.
    pub surely: bool,
    /// The profile.
    pub profile: Profile,
}

/// A heat, done both ways.
#[derive(Debug, Clone, PartialEq)]
pub struct Heat {
    /// Whether it refines the core's grain; else it is the one that hardens.
    pub refines: bool,
    /// °C.
    pub celsius: f64,
    /// min.
    pub minutes: f64,
    /// In foil, in a box with charcoal, or under scale paint.
    pub kept_from_air: Stage,
    /// This one heat bare in open air, at its worst; the heats before it were kept from air.
    pub in_air: Stage,
}

/// A heat after the soak, as it is planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PlannedHeat {
    /// Whether it refines the core's grain; else it is the one that hardens.
    refines: bool,
    /// °C.
    celsius: f64,
    /// min.
    minutes: f64,
}

impl PlannedHeat {
    /// The refining heat, °C, if the grain asks for one, and the heat that hardens.
    pub(super) fn all(refine: Option<f64>, need: &Need, rules: &HeatRules) -> Vec<Self> {
        let refine = refine.map(|celsius| {
            let minutes = rules.refine_time.value.minutes();
            Self { refines: true, celsius, minutes }
        });
        let (celsius, minutes) = (need.hardening.value.best().celsius(), rules.harden_time.value.minutes());
        refine.into_iter().chain([Self { refines: false, celsius, minutes }]).collect()
    }

    /// Seconds, kelvin.
    pub(super) fn points(&self) -> [(f64, f64); 2] {
        let kelvin = self.celsius + 273.15;
        [(0.0, kelvin), (self.minutes * 60.0, kelvin)]
    }
}

/// What becomes of a case after the soak in one story.
pub(super) struct Treated {
    pub(super) packed: Stage,
    pub(super) heats: Vec<Heat>,
}

impl Treated {
    pub(super) fn of(
        cased: &Cased,
        physics: &Physics,
        need: &Need,
        rules: &HeatRules,
    ) -> Result<Self, PlanError> {
        let none = Scaled::default();
        let packed = Stage::of(cased.profile.clone(), none, cased.wanted);
        let mut heats: Vec<Heat> = Vec::new();
        for planned in PlannedHeat::all(cased.refine, need, rules) {
            let before = heats.last().map_or(&packed.profile, |heat| &heat.kept_from_air.profile);
            let points = planned.points();
            let scaled = rules.scaling.after(none, &points);
            // at its worst: all that turns into scale is gone before the skin below is bared for as long
            let bared = before.below(scaled.metal_lost(), cased.inputs.core);
            let heated = |start: &Profile, exchange, gone: f64| {
                let case = Case {
                    form: &physics.law.form.value,
                    factor: cased.inputs.law_factor,
                    phase: physics.phase,
                    section: cased.section.less(gone),
                    core: cased.inputs.core,
                    fineness: Fineness::DEFAULT,
                };
                let solved = march_on(&case, start, &[Leg { points: &points, exchange }]);
                solved.map(|mut s| s.profiles.remove(0)).map_err(PredictError::from)
            };
            let kept = heated(before, Exchange::CLOSED, 0.0)?;
            let in_air = heated(&bared, Exchange::BARE, scaled.metal_lost())?;
            let PlannedHeat { refines, celsius, minutes } = planned;
            heats.push(Heat {
                refines,
                celsius,
                minutes,
                kept_from_air: Stage::of(kept, none, cased.wanted),
                in_air: Stage::of(in_air, scaled, cased.wanted),
            });
        }
        Ok(Self { packed, heats })
    }

    /// After all heats, kept from air.
    pub(super) fn last(&self) -> &Stage {
        self.heats.last().map_or(&self.packed, |heat| &heat.kept_from_air)
    }

    /// Takes in what the stories at the ends of every doubt come to.
    pub(super) fn doubt(&mut self, ends: &[[Self; 2]]) {
        self.packed.doubt(ends.iter().map(|pair| [&pair[0].packed, &pair[1].packed]));
        for (i, heat) in self.heats.iter_mut().enumerate() {
            heat.kept_from_air
                .doubt(ends.iter().map(|pair| [0, 1].map(|end| &pair[end].heats[i].kept_from_air)));
            heat.in_air.doubt(ends.iter().map(|pair| [0, 1].map(|end| &pair[end].heats[i].in_air)));
        }
    }
}

impl Stage {
    fn of(profile: Profile, scaled: Scaled, wanted: f64) -> Self {
        let there = profile.peak() >= wanted;
        let first = profile.points().find(|(_, c)| *c >= wanted).map(|(x, _)| x * 1e3);
        // to the end of the section where carbon never falls to it
        let deep = profile.depth_to(wanted).unwrap_or_else(|| profile.extent()) * 1e3;
        Self {
            skin: profile.surface(),
            richest: profile.peak(),
            scaled: scaled.metal_lost() * 1e3,
            must_come_off: first.map(Interval::exact),
            may_come_off: there.then(|| Interval::exact(deep)),
            surely: there,
            profile,
        }
    }

    fn doubt<'a>(&mut self, ends: impl Iterator<Item = [&'a Self; 2]> + Clone) {
        let best = |off: &Option<Interval<f64>>| off.as_ref().map(Interval::best);
        let (own, most) = (best(&self.must_come_off).unwrap_or_default(), self.profile.extent() * 1e3);
        // where the wanted carbon vanishes nothing may come off; `surely` tells of it
        let must = ends.clone().map(|pair| pair.map(|stage| best(&stage.must_come_off).unwrap_or(own)));
        let may = ends.clone().map(|pair| pair.map(|stage| best(&stage.may_come_off).unwrap_or_default()));
        let within =
            |mm: Interval<f64>| Interval::new(mm.low(), mm.best(), mm.high().min(most)).unwrap_or(mm);
        self.must_come_off = self.must_come_off.map(|mm| within(doubted(&mm, must)));
        self.may_come_off = self.may_come_off.map(|mm| within(doubted(&mm, may)));
        self.surely &= ends.flatten().all(|stage| stage.surely);
    }
}

/// A number not below 0 with its own range, and with what it is at both ends of every doubt: the root of the sum of
/// squares of what each moves.
pub(super) fn doubted(own: &Interval<f64>, ends: impl Iterator<Item = [f64; 2]>) -> Interval<f64> {
    let best = own.best();
    let (mut down, mut up) = (best - own.low(), own.high() - best);
    for [a, b] in ends {
        down = down.hypot((a.min(b) - best).min(0.0));
        up = up.hypot((a.max(b) - best).max(0.0));
    }
    Interval::new((best - down).max(0.0), best, best + up).unwrap_or(*own)
}
