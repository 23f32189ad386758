//! The tables in `models/`, embedded in the program and checked when they are read.

mod bibliography;
mod case_depth;
mod causes;
mod checks;
mod error;
mod fracture;
mod hardness;
mod laws;
mod names;
mod packs;
mod phase;
mod photo_lines;
mod plan;
mod priors;
mod sparks;
mod steels;
mod trees;
mod value;
mod verdict;
mod visible_edge;
mod witnesses;

use crate::crosscheck::{Causes, Need, Question, Seen};
use crate::diffusion::Law;
use crate::features::{FaceReading, SparkWords};
use crate::hardness::Hardness;
use crate::known::{EdgeReading, EdgeTables, LearnedEdge, PhotoLines};
use crate::plan::{PlanRules, Tables};
use crate::prediction::{Aim, Criteria, Physics, Prediction, Priors, Run};
use crate::soak::{Compound, CoolingDefault, HeatColour, Thermometer, WitnessMetal};
use crate::sources::{Source, Sourced, Status};
use crate::spark::PhotoReading;
use crate::steel::{Grade, PhaseLimits};
use crate::tree::Tree;
use crate::units::{CarbonPercent, Interval};
use bibliography::Bibliography;
pub use error::ModelsError;
pub use names::UnknownName;
use std::sync::OnceLock;

/// All that ships with the program as data.
#[derive(Debug, Clone, PartialEq)]
pub struct Models {
    /// The bibliography, by key.
    pub sources: Vec<Source>,
    /// Diffusivity laws.
    pub laws: Vec<Law>,
    /// Name of the law to use when none is asked for.
    pub default_law: String,
    /// Factor on any prediction law's diffusivity that covers their disagreement, no unit.
    pub law_scatter: Sourced<Interval<f64>>,
    /// Limits of austenite.
    pub phase: PhaseLimits,
    /// Steel grades and kinds of found steel.
    pub grades: Vec<Grade>,
    /// Name of the grade that stands for steel of which nothing is known.
    pub default_grade: String,
    /// Carburizing compounds.
    pub compounds: Vec<Compound>,
    /// Name of the compound that stands for charcoal of which nothing is known.
    pub default_compound: String,
    /// Metals and salts of known melting range.
    pub metals: Vec<WitnessMetal>,
    /// Heat colours, one entry per word.
    pub colours: Vec<HeatColour>,
    /// One entry for every place that a thermometer may have.
    pub thermometers: Vec<Thermometer>,
    /// How fast a pack cools when nobody said.
    pub cooling: CoolingDefault,
    /// Carbon at which a case is said to end.
    pub criteria: Criteria,
    /// How coupons tell the carbon at the visible edge.
    pub edge_reading: EdgeReading,
    /// What plain words about sparks stand for.
    pub spark_words: SparkWords,
    /// How spark photos are put together.
    pub photo_reading: PhotoReading,
    /// What spark photos are expected to show against the published trend.
    pub photo_lines: Sourced<PhotoLines>,
    /// How well a fracture face is read.
    pub face_reading: FaceReading,
    /// The tree from a described face to bands of depth, over the columns of `features::FaceColumn::TREE`.
    pub face_tree: Tree,
    /// Hardness by carbon, quench and temper; files; where a hardened case ends.
    pub hardness: Hardness,
    /// From spark features to carbon bands.
    pub spark_tree: Tree,
    /// Why a coupon may show something else than it should.
    pub causes: Causes,
    /// What a use asks for.
    pub need: Need,
    /// What a plan for a soak goes by.
    pub plan: PlanRules,
    /// What nobody measures.
    pub priors: Priors,
}

/// The spark tree that ships, as its file.
pub const SHIPPED_SPARK_TREE: &str = include_str!("../../../models/spark-bands.toml");

/// The tree of fracture faces that ships, as its file.
pub const SHIPPED_FACE_TREE: &str = include_str!("../../../models/fracture-depth.toml");

/// The texts of the files in `models/`.
#[derive(Debug, Clone, Copy)]
struct Texts<'a> {
    sources: &'a str,
    diffusivity: &'a str,
    steels: &'a str,
    packs: &'a str,
    witnesses: &'a str,
    case_depth: &'a str,
    sparks: &'a str,
    photo_lines: &'a str,
    fracture: &'a str,
    fracture_depth: &'a str,
    hardness: &'a str,
    spark_tree: &'a str,
    causes: &'a str,
    verdict: &'a str,
    visible_edge: &'a str,
    plan: &'a str,
    priors: &'a str,
}

const SHIPPED: Texts<'static> = Texts {
    sources: include_str!("../../../models/sources.toml"),
    diffusivity: include_str!("../../../models/diffusivity.toml"),
    steels: include_str!("../../../models/steels.toml"),
    packs: include_str!("../../../models/packs.toml"),
    witnesses: include_str!("../../../models/witnesses.toml"),
    case_depth: include_str!("../../../models/case-depth.toml"),
    sparks: include_str!("../../../models/sparks.toml"),
    photo_lines: include_str!("../../../models/photo-lines.toml"),
    fracture: include_str!("../../../models/fracture.toml"),
    fracture_depth: SHIPPED_FACE_TREE,
    hardness: include_str!("../../../models/hardness.toml"),
    spark_tree: SHIPPED_SPARK_TREE,
    causes: include_str!("../../../models/causes.toml"),
    verdict: include_str!("../../../models/verdict.toml"),
    visible_edge: include_str!("../../../models/visible-edge.toml"),
    plan: include_str!("../../../models/plan.toml"),
    priors: include_str!("../../../models/priors.toml"),
};

impl Models {
    /// The models that this program was built with.
    pub fn shipped() -> Result<Self, ModelsError> {
        Self::read(&SHIPPED)
    }

    /// The same, read once and kept.
    pub fn shared() -> Result<&'static Self, ModelsError> {
        static SHARED: OnceLock<Models> = OnceLock::new();
        match SHARED.get() {
            Some(models) => Ok(models),
            None => Self::shipped().map(|models| SHARED.get_or_init(|| models)),
        }
    }

    fn read(texts: &Texts<'_>) -> Result<Self, ModelsError> {
        let mut books = Bibliography::read(texts.sources)?;
        let laws = laws::read(texts.diffusivity, &mut books)?;
        let steels = steels::read(texts.steels, &mut books)?;
        let packs = packs::read(texts.packs, &mut books)?;
        let witnesses = witnesses::read(texts.witnesses, &mut books)?;
        let criteria = case_depth::read(texts.case_depth, &mut books)?;
        let edge_reading = visible_edge::read(texts.visible_edge, &criteria, &mut books)?;
        let (spark_words, photo_reading) = sparks::read(texts.sparks, &mut books)?;
        let photo_lines = photo_lines::read(texts.photo_lines, &mut books)?;
        let face_reading = fracture::read(texts.fracture, &mut books)?;
        let face_tree = fracture::read_depth_tree(texts.fracture_depth)?;
        let hardness = hardness::read(texts.hardness, &mut books)?;
        let causes = causes::read(texts.causes, (&hardness, &witnesses.metals), &mut books)?;
        let need = verdict::read(texts.verdict, &mut books)?;
        let plan = plan::read(texts.plan, &mut books)?;
        let priors = priors::read(texts.priors, &mut books)?;
        Ok(Self {
            sources: books.finish()?,
            laws: laws.rows,
            default_law: laws.default,
            law_scatter: laws.scatter,
            phase: steels.phase,
            grades: steels.grades,
            default_grade: steels.default,
            compounds: packs.compounds,
            default_compound: packs.default,
            metals: witnesses.metals,
            colours: witnesses.colours,
            thermometers: witnesses.thermometers,
            cooling: packs.cooling,
            criteria,
            edge_reading,
            spark_words,
            photo_reading,
            photo_lines,
            face_reading,
            face_tree,
            hardness,
            spark_tree: trees::spark(texts.spark_tree)?,
            causes,
            need,
            plan,
            priors,
        })
    }

    /// What a prediction rests on, with the law of that name or the default one.
    pub fn physics(&self, law: Option<&str>) -> Result<Physics<'_>, UnknownName> {
        Ok(Physics {
            law: self.law(law.unwrap_or(&self.default_law))?,
            law_scatter: &self.law_scatter,
            phase: &self.phase,
            criteria: &self.criteria,
            cooling: &self.cooling,
            priors: &self.priors,
        })
    }

    /// What a plan rests on, with this physics.
    pub fn tables<'a>(&'a self, physics: &'a Physics<'a>) -> Tables<'a> {
        Tables {
            physics,
            need: &self.need,
            hardness: &self.hardness,
            rules: &self.plan,
            metals: &self.metals,
            compounds: &self.compounds,
        }
    }

    /// What is asked of a run: what was seen of its coupon beside what its soak should have given, for what is wanted.
    pub fn question<'a>(
        &'a self,
        (run, physics): (&'a Run<'a>, &'a Physics<'a>),
        prediction: &'a Prediction,
        seen: &'a Seen<'a>,
        aim: Option<&'a Aim>,
    ) -> Question<'a> {
        let Self { causes, need, hardness, .. } = self;
        Question { run, physics, prediction, seen, aim, causes, need, hardness }
    }

    /// Takes the carbon at the visible edge from what coupons say that were measured another way.
    pub fn learn_edge(&mut self, edge: &LearnedEdge) {
        let coupons = if edge.coupons == 1 { "1 coupon".into() } else { format!("{} coupons", edge.coupons) };
        self.criteria.visible = Sourced {
            value: edge.carbon,
            source: self.criteria.visible.source.clone(),
            place: format!(
                "{coupons} of the known steels, quenched in {}, measured another way",
                edge.quench.words()
            ),
            status: Status::Computed,
        };
    }

    /// What the edge of a coupon is read by.
    pub fn edge_tables(&self) -> EdgeTables<'_> {
        EdgeTables {
            edge: &self.edge_reading,
            face: &self.face_reading,
            martensite: &self.hardness.martensite,
        }
    }

    /// The diffusivity law of that name; upper or lower case does not matter, here and below.
    pub fn law(&self, name: &str) -> Result<&Law, UnknownName> {
        names::find(&self.laws, name)
    }

    /// The grade of that name or alias.
    pub fn grade(&self, name: &str) -> Result<&Grade, UnknownName> {
        names::find(&self.grades, name)
    }

    /// Carbon of the grade of that name or alias; `None`: no such grade. Faster than [`Self::grade`], which makes
    /// suggestions.
    pub fn grade_range(&self, name: &str) -> Option<Interval<CarbonPercent>> {
        self.grades.iter().find(|grade| names::is_called(*grade, name)).map(|grade| grade.carbon.value)
    }

    /// The compound of that name or alias.
    pub fn compound(&self, name: &str) -> Result<&Compound, UnknownName> {
        names::find(&self.compounds, name)
    }

    /// The witness metal of that name or alias.
    pub fn metal(&self, name: &str) -> Result<&WitnessMetal, UnknownName> {
        names::find(&self.metals, name)
    }

    /// The heat colour of that word.
    pub fn colour(&self, word: &str) -> Result<&HeatColour, UnknownName> {
        names::find(&self.colours, word)
    }
}

#[cfg(test)]
mod tests;
