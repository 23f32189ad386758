use super::search::holds;
use super::treated::PlannedHeat;
use super::{Afterwards, Cased, EdgeSection, Intent, Needed, PlanError, Tables, Target};
use crate::crosscheck::{Bath, Hardening, quenchant};
use crate::diffusion::{Case, Exchange, Leg, Section, march_on};
use crate::hardness::Body;
use crate::prediction::{
    Inputs, Outcome, Physics, PredictError, Prediction, Run, Stories, Story, predict_after,
};
use crate::soak::{Cooled, Guesses, HeatEvidence, Hold, SoakRecord, Stage, Timeline};
use crate::steel::{Bevels, Shape, Wedge};
use crate::units::{Depth, Temperature, Time};

/// A soak that was told is gone on with at the mean heat of its last so many seconds.
const LAST_S: f64 = 600.0;
/// As far as its readings swing no wider than this about the last, K (judgement).
const SWING_K: f64 = 30.0;

/// What the planned soak begins with.
#[derive(Debug, Clone, Copy)]
pub enum Start<'a> {
    /// Untreated steel in a cold pack.
    Untreated,
    /// Steel as another soak left it, in a cold pack.
    After(&'a Prediction),
    /// The middle of this soak: the pack is at heat and is left there.
    GoOn(&'a SoakRecord),
}

/// What a plan begins with, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Begins {
    /// Untreated steel.
    Untreated,
    /// Steel that was soaked before.
    SecondSoak,
    /// A soak that is not over.
    RestOfSoak,
}

impl Start<'_> {
    /// In a word.
    pub fn begins(&self) -> Begins {
        match self {
            Self::Untreated => Begins::Untreated,
            Self::After(_) => Begins::SecondSoak,
            Self::GoOn(_) => Begins::RestOfSoak,
        }
    }
}

/// A planned soak at one temperature, of which only the hold is open.
pub(super) struct Course<'a> {
    intent: &'a Intent,
    tables: &'a Tables<'a>,
    before: Option<&'a Prediction>,
    record: SoakRecord,
    /// What the section is quenched in, where its size is known.
    bath: Option<Bath>,
    pub(super) temperature: Temperature,
    /// Whether holds are searched for in stories as coarse as drawn ones.
    coarse: bool,
}

impl<'a> Course<'a> {
    pub(super) fn new(
        intent: &'a Intent,
        start: Start<'a>,
        tables: &'a Tables<'a>,
        temperature: Temperature,
    ) -> Self {
        let (record, before) = match start {
            Start::Untreated => (intent.record(temperature), None),
            Start::After(before) => (intent.record(temperature), Some(before)),
            Start::GoOn(told) => (SoakRecord { cooled: Cooled::ClosedPack, ..told.clone() }, None),
        };
        Self { intent, tables, before, record, bath: bath(intent, tables), temperature, coarse: false }
    }

    /// The same, its holds searched for more coarsely: good to half a percent, for a table in steps of minutes.
    pub(super) fn coarse(self) -> Self {
        Self { coarse: true, ..self }
    }

    /// What comes of a hold of so many seconds.
    pub(super) fn predict(&self, seconds: f64) -> Result<Prediction, PredictError> {
        predict_after(self.before, &self.run(seconds), self.tables.physics)
    }

    /// The hold that is needed, with all doubts of the soak.
    pub(super) fn needed(&self) -> Result<Needed, PlanError> {
        let first = self.first_guess();
        let tried = self.predict(first)?;
        let best = (self.before.map(|b| &b.story.outcome), tried.story.inputs);
        let mut each: Vec<(Option<&Outcome>, Inputs)> = vec![best];
        for (doubt, low, high) in &tried.ends {
            let [one, other] = self.before.map_or([None; 2], |b| b.outcomes(*doubt).map(Some));
            each.extend([(one, low.inputs), (other, high.inputs)]);
        }
        let run = self.run(first);
        let stories = Stories::of(&run, self.tables.physics);
        let stories = if self.coarse { stories.drawn() } else { stories };
        let solved = std::iter::once(&tried.story).chain(tried.ends.iter().flat_map(|(_, a, b)| [a, b]));
        let known = solved.map(|story| self.reached(&stories, story)).collect::<Result<Vec<_>, _>>()?;
        let found = holds(self, &stories, &each, (first, &known))?;
        let Some(best) = found[0] else {
            return Err(self.never(&tried.story.inputs));
        };
        let ends: Vec<_> =
            tried.ends.iter().zip(found[1..].chunks(2)).map(|((doubt, ..), pair)| (*doubt, pair)).collect();
        Ok(Needed::new(best, &ends, self.longest()))
    }

    /// Why the longest hold is not enough.
    fn never(&self, inputs: &Inputs) -> PlanError {
        let (target, celsius) = (self.intent.target, self.temperature.celsius());
        let phase = self.tables.physics.phase;
        let kelvin = self.temperature.kelvin() + inputs.temperature_shift;
        let offers = inputs.potential.at(kelvin, phase);
        match target.carbon(self.tables.physics) {
            Some(wanted) if offers <= wanted => PlanError::TooRich { wanted, offers, celsius },
            _ => PlanError::TooLong { hours: self.longest() / 3600.0, celsius, target, helps: Vec::new() },
        }
    }

    /// Carbon in the cross-section of the edge, after the hold of `prediction`.
    pub(super) fn edge(
        &self,
        wedge: Option<Wedge>,
        prediction: &Prediction,
    ) -> Result<Option<EdgeSection>, PlanError> {
        // the profile of a first soak is known at the edge only, not behind it
        let Some(wedge) = wedge.filter(|_| self.before.is_none()) else { return Ok(None) };
        let visible = self.tables.physics.criteria.visible.value.best().wt_percent();
        let run = self.run(0.0);
        let stories = Stories::of(&run, self.tables.physics);
        EdgeSection::of(wedge, self.wanted(), visible, &stories, prediction).map(Some)
    }

    /// What becomes of the case of `prediction` after the soak; of the edge, where it has one.
    pub(super) fn afterwards(&self, prediction: &Prediction) -> Result<Afterwards, PlanError> {
        let Tables { physics, need, hardness, rules, .. } = *self.tables;
        let alloy = need.alloy(self.intent.stock.manganese);
        let hardening = Hardening { hardness, phase: physics.phase, alloy };
        let cased = |story| self.cased(story);
        let ends: Vec<_> =
            prediction.ends.iter().filter_map(|(_, low, high)| Some([cased(low)?, cased(high)?])).collect();
        let best = cased(&prediction.story).ok_or(PlanError::HardnessUntold)?;
        Afterwards::of(&best, &ends, physics, need, &hardening, &rules.heats)
    }

    /// What one story leaves to go on with: its edge, where it has one.
    fn cased<'s>(&self, story: &'s Story) -> Option<Cased<'s>> {
        let (outcome, shape) = (&story.outcome, &self.intent.coupon.shape);
        let piece = self.intent.piece.as_ref();
        let edge = piece.and_then(|p| p.edge_thickness).zip(outcome.edge.as_ref());
        let (profile, section, thickness) = match edge {
            Some((thickness, profile)) => (profile, Section::both_faces(thickness), Some(thickness)),
            None => (outcome.coupon.last()?, Section::of(shape), shape.size()),
        };
        Some(Cased {
            profile,
            section,
            inputs: &story.inputs,
            wanted: self.wanted(),
            wanted_hrc: self.intent.hardness.map(|(hrc, _)| hrc.points()),
            one_face: edge.is_none() && shape.one_face(),
            bevels: edge.map(|_| piece.and_then(|p| p.bevels).unwrap_or(Bevels::Both)),
            thickness: thickness.map(Depth::millimetres),
            manganese: self.intent.stock.manganese,
            refine: self.refine(),
        })
    }

    /// Refining heat, °C, if the grain of ordinary steel grows in this soak.
    fn refine(&self) -> Option<f64> {
        let (rules, core) = (self.tables.rules, self.intent.stock.carbon.best().wt_percent());
        let grows = self.temperature.celsius() > rules.ordinary_grain.value.celsius();
        grows.then(|| rules.refining_heat(self.tables.physics, core).best())
    }

    /// Carbon of the finished edge once it was refined and hardened, kept from air, wt%: a thin case spreads in those
    /// heats. `None`: the piece has no edge.
    fn finished_edge(&self, stories: &Stories, story: &Story) -> Option<Result<f64, PlanError>> {
        let Tables { physics, need, rules, .. } = *self.tables;
        let piece = self.intent.piece.as_ref()?;
        let heats: Vec<_> = PlannedHeat::all(self.refine(), need, &rules.heats);
        let heats: Vec<_> = heats.iter().map(PlannedHeat::points).collect();
        let legs: Vec<Leg> = heats.iter().map(|points| Leg { points, exchange: Exchange::CLOSED }).collect();
        let case = Case {
            form: &physics.law.form.value,
            factor: story.inputs.law_factor,
            phase: physics.phase,
            section: Section::both_faces(piece.edge_thickness?),
            core: story.inputs.core,
            fineness: stories.fineness(),
        };
        let solved = march_on(&case, story.outcome.edge.as_ref()?, &legs);
        let after = solved.map_err(PredictError::from).map(|solved| {
            let last = solved.profiles.last();
            last.map_or(0.0, |profile| match piece.bevels.unwrap_or(Bevels::Both) {
                Bevels::Both => profile.far(),
                Bevels::One => profile.surface(),
            })
        });
        Some(after.map_err(PlanError::from))
    }

    /// Carbon that the finished surface or edge wants, wt%.
    fn wanted(&self) -> f64 {
        match (self.intent.hardness, self.intent.target) {
            (Some((_, carbon)), _) | (None, Target::Edge { carbon }) => carbon.wt_percent(),
            (None, Target::Depth { .. }) => self.tables.need.wanted.value.wt_percent(),
        }
    }

    /// What a story comes to: mm, or wt%.
    pub(super) fn reached(&self, stories: &Stories, story: &Story) -> Result<f64, PlanError> {
        if let Target::Edge { .. } = self.intent.target
            && let Some(carbon) = self.finished_edge(stories, story)
        {
            return carbon;
        }
        self.intent.target.reached(self.tables, stories, story, self.bath.as_ref())
    }

    /// What is wanted: mm, or wt%.
    pub(super) fn goal(&self) -> f64 {
        self.intent.target.goal()
    }

    /// The longest hold that is planned, s.
    pub(super) fn longest(&self) -> f64 {
        self.tables.rules.longest.value.seconds()
    }

    /// A hold of so many seconds at this heat.
    pub(super) fn hold(&self, seconds: f64) -> Hold {
        Hold { seconds, kelvin: self.temperature.kelvin() }
    }

    fn run(&self, seconds: f64) -> Run<'_> {
        self.intent.run(&self.record, self.hold(seconds))
    }

    /// Where the search begins, s: Harris's rule, depth = 800 √h / 10^(3720/T) mm. Source: F. E. Harris,
    /// Metal Progress, 1943, in its metric form; it need not be good, only near.
    fn first_guess(&self) -> f64 {
        let per_root_hour = 800.0 / libm::exp10(3720.0 / self.temperature.kelvin());
        let mm = match self.intent.target {
            Target::Depth { depth, .. } => depth.millimetres(),
            Target::Edge { .. } => {
                let edge = self.intent.piece.as_ref().and_then(|p| p.edge_thickness);
                edge.map_or(1.0, |t| t.millimetres() / 2.0)
            }
        };
        let hours = (mm / per_root_hour) * (mm / per_root_hour);
        (hours * 3600.0).clamp(60.0, self.longest())
    }
}

/// How a soak that was told ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LastHeat {
    /// What the thermometer read at the end of the soak.
    pub temperature: Temperature,
    /// Whether the record goes on to the cooling.
    pub cooled: bool,
}

impl LastHeat {
    /// Of a record: the mean of its last minutes at heat.
    pub fn of(record: &SoakRecord, physics: &Physics) -> Result<Self, PlanError> {
        if matches!(record.evidence, HeatEvidence::TimeAtHeat { .. }) {
            let temperature = record.judged_temperature().map_err(PredictError::from)?.best();
            return Ok(Self { temperature, cooled: false });
        }
        let cooling = physics.cooling;
        let guesses = Guesses {
            closed_pack: cooling.closed_pack.value.best().seconds(),
            in_air: cooling.in_air.value.best().seconds(),
            at_heat: 0.0,
            heat_up: 0.0,
            then: None,
        };
        let timeline = Timeline::new(record, &guesses).map_err(PredictError::from)?;
        let legs = &timeline.legs;
        let soak = legs.iter().rfind(|l| l.stage == Stage::SOAK).ok_or(PlanError::CooledAlready)?;
        let told = legs.len() - usize::from(timeline.assumed_cooling && legs.len() > 1);
        let cooled = timeline.guessed_cooling.is_some() || legs[told - 1].stage != Stage::SOAK;
        let end = soak.points[soak.points.len() - 1];
        let (mut sum, mut seconds) = (0.0, 0.0);
        let lasting = |w: &&[(f64, f64)]| w[0].0 >= end.0 - LAST_S && (w[0].1 - end.1).abs() < SWING_K;
        for w in soak.points.windows(2).rev().take_while(lasting) {
            sum += f64::midpoint(w[0].1, w[1].1) * (w[1].0 - w[0].0);
            seconds += w[1].0 - w[0].0;
        }
        let kelvin = if seconds > 0.0 { sum / seconds } else { end.1 };
        let temperature = Temperature::from_kelvin(kelvin).map_err(|_| PlanError::CooledAlready)?;
        Ok(Self { temperature, cooled })
    }
}

/// The bath that is advised for the section, for a skin as rich as a case's.
fn bath(intent: &Intent, tables: &Tables) -> Option<Bath> {
    let Tables { need, hardness, .. } = *tables;
    let manganese = intent.stock.manganese;
    let size = intent.coupon.shape.size()?;
    let richest = hardness.hardenability.richest();
    let medium = quenchant(hardness, &need.alloy(manganese), richest, Some(size.millimetres()));
    let body = match intent.coupon.shape {
        Shape::Flat { .. } => Body::Plate,
        Shape::Round { .. } => Body::Bar,
    };
    Bath::of(hardness, need, manganese, medium, (body, size))
}

/// The hold as a time.
pub(super) fn time(seconds: f64) -> Time {
    Time::from_seconds(seconds).unwrap_or(Time::ZERO)
}
