use super::hardened::Hardened;
use super::treated::{Treated, doubted};
use super::{Heat, PlanError, Stage};
use crate::crosscheck::{Bath, Hard, Hardening, Need, quenchant, tempered};
use crate::diffusion::{Profile, Scaling, Section};
use crate::hardness::Body;
use crate::prediction::{Inputs, Physics};
use crate::sources::Sourced;
use crate::steel::{Bevels, QuenchMedium};
use crate::units::{CarbonPercent, Depth, Interval, Temperature, Time};

/// Heats after the soak, as they are planned: `models/plan.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatRules {
    /// At heat for a refining heat.
    pub refine_time: Sourced<Time>,
    /// At heat for hardening.
    pub harden_time: Sourced<Time>,
    /// Open air.
    pub scaling: Scaling,
    /// Tempers that are compared.
    pub tempers: Sourced<Vec<f64>>,
}

/// What becomes of a case after the soak, stage by stage, on the same solver.
#[derive(Debug, Clone, PartialEq)]
pub struct Afterwards {
    /// Carbon that must be left at the finished surface, wt%.
    pub wanted: f64,
    /// Hardness after the temper that asks for it, HRC, if that was asked for.
    pub wanted_hrc: Option<f64>,
    /// Whether only one face was packed.
    pub one_face: bool,
    /// As it left the pack.
    pub packed: Stage,
    /// The refining heat, if the grain asks for one, and the heat for hardening.
    pub heats: Vec<Heat>,
    /// Carbon at the finished edge after them, kept from air, wt%; `None` without an edge.
    pub apex: Option<Interval<f64>>,
    /// What to quench in: for this thickness, mm, if known.
    pub medium: QuenchMedium,
    /// Thickness that must harden, mm.
    pub thickness: Option<f64>,
    /// HRC of the richest place as quenched, as if all became martensite; `None`: softer than the scale, or not covered.
    pub quenched: Option<Interval<f64>>,
    /// As if all became martensite, then bath by bath: the first is [`Self::medium`]; none without a thickness.
    pub hardened: Vec<Hardened>,
    /// HRC after an hour's temper: °C, HRC.
    pub tempers: Vec<(f64, Option<Interval<f64>>)>,
    /// Minutes' worth of the usual temper: the heat, °C, that does in two hours what it does in one.
    pub same_in_two_hours: Option<f64>,
}

/// What the stages start from: one story.
#[derive(Debug, Clone, Copy)]
pub struct Cased<'a> {
    /// The case as it left the pack.
    pub profile: &'a Profile,
    /// The section that it is in.
    pub section: Section,
    /// The story that it is from: its core and the diffusivity.
    pub inputs: &'a Inputs,
    /// Carbon that must be left at the finished surface, wt%.
    pub wanted: f64,
    /// Hardness after the temper that asks for it, HRC.
    pub wanted_hrc: Option<f64>,
    /// Whether only one face was packed.
    pub one_face: bool,
    /// How the edge is ground, where it is an edge.
    pub bevels: Option<Bevels>,
    /// Thickness that must harden, mm, if known.
    pub thickness: Option<f64>,
    /// Manganese of the steel, wt%, low to high, if known.
    pub manganese: Option<(f64, f64)>,
    /// Refining heat, °C, if the grain asks for one.
    pub refine: Option<f64>,
}

impl Afterwards {
    /// All stages of this case; `ends` are the stories at both ends of every doubt.
    pub fn of(
        cased: &Cased,
        ends: &[[Cased; 2]],
        physics: &Physics,
        need: &Need,
        hardening: &Hardening,
        rules: &HeatRules,
    ) -> Result<Self, PlanError> {
        let mut treated = Treated::of(cased, physics, need, rules)?;
        let treat = |one| Treated::of(one, physics, need, rules);
        let others =
            ends.iter().map(|[a, b]| Ok([treat(a)?, treat(b)?])).collect::<Result<Vec<_>, PlanError>>()?;
        treated.doubt(&others);
        let apex = cased.bevels.map(|bevels| {
            let carbon = |treated: &Treated| match bevels {
                Bevels::Both => treated.last().profile.far(),
                Bevels::One => treated.last().profile.surface(),
            };
            let own = Interval::exact(carbon(&treated));
            doubted(&own, others.iter().map(|pair| [carbon(&pair[0]), carbon(&pair[1])]))
        });
        let hardness = hardening.hardness;
        let heat = need.hardening.value.best();
        let richest = treated.last().richest;
        let quenched = match hardening.quenched(richest, heat, need.martensite.value) {
            Hard::At(hrc) => {
                let (low, high) = hrc.nine_in_ten();
                Interval::new(low, hrc.best, high)
            }
            Hard::Soft | Hard::Unknown => None,
        };
        // carbide that stayed behind does not temper
        let dissolved = richest.min(physics.phase.acm_wt_percent(heat.kelvin()));
        let after = |celsius: f64| {
            let temperature = Temperature::from_celsius(celsius).ok()?;
            tempered(hardness, quenched.as_ref()?, dissolved, temperature, need.temper_time.value)
        };
        let medium = quenchant(hardness, &need.alloy(cased.manganese), dissolved, cased.thickness);
        let baths = baths(cased, medium, hardening, need);
        let hardened = std::iter::once(None)
            .chain(baths.iter().map(Some))
            .filter_map(|bath| {
                let of = |treated: &Treated| Hardened::of(&treated.last().profile, bath, hardening, need);
                let mut hardened = of(&treated)?;
                let pairs: Vec<_> = others.iter().filter_map(|[a, b]| Some([of(a)?, of(b)?])).collect();
                hardened.doubt(&pairs, hardness.martensite.plateau.value.high().points());
                Some(hardened)
            })
            .collect();
        Ok(Self {
            wanted: cased.wanted,
            wanted_hrc: cased.wanted_hrc,
            one_face: cased.one_face,
            apex,
            medium,
            thickness: cased.thickness,
            tempers: rules.tempers.value.iter().map(|celsius| (*celsius, after(*celsius))).collect(),
            same_in_two_hours: CarbonPercent::new(dissolved).ok().and_then(|c| {
                let twice = Time::from_seconds(2.0 * need.temper_time.value.seconds()).ok()?;
                hardness.temper.same_temper(c, need.temper.value, need.temper_time.value, twice)
            }),
            hardened,
            quenched,
            packed: treated.packed,
            heats: treated.heats,
        })
    }

    /// As quenched in what is advised; as if all became martensite where no bath can be told.
    pub fn as_advised(&self) -> Option<&Hardened> {
        self.hardened.get(1).or(self.hardened.first())
    }
}

/// What is advised first, then the other of oil and water; none where the thickness is not known.
fn baths(cased: &Cased, advised: QuenchMedium, hardening: &Hardening, need: &Need) -> Vec<Bath> {
    let Some(size) = cased.thickness.and_then(|mm| Depth::from_millimetres(mm).ok()) else { return vec![] };
    let body = match cased.section {
        Section::Round { .. } => Body::Bar,
        Section::Thick | Section::Plate { .. } => Body::Plate,
    };
    let other = if advised == QuenchMedium::Oil { QuenchMedium::Water } else { QuenchMedium::Oil };
    let bath = |medium| Bath::of(hardening.hardness, need, cased.manganese, medium, (body, size));
    [advised, other].into_iter().filter_map(bath).collect()
}
