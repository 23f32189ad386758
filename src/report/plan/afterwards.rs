use super::super::check::medium;
use super::super::number::{CARBON, CELSIUS, DEPTH, HRC, size};
use super::super::soak::Line;
use crate::crosscheck::{CRACKS_MM, Need};
use crate::hardness::CaseHardeningDepth;
use crate::plan::{Afterwards, Heat, Stage};
use crate::steel::QuenchMedium;
use crate::units::Interval;

/// The stages, one row each: what, skin, richest, must come off, may come off. The first row names the columns.
pub(in crate::report) fn stages(after: &Afterwards) -> Vec<[String; 5]> {
    let head = ["", "skin", "richest", "must off", "may off"].map(String::from);
    let mut rows = vec![head, row("from the pack".into(), &after.packed)];
    for heat in &after.heats {
        let name = if heat.refines { "refining heat" } else { "heat to harden" };
        let at = format!("{:.0} min at {}", heat.minutes, CELSIUS.one(heat.celsius));
        rows.push(row(format!("{name}, {at}, in foil"), &heat.kept_from_air));
        rows.push(row("  the same in open air".into(), &heat.in_air));
    }
    rows
}

fn row(what: String, stage: &Stage) -> [String; 5] {
    let off = |mm: Option<f64>| mm.map_or("-".into(), |mm| DEPTH.one(mm));
    [
        what,
        CARBON.one(stage.skin),
        CARBON.one(stage.richest),
        off(stage.must_come_off),
        off(stage.may_come_off),
    ]
}

/// What the columns mean.
pub(in crate::report) fn off_each_side(after: &Afterwards) -> String {
    format!(
        "Off each side: what must come off before {} is at the surface, and what may before it is gone. Open air is taken \
         at its worst (a skin bare of carbon, scale counted off); foil, or a box with charcoal, only lets the case spread.",
        CARBON.one(after.wanted)
    )
}

/// What they mean, and how to go on.
pub(in crate::report) fn words(after: &Afterwards, need: &Need) -> Vec<String> {
    let mut list = vec![off_each_side(after)];
    list.extend(after.heats.iter().filter_map(|heat| lost(heat, after)));
    let heat = &need.hardening.value;
    list.push(format!(
        "Harden from {:.0} to {}. The rim of a cased piece turns to austenite from 725 to 740 °C, the magnet lets go of \
         the core at 770 °C: non-magnetic all over is hot enough for the case. A thin edge that is cased through lets go \
         sooner and overheats first: heat the back first, the edge last.",
        heat.low().celsius(),
        CELSIUS.one(heat.high().celsius())
    ));
    list.push(quench(after));
    let (hours, usual) = (need.temper_time.value.minutes() / 60.0, need.temper.value.celsius());
    let twice = after.same_in_two_hours.map_or_else(String::new, |celsius| {
        format!(
            " {:.0} h at {} does what {hours:.0} h at {} does.",
            2.0 * hours,
            CELSIUS.one(celsius),
            CELSIUS.one(usual)
        )
    });
    list.extend(taper(after));
    list.push(format!(
        "Temper within the hour.{twice} Colours (straw 220 to 238, brown 249 to 260 °C) are a rough check only: a long \
         hold darkens them."
    ));
    list
}

/// Graded files along a taper: depth = length × slope.
fn taper(after: &Afterwards) -> Option<String> {
    /// Slope of the taper: 1 in 20 spreads 0.1 mm over 2 mm.
    const SLOPE: f64 = 20.0;
    let bites: Vec<String> = after
        .files
        .iter()
        .map(|f| {
            let (from, to) = (f.not_above * SLOPE, f.surely_below * SLOPE);
            let name = if f.file.chars().all(|c| c.is_ascii_digit()) { "file " } else { "a " };
            format!("{name}{} from {from:.0} to {to:.0} mm on", f.file)
        })
        .collect();
    (!bites.is_empty()).then(|| {
        format!(
            "Depth by file, on a quenched coupon: grind a taper of 1 in {SLOPE:.0} wet, draw the files along it; depth is \
             the length to the first bite over {SLOPE:.0}. Untempered they should begin to bite: {}.",
            bites.join(", ")
        )
    })
}

/// What an open-air heat costs, where it costs the case.
fn lost(heat: &Heat, after: &Afterwards) -> Option<String> {
    let name = if heat.refines { "refining heat" } else { "heat to harden" };
    let scaled = format!("{:.0} µm of metal turn into scale", heat.in_air.scaled * 1e3);
    match (heat.kept_from_air.may_come_off, heat.in_air.must_come_off.zip(heat.in_air.may_come_off)) {
        (None, _) => None,
        (Some(_), None) => Some(format!(
            "One {name} in open air may leave no {} anywhere ({scaled}): keep it from air.",
            CARBON.one(after.wanted)
        )),
        (Some(may), Some((must, left))) => Some(format!(
            "One {name} in open air: then {} must come off each side and no more than {} may ({} if it is kept from air); \
             {scaled}.",
            DEPTH.one(must),
            DEPTH.one(left),
            DEPTH.one(may)
        )),
    }
}

/// What to quench in, and what the others would do.
fn quench(after: &Afterwards) -> String {
    let section = after.thickness.map_or_else(
        || "a section of unknown thickness, taken as thin".to_string(),
        |mm| format!("a section of {}", size(mm)),
    );
    let thin = after.thickness.is_none_or(|mm| mm < CRACKS_MM);
    let why = match (after.medium, thin) {
        (QuenchMedium::Oil, _) => {
            "oil hardens the rich part of the case; the lower half, under about 0.5 %C, may stay slack, so the rim looks \
             shorter than it is. Water cracks thin edges of 0.6 %C and more"
        }
        (_, true) => {
            "oil may leave it slack, water may crack it: try a file on a coupon quenched in oil first; if it skates, oil \
             is enough"
        }
        (_, false) => "oil would leave much of the case slack; edge first, straight down, and move it",
    };
    format!("Quench {section} in {}: {why}.", medium(after.medium))
}

/// Hardness as quenched against depth, and after tempers.
pub(in crate::report) fn hardness(after: &Afterwards, need: &Need) -> Vec<Line> {
    let mut lines: Vec<Line> = after
        .against_depth
        .iter()
        .map(|(mm, hrc)| {
            let label =
                if *mm == 0.0 { "as quenched, at the skin".into() } else { format!("  {} down", size(*mm)) };
            hard(label, hrc.as_ref())
        })
        .collect();
    let effective = after.effective.map_or("none".into(), |mm| DEPTH.one(mm));
    lines.push(Line {
        label: "effective case depth (50 HRC), as quenched".into(),
        value: effective,
        range: String::new(),
    });
    let (value, range) = match &after.case_hardening {
        CaseHardeningDepth::Stands { depth, .. } => (DEPTH.one(depth.best().millimetres()), String::new()),
        CaseHardeningDepth::NotReached => ("none".into(), String::new()),
        CaseHardeningDepth::DoesNotApply { .. } => ("none".into(), "too hard further in".into()),
    };
    lines.push(Line { label: "case hardening depth (550 HV), as quenched".into(), value, range });
    let hours = need.temper_time.value.minutes() / 60.0;
    lines.extend(after.tempers.iter().map(|(celsius, hrc)| {
        hard(format!("the richest of it after {hours:.0} h at {}", CELSIUS.one(*celsius)), hrc.as_ref())
    }));
    lines
}

fn hard(label: String, hrc: Option<&Interval<f64>>) -> Line {
    match hrc {
        Some(hrc) => Line { label, value: HRC.one(hrc.best()), range: HRC.range(hrc) },
        None => Line { label, value: "under 20 HRC".into(), range: String::new() },
    }
}
