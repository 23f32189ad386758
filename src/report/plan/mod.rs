//! A planned soak in words.

mod afterwards;
mod clock;
mod edge;
mod hardened;
mod headline;
mod limit;
mod packing;
mod page;
mod watch;

pub(super) use afterwards::{off_each_side, stages};
pub(super) use clock::duration;
pub(super) use headline::wanted;
pub(super) use page::lay_out_stages;
pub use page::plan_page;

use super::EarlierWords;
use super::check::{BREAKING, QUENCH};
use super::note::{CAUTIONS, note};
use super::number::{CARBON, DEPTH, MASS_GAIN};
use super::soak::{self, Criteria, Grounds, Line, Section, cite, line};
use crate::crosscheck::Need;
use crate::hardness::Stirring;
use crate::plan::{Afterwards, Begins, Intent, SoakPlan, Tables};
use crate::prediction::{Note, Reading};
use crate::sources::Source;

/// The answer of `snapspark plan`, ready to be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanReport {
    /// What it is a plan for.
    pub title: String,
    /// How long to hold it.
    pub hold: String,
    /// How sure that is.
    pub sure: String,
    /// The furnace's clock.
    pub clock: Section,
    /// What the soak should give.
    pub gives: Section,
    /// Heats, holds and what they bring; the first row names the columns.
    pub heats: Vec<[String; 4]>,
    /// What the doubt in the hold comes from.
    pub doubts: Vec<Line>,
    /// The cross-section of the edge, drawn; empty where its shape is not told.
    pub edge_drawn: Vec<String>,
    /// What that means.
    pub edge: Vec<String>,
    /// What earlier runs tell, if they were asked for.
    pub earlier: Option<EarlierWords>,
    /// What limits it.
    pub limits: Vec<String>,
    /// Heading of what is to be done first.
    pub packing_heading: &'static str,
    /// What to do before it is packed, and how to pack.
    pub packing: Vec<String>,
    /// Witnesses, coupon, spy.
    pub watch: Vec<String>,
    /// What the coupon should show.
    pub shows: Vec<String>,
    /// What becomes of the case afterwards.
    pub afterwards: AfterwardsWords,
    /// What to know.
    pub notes: Vec<String>,
    /// What it rests on.
    pub rests_on: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// What becomes of a case after the soak, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct AfterwardsWords {
    /// Stages; the first row names the columns.
    pub stages: Vec<[String; 5]>,
    /// What they mean, and how to harden.
    pub words: Vec<String>,
    /// Heading of the hardness by depth.
    pub by_depth_heading: String,
    /// Hardness as quenched by depth, bath by bath; the first row names the columns.
    pub by_depth: Vec<[String; 4]>,
    /// How it was come by.
    pub by_depth_words: String,
    /// Depths of hardness, and hardness after tempers.
    pub depths: Vec<Line>,
}

impl AfterwardsWords {
    pub(super) fn of(after: &Afterwards, need: &Need) -> Self {
        Self {
            stages: afterwards::stages(after),
            words: afterwards::words(after, need),
            by_depth_heading: hardened::heading(after),
            by_depth: hardened::by_depth(after),
            by_depth_words: hardened::words(after),
            depths: hardened::depths(after, need),
        }
    }
}

/// Words a plan. `sources` is the bibliography.
pub fn plan(intent: &Intent, plan: &SoakPlan, tables: &Tables, sources: &[Source]) -> PlanReport {
    let names = Criteria::new(tables.physics, plan.prediction.story.inputs.core);
    let wanted = headline::wanted(intent, &names);
    PlanReport {
        title: headline::title(intent, plan, &wanted),
        hold: headline::hold(intent, plan),
        sure: headline::sure(intent, plan),
        clock: clock::section(intent, plan),
        gives: gives(intent, plan, &names),
        heats: clock::heats(plan),
        doubts: clock::doubts(plan),
        edge_drawn: plan.edge.as_ref().map(|e| edge::drawing(e, intent)).unwrap_or_default(),
        edge: plan.edge.as_ref().map(|e| edge::words(e, intent, tables)).unwrap_or_default(),
        earlier: None,
        limits: plan.limits.iter().map(|limit| limit::words(limit, intent)).collect(),
        packing_heading: match plan.begins {
            Begins::RestOfSoak => "Until then",
            _ => "Before it is lit",
        },
        packing: packing::list(intent, tables, plan.begins),
        watch: watch::list(intent, plan),
        shows: watch::shows(intent, plan, tables),
        afterwards: AfterwardsWords::of(&plan.afterwards, tables.need),
        notes: notes(intent, plan),
        rests_on: rests_on(intent, plan, tables, sources),
        cautions: cautions(plan),
    }
}

/// The main numbers after the planned hold.
fn gives(intent: &Intent, plan: &SoakPlan, names: &Criteria) -> Section {
    let last = plan.prediction.last();
    let lines = [
        line(last, Reading::Surface, "surface carbon", CARBON),
        line(last, Reading::Visible, names.visible.clone(), DEPTH),
        line(last, Reading::Carburization, names.carburization.clone(), DEPTH),
        line(last, Reading::Total, names.total.clone(), DEPTH),
        line(last, Reading::MassGain, "mass gain per surface", MASS_GAIN),
    ];
    let mut lines: Vec<Line> = lines.into_iter().flatten().collect();
    lines.extend(intent.piece.iter().flat_map(|piece| soak::edge_lines(piece, last)));
    Section { heading: format!("What it should give, after {}", last.stage.name()), lines }
}

fn notes(intent: &Intent, plan: &SoakPlan) -> Vec<String> {
    let first = match (plan.begins, intent.first_seen) {
        (Begins::SecondSoak, true) => Some(
            "The first soak counts as the story tells it that explains its coupon best (`snapspark check`); photos and rigs \
             that the sheet names are not looked at for this. What is to blame there must be mended first.",
        ),
        (Begins::SecondSoak, false) => {
            Some("Nothing was seen of the coupon: the first soak counts as its heat and pack tell it.")
        }
        _ => None,
    };
    // a plan has no cooling that somebody could have told of, and its lag stands in the clock
    let said = |n: &&Note| !matches!(n, Note::CoolingAssumed | Note::Lag { .. } | Note::CasedThrough);
    let told = plan.prediction.notes.iter().filter(said).map(note);
    first.map(String::from).into_iter().chain(told).collect()
}

fn rests_on(intent: &Intent, plan: &SoakPlan, tables: &Tables, sources: &[Source]) -> Vec<String> {
    let (rules, metals) = (tables.rules, &plan.witnesses);
    let mut list = vec![
        "chances: the hold that is needed is searched for in the best story and with each doubt at both its ends; \
         the root of the sum of squares, in √time, is read as two half normal curves. They are what these doubts \
         allow, nearly all of them judged, and no measured frequencies"
            .into(),
    ];
    let Intent { pack, choice, thermometer, .. } = intent;
    let grounds = Grounds { compound: &pack.compound, choice, thermometer };
    list.extend(soak::rests_on(&plan.prediction, &grounds, tables.physics, sources));
    list.push(cite("packing", &rules.sides, sources));
    list.push(cite("grain", &rules.ordinary_grain, sources));
    list.push(cite("scale in open air", &rules.heats.scaling.rate, sources));
    list.push(cite("hardness of martensite", &tables.hardness.martensite.full, sources));
    let (hardness, medium) = (tables.hardness, plan.afterwards.medium);
    list.push(cite("hardness with less martensite", &hardness.martensite.columns, sources));
    list.push(cite("ideal diameter", &hardness.hardenability.carbon, sources));
    list.push(cite("martensite by ideal diameter", &hardness.hardenability.times_for_99, sources));
    let bath = hardness.severity(medium, Stirring::Moderate);
    list.extend(bath.map(|severity| cite("severity of the bath", &severity.per_inch, sources)));
    list.push(cite("retained austenite", &hardness.austenite.ms, sources));
    list.push(cite("temper", &hardness.temper.chart, sources));
    for metal in [&metals.melts, &metals.stays].into_iter().flatten() {
        list.push(cite(&format!("melting range of {}", metal.name), &metal.solidus, sources));
    }
    list
}

/// Those of the soak, then of the coupon that is quenched and snapped.
fn cautions(plan: &SoakPlan) -> Vec<String> {
    let (soak, last) = CAUTIONS.split_at(CAUTIONS.len() - 2);
    let mut list: Vec<String> = soak.iter().map(ToString::to_string).collect();
    if plan.begins != Begins::RestOfSoak {
        list.push(
            "A brass witness gives off zinc: a crumb, under the vent, and no more. Grind no zinc, lead or aluminium on \
             the wheel."
                .into(),
        );
    }
    list.extend([QUENCH, BREAKING].map(String::from));
    list.push(last.join(" "));
    list
}
