use super::note::{CAUTIONS, doubt, note, what_tells};
use super::number::{CARBON, CELSIUS, DEPTH, MASS_GAIN, MILLIGRAMS, MINUTES, Style};
use super::{Chart, EarlierWords};
use crate::diffusion::Potential;
use crate::prediction::{
    Distribution, ModelChoice, Physics, Prediction, Reading, Run, SEED, StagePrediction, SurfaceChoice,
};
use crate::soak::{Compound, CoolingLaw, Thermometer};
use crate::sources::{Source, Sourced};
use crate::steel::{Bevels, Coupon, Faces, Piece, Shape};
use crate::units::{Depth, Mass};

/// A labelled number with its range; all as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What it is, with its criterion.
    pub label: String,
    /// Best value with unit.
    pub value: String,
    /// Range with unit; empty if there is none.
    pub range: String,
}

/// Lines under a heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// Heading.
    pub heading: String,
    /// Lines.
    pub lines: Vec<Line>,
}

/// The answer of `snapspark soak`, ready to be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct SoakReport {
    /// Title.
    pub title: String,
    /// Sections in order.
    pub sections: Vec<Section>,
    /// Profile of the coupon.
    pub chart: Chart,
    /// Legend of the chart.
    pub legend: String,
    /// What the two numbers of a line are.
    pub ranges: String,
    /// What the doubt in the visible case depth comes from.
    pub doubts: Vec<Line>,
    /// The same in a sentence, if runs were drawn.
    pub doubt: Option<String>,
    /// What earlier runs tell, if they were asked for.
    pub earlier: Option<EarlierWords>,
    /// What to know, one sentence or two each.
    pub notes: Vec<String>,
    /// What the numbers rest on, with sources.
    pub rests_on: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// Words a prediction. `name` is what the run is called, `sources` the bibliography.
pub fn soak(
    name: &str,
    prediction: &Prediction,
    run: &Run,
    physics: &Physics,
    sources: &[Source],
) -> SoakReport {
    let last = prediction.last();
    let mut sections = vec![coupon(prediction, run, physics, last), heat(last)];
    sections.extend(edge(run, last));
    if prediction.stages.len() > 1 {
        sections.push(by_stage(prediction));
    }
    let (chart, legend) = chart(prediction, None);
    let grounds =
        Grounds { compound: &run.pack.compound, choice: run.choice, thermometer: &run.record.thermometer };
    SoakReport {
        title: format!("What the soak of {name} should have given"),
        sections,
        chart,
        legend,
        ranges: ranges(prediction, last),
        doubts: doubts(last),
        doubt: distribution(last).and_then(most_of_the_doubt),
        earlier: None,
        notes: prediction.notes.iter().map(note).collect(),
        rests_on: rests_on(prediction, &grounds, physics, sources),
        cautions: CAUTIONS.iter().map(ToString::to_string).collect(),
    }
}

/// The profile with the predicted depths on it, and the depth seen on the fracture, mm; and its legend.
pub(super) fn chart(prediction: &Prediction, seen: Option<f64>) -> (Chart, String) {
    let last = prediction.last();
    let best = |r| last.readings.get(&r).map_or(0.0, |s| s.interval.best());
    let (total, visible) = (best(Reading::Total), best(Reading::Visible));
    let deepest = (last.profile.extent() * 1e3).max(0.05);
    let shown = (1.4 * total).max(1.1 * seen.unwrap_or(0.0)).max(0.2).min(deepest);
    let mut marks = vec![('T', total), ('V', visible)];
    marks.extend(seen.map(|mm| ('S', mm)));
    let legend = format!(
        "Carbon of the coupon from its surface inward. V visible case depth, T total case depth{}. \
         Core {}.",
        if seen.is_some() { ", S case depth seen on the fracture" } else { "" },
        CARBON.one(prediction.story.inputs.core)
    );
    (Chart::new(&last.profile, shown, &marks), legend)
}

/// A depth that the section does not hold: cased through.
const THROUGH: &str = "through";

pub(super) fn line(
    stage: &StagePrediction,
    reading: Reading,
    label: impl Into<String>,
    style: Style,
) -> Option<Line> {
    let spread = stage.readings.get(&reading)?;
    let (low, best, high) = (spread.interval.low(), spread.interval.best(), spread.interval.high());
    let value = if spread.through.best { THROUGH.into() } else { style.one(best) };
    let range = if style.one(low) == style.one(high) {
        String::new()
    } else if spread.through.high {
        format!("{} to {THROUGH}", style.one(low))
    } else {
        style.range(&spread.interval)
    };
    Some(Line { label: label.into(), value, range })
}

fn coupon(prediction: &Prediction, run: &Run, physics: &Physics, stage: &StagePrediction) -> Section {
    let ground = DEPTH.one(prediction.ground.millimetres());
    let told = if prediction.ground_told { "as ground" } else { "one light touch" };
    let names = Criteria::new(physics, prediction.story.inputs.core);
    let far = match run.coupon.shape {
        Shape::Flat { thickness: Some(_), faces: Faces::Both } => Some("carbon in the middle"),
        Shape::Flat { thickness: Some(_), faces: Faces::One } => Some("carbon at the far face"),
        Shape::Round { diameter: Some(_) } => Some("carbon at the axis"),
        _ => None,
    };
    let mut lines = vec![
        line(stage, Reading::Surface, "surface carbon", CARBON),
        line(stage, Reading::GroundMean, format!("mean of the first {ground} ({told})"), CARBON),
        line(stage, Reading::Visible, names.visible, DEPTH),
        line(stage, Reading::Carburization, names.carburization, DEPTH),
        line(stage, Reading::Total, names.total, DEPTH),
    ];
    lines.push(far.and_then(|label| line(stage, Reading::Far, label, CARBON)));
    lines.push(line(stage, Reading::MassGain, "mass gain per surface", MASS_GAIN));
    if let Some(area) = run.coupon.packed_area() {
        let label = format!("mass gain of this coupon ({:.1} cm² packed)", area * 1e4);
        lines.push(line(stage, Reading::CouponGain, label, MILLIGRAMS));
    }
    lines.push(weighed(run.coupon));
    Section {
        heading: format!("Coupon, after {}", stage.stage.name()),
        lines: lines.into_iter().flatten().collect(),
    }
}

/// Depths with the carbon at which each ends.
pub(super) struct Criteria {
    pub(super) visible: String,
    pub(super) carburization: String,
    pub(super) total: String,
}

impl Criteria {
    pub(super) fn new(physics: &Physics, core: f64) -> Self {
        let criteria = physics.criteria;
        let (above, carburized) = (&criteria.total_above_core.value, &criteria.carburization.value);
        let visible = &criteria.visible.value;
        Self {
            visible: format!(
                "visible case depth ({:.2} %C; {:.2}-{:.2})",
                visible.best().wt_percent(),
                visible.low().wt_percent(),
                visible.high().wt_percent()
            ),
            carburization: format!("carburization depth ({:.2} %C)", carburized.wt_percent()),
            total: format!(
                "total case depth (core + {:.2} = {:.2} %C)",
                above.wt_percent(),
                core + above.wt_percent()
            ),
        }
    }
}

fn weighed(coupon: &Coupon) -> Option<Line> {
    let grams = |m: Option<Mass>| m.map(Mass::grams);
    let gain = (grams(coupon.mass_after)? - grams(coupon.mass_before)?) * 1e3;
    let per_surface =
        coupon.gain_g_per_m2().map_or_else(String::new, |gain| format!("= {}", MASS_GAIN.one(gain)));
    Some(Line { label: "mass gain weighed".into(), value: MILLIGRAMS.one(gain), range: per_surface })
}

fn heat(stage: &StagePrediction) -> Section {
    let lines = [
        line(stage, Reading::TopTemperature, "top temperature of the steel", CELSIUS),
        line(stage, Reading::EquivalentMinutes, "as a steady soak at that temperature", MINUTES),
    ];
    Section { heading: "Heat".into(), lines: lines.into_iter().flatten().collect() }
}

pub(super) fn edge(run: &Run, stage: &StagePrediction) -> Option<Section> {
    let piece = run.piece?;
    let thickness = piece.edge_thickness?;
    let off = piece.metal_off.unwrap_or(Depth::ZERO);
    let bevels = match piece.bevels {
        Some(Bevels::One) => "one bevel",
        Some(Bevels::Both) => "both bevels",
        None => "bevels not said, taken as both",
    };
    Some(Section {
        heading: format!(
            "Finished edge of {}: {} thick at the soak, {} off each side, {bevels}",
            piece.what,
            DEPTH.one(thickness.millimetres()),
            DEPTH.one(off.millimetres()),
        ),
        lines: edge_lines(piece, stage),
    })
}

/// Carbon of the finished edge and of the faces behind it; none if the edge's thickness is not told.
pub(super) fn edge_lines(piece: &Piece, stage: &StagePrediction) -> Vec<Line> {
    let which = match piece.bevels {
        Some(Bevels::One) => "carbon at the edge (the face not ground)",
        _ => "carbon at the edge (middle of the section)",
    };
    let faces = match piece.metal_off {
        Some(off) => format!("carbon at the ground faces ({} off)", DEPTH.one(off.millimetres())),
        None => "carbon at the faces (nothing ground off yet)".into(),
    };
    let lines = [line(stage, Reading::Edge, which, CARBON), line(stage, Reading::GroundFace, faces, CARBON)];
    lines.into_iter().flatten().collect()
}

fn by_stage(prediction: &Prediction) -> Section {
    let lines = prediction
        .stages
        .iter()
        .enumerate()
        .map(|(i, stage)| {
            let best = |r| stage.readings.get(&r).map_or(0.0, |s| s.interval.best());
            Line {
                label: format!("{}. after {}", i + 1, stage.stage.name()),
                value: format!("{} surface", CARBON.one(best(Reading::Surface))),
                range: total(stage),
            }
        })
        .collect();
    let which = if prediction.drawn.is_empty() { "best" } else { "middle" };
    Section { heading: format!("Stage by stage ({which} values)"), lines }
}

fn total(stage: &StagePrediction) -> String {
    match line(stage, Reading::Total, "", DEPTH) {
        Some(l) if l.value == THROUGH => "cased through".into(),
        Some(l) => format!("{} total", l.value),
        None => String::new(),
    }
}

/// The visible case depth over the runs that were drawn.
fn distribution(stage: &StagePrediction) -> Option<&Distribution> {
    stage.readings.get(&Reading::Visible)?.drawn.as_ref()
}

/// What the numbers of a line are, and how near they are to what more draws would give.
fn ranges(prediction: &Prediction, stage: &StagePrediction) -> String {
    match distribution(stage) {
        None => "Best value, then the range it should lie in nine times out of ten (judged).".into(),
        Some(visible) => format!(
            "Middle of {} runs drawn from all that is not known exactly (seed {SEED}), then the range that nine in ten \
             of them lie in. Half of them have a visible case depth of {}. More draws would move its numbers by about \
             {}; what is drawn from is judged.",
            prediction.drawn.iter().flatten().count(),
            DEPTH.range(&visible.half),
            DEPTH.fine(visible.error),
        ),
    }
}

fn doubts(stage: &StagePrediction) -> Vec<Line> {
    /// Shares under this are not worth a line.
    const LEAST_SHARE: f64 = 0.01;
    if let Some(visible) = distribution(stage) {
        let told = visible.shares.iter().filter(|share| share.of_variance >= LEAST_SHARE);
        return told
            .map(|share| Line {
                label: doubt(share.doubt).into(),
                value: format!("{:.0} %", 100.0 * share.of_variance),
                range: String::new(),
            })
            .collect();
    }
    let Some(spread) = stage.readings.get(&Reading::Visible) else { return Vec::new() };
    let effects = spread.effects.iter();
    effects
        .map(|e| Line {
            label: doubt(e.doubt).into(),
            value: DEPTH.effect(e.down, e.up),
            range: String::new(),
        })
        .collect()
}

/// The largest doubt, what would be left without it, and what would tell.
fn most_of_the_doubt(visible: &Distribution) -> Option<String> {
    let first = visible.shares.first()?;
    Some(format!(
        "Shares of the variance that each makes alone. Were the first known, the range would be {:.0} % as wide: {}.",
        100.0 * first.left_without(),
        what_tells(first.doubt)
    ))
}

/// What a soak is told by, beside its heat.
pub(super) struct Grounds<'a> {
    pub(super) compound: &'a Compound,
    pub(super) choice: &'a ModelChoice,
    pub(super) thermometer: &'a Thermometer,
}

pub(super) fn rests_on(
    prediction: &Prediction,
    grounds: &Grounds,
    physics: &Physics,
    sources: &[Source],
) -> Vec<String> {
    let Grounds { compound, choice, thermometer } = *grounds;
    let by_hand = |text: String| format!("{text} (set by hand)");
    let potential = match prediction.story.inputs.potential {
        Potential::ShareOfAcm(share) => format!("carbon potential {share:.2} of Acm"),
        Potential::Leaking { share, co2 } => {
            format!("carbon potential {share:.2} of Acm, {co2:.1} times the CO2 of a tight pack")
        }
        Potential::Fixed(wt) => format!("carbon potential {}", CARBON.one(wt)),
    };
    let potential = if choice.potential.is_some() {
        by_hand(potential)
    } else {
        cite(&format!("{potential}, {}", compound.name), &compound.share_of_acm, sources)
    };
    let transfer = if prediction.story.inputs.transfer.is_finite() {
        format!("transfer coefficient {:.1e} m/s", prediction.story.inputs.transfer)
    } else {
        "surface held at the potential".into()
    };
    let transfer = if choice.transfer.is_some() || choice.surface == Some(SurfaceChoice::Held) {
        by_hand(transfer)
    } else {
        cite(&transfer, &compound.transfer, sources)
    };
    let cooling = match prediction.story.inputs.cooling_law {
        CoolingLaw::GivesNothingBack => "in a cooling pack the surface gives nothing back",
        CoolingLaw::FollowsAcm => "in a cooling pack the surface follows Acm down",
    };
    let cooling = match choice.cooling {
        Some(_) => by_hand(cooling.into()),
        None => format!("{cooling} (judgement)"),
    };
    let names = Criteria::new(physics, prediction.story.inputs.core);
    let mut list = vec![
        cite(&format!("diffusivity {}", physics.law.name), &physics.law.form, sources),
        cite("Acm(T)", &physics.phase.acm, sources),
        potential,
        transfer,
        cooling,
        cite(&names.total, &physics.criteria.total_above_core, sources),
        cite(&names.carburization, &physics.criteria.carburization, sources),
        cite(&names.visible, &physics.criteria.visible, sources),
        cite("thermometer error", &thermometer.error, sources),
    ];
    if prediction.path.lags() {
        list.push(cite("heat through the compound, pore size", &compound.thermal.pore, sources));
    }
    list
}

/// "what: author (year), place; status". Titles stand in `models/sources.toml`.
pub(super) fn cite<T>(what: &str, value: &Sourced<T>, sources: &[Source]) -> String {
    let by = match sources.iter().find(|s| s.key == value.source) {
        Some(s) if s.key != OWN_JUDGEMENT => format!("{} ({}), ", few(&s.author), s.year),
        _ => String::new(),
    };
    format!("{what}: {by}{}; {}", value.place, value.status.word())
}

/// Key of this project's own judgements in `models/sources.toml`.
const OWN_JUDGEMENT: &str = "snapspark";

/// Up to two authors, or the first "et al.".
fn few(authors: &str) -> String {
    let names: Vec<&str> = authors.split(", ").collect();
    if names.len() > 2 { format!("{} et al.", names[0]) } else { authors.to_string() }
}
