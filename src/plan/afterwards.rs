use super::{PlanError, PlanRules};
use crate::crosscheck::{
    Answer, CrossCheck, Hard, Hardening, Need, Part, Question, Sign, quenchant, tempered,
};
use crate::diffusion::{Case, Exchange, Fineness, Leg, Profile, Scaled, Scaling, Section, march_on};
use crate::hardness::{CaseHardeningDepth, Hardness, HardnessProfile, Reach};
use crate::prediction::{Inputs, Physics, PredictError, Stories};
use crate::sources::Sourced;
use crate::steel::QuenchMedium;
use crate::units::{CarbonPercent, Depth, Hrc, Interval, Temperature, Time};

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
    /// As it left the pack.
    pub packed: Stage,
    /// The refining heat, if the grain asks for one, and the heat for hardening.
    pub heats: Vec<Heat>,
    /// What to quench in: for this thickness, mm, if known.
    pub medium: QuenchMedium,
    /// Thickness that must harden, mm.
    pub thickness: Option<f64>,
    /// HRC of the surface as quenched, after it was kept from air; `None`: softer than the scale, or not covered.
    pub quenched: Option<Interval<f64>>,
    /// HRC against depth, as quenched: depth mm, HRC with its range.
    pub against_depth: Vec<(f64, Option<Interval<f64>>)>,
    /// Depth to 50 HRC as quenched, mm.
    pub effective: Option<f64>,
    /// Depth to 550 HV as quenched, or why there is none.
    pub case_hardening: CaseHardeningDepth,
    /// Where graded files begin to bite, the hardest first.
    pub files: Vec<FileBites>,
    /// HRC after an hour's temper: °C, HRC.
    pub tempers: Vec<(f64, Option<Interval<f64>>)>,
    /// Minutes' worth of the usual temper: the heat, °C, that does in two hours what it does in one.
    pub same_in_two_hours: Option<f64>,
}

/// How deep a file of known hardness begins to bite, mm: surely not above, surely below.
#[derive(Debug, Clone, PartialEq)]
pub struct FileBites {
    /// Its number, or `mill file`.
    pub file: String,
    /// Down to here it skates.
    pub not_above: f64,
    /// From here on it bites.
    pub surely_below: f64,
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
    pub must_come_off: Option<f64>,
    /// What may come off, from the surface as it is then, mm.
    pub may_come_off: Option<f64>,
    /// The profile.
    pub profile: Profile,
}

/// What the stages start from.
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
    /// Thickness that must harden, mm, if known.
    pub thickness: Option<f64>,
    /// Manganese of the steel, wt%, low to high, if known.
    pub manganese: Option<(f64, f64)>,
    /// Refining heat, °C, if the grain asks for one.
    pub refine: Option<f64>,
}

/// Depths that hardness is told for, mm.
const DEPTHS_MM: [f64; 9] = [0.0, 0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.5];

impl Afterwards {
    /// All stages of this case.
    pub fn of(
        cased: &Cased,
        physics: &Physics,
        need: &Need,
        hardening: &Hardening,
        rules: &HeatRules,
    ) -> Result<Self, PlanError> {
        let none = Scaled::default();
        let packed = Stage::of(cased.profile.clone(), none, cased.wanted);
        let harden = (false, need.hardening.value.best().celsius(), rules.harden_time.value.minutes());
        let refine = cased.refine.map(|celsius| (true, celsius, rules.refine_time.value.minutes()));
        let mut heats: Vec<Heat> = Vec::new();
        for (refines, celsius, minutes) in refine.into_iter().chain([harden]) {
            let before = heats.last().map_or(&packed.profile, |heat| &heat.kept_from_air.profile);
            let points = [(0.0, celsius + 273.15), (minutes * 60.0, celsius + 273.15)];
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
            heats.push(Heat {
                refines,
                celsius,
                minutes,
                kept_from_air: Stage::of(kept, none, cased.wanted),
                in_air: Stage::of(in_air, scaled, cased.wanted),
            });
        }
        let last = heats.last().map_or(&packed, |heat| &heat.kept_from_air);
        let hardness = hardening.hardness;
        let heat = need.hardening.value.best();
        let quenched = match hardening.quenched(last.richest, heat, need.martensite.value) {
            Hard::At(hrc) => {
                let (low, high) = hrc.nine_in_ten();
                Interval::new(low, hrc.best, high)
            }
            Hard::Soft | Hard::Unknown => None,
        };
        // carbide that stayed behind does not temper
        let dissolved = last.richest.min(physics.phase.acm_wt_percent(heat.kelvin()));
        let after = |celsius: f64| {
            let temperature = Temperature::from_celsius(celsius).ok()?;
            tempered(hardness, quenched.as_ref()?, dissolved, temperature, need.temper_time.value)
        };
        let hard = hardening.profile(need, &last.profile);
        Ok(Self {
            wanted: cased.wanted,
            medium: quenchant(hardness, &need.alloy(cased.manganese), dissolved, cased.thickness),
            thickness: cased.thickness,
            tempers: rules.tempers.value.iter().map(|celsius| (*celsius, after(*celsius))).collect(),
            same_in_two_hours: CarbonPercent::new(dissolved).ok().and_then(|c| {
                let twice = Time::from_seconds(2.0 * need.temper_time.value.seconds()).ok()?;
                hardness.temper.same_temper(c, need.temper.value, need.temper_time.value, twice)
            }),
            against_depth: hard.as_ref().map(|hard| against_depth(hard, hardening)).unwrap_or_default(),
            effective: hard.as_ref().and_then(|hard| {
                match hard.reach(hardness.conversion.to_hv(hardness.depth.effective.value)?) {
                    Reach::Nowhere => None,
                    Reach::To(depth) => Some(depth.best().millimetres()),
                    Reach::Throughout => Some(last.profile.extent() * 1e3),
                }
            }),
            case_hardening: hard
                .as_ref()
                .map_or(CaseHardeningDepth::NotReached, |hard| hard.case_hardening_depth(&hardness.depth)),
            files: hard.as_ref().map(|hard| file_bites(hard, hardness)).unwrap_or_default(),
            quenched,
            packed,
            heats,
        })
    }
}

/// Where each file of the table passes from skating to biting, by the best value of the hardness; files that skate or
/// bite throughout tell no depth.
fn file_bites(hard: &HardnessProfile, hardness: &Hardness) -> Vec<FileBites> {
    let depth = |hrc: Hrc| match hard.reach(hardness.conversion.to_hv(hrc)?) {
        Reach::To(depth) if depth.best() > Depth::ZERO => Some(depth.best().millimetres()),
        _ => None,
    };
    let mut files: Vec<_> = hardness
        .files
        .iter()
        .filter_map(|file| {
            let undecided = &file.undecided.value;
            let (not_above, surely_below) = (depth(undecided.high())?, depth(undecided.low())?);
            Some(FileBites { file: file.name.clone(), not_above, surely_below })
        })
        .collect();
    files.sort_by(|a, b| a.surely_below.total_cmp(&b.surely_below));
    files
}

/// What becomes of the case of a run that was held against its coupon, by the story that explains it best: of its edge
/// where that is what counts, else of the face. `None`: the run had no case to go on with.
pub fn after_check(question: &Question, check: &CrossCheck, rules: &PlanRules) -> Option<Afterwards> {
    let Question { run, physics, need, hardness, .. } = *question;
    if !matches!(check.took.answer, Answer::Yes | Answer::Partly) {
        return None;
    }
    let story = Stories::of(run, physics).solve(&check.best).ok()?;
    let edge = match check.took.part {
        Part::FinishedEdge => story.outcome.edge.as_ref(),
        Part::Face { .. } => None,
    };
    let edge = run.piece.and_then(|p| p.edge_thickness).zip(edge);
    let (profile, section) = match edge {
        Some((thickness, profile)) => (profile, Section::both_faces(thickness)),
        None => (story.outcome.coupon.last()?, Section::of(&run.coupon.shape)),
    };
    let top = story.outcome.steel.iter().flat_map(|leg| &leg.points).map(|p| p.1).fold(0.0, f64::max);
    let grown = top > rules.ordinary_grain.value.kelvin() || check.signs.get(Sign::CoarseRim) == Some(true);
    let cased = Cased {
        profile,
        section,
        inputs: &check.best,
        wanted: check.took.wanted,
        thickness: check.finish.thickness_mm,
        manganese: run.stock.manganese,
        refine: grown.then(|| rules.refining_heat(physics, check.best.core).best()),
    };
    let alloy = need.alloy(run.stock.manganese);
    let hardening = Hardening { hardness, phase: physics.phase, alloy };
    Afterwards::of(&cased, physics, need, &hardening, &rules.heats).ok()
}

/// HRC at the depths that are told, as far as the profile reaches.
fn against_depth(hard: &HardnessProfile, hardening: &Hardening) -> Vec<(f64, Option<Interval<f64>>)> {
    let deepest = hard.points().last().map_or(Depth::ZERO, |p| p.0);
    let at = |mm: f64| {
        let depth = Depth::from_millimetres(mm).ok().filter(|depth| *depth <= deepest)?;
        let hrc = hardening.hardness.conversion.interval_to_hrc(&hard.at(depth));
        let told =
            |hrc: Interval<Hrc>| Interval::new(hrc.low().points(), hrc.best().points(), hrc.high().points());
        Some((mm, hrc.and_then(told)))
    };
    DEPTHS_MM.iter().filter_map(|mm| at(*mm)).collect()
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
            must_come_off: first,
            may_come_off: there.then_some(deep),
            profile,
        }
    }
}
