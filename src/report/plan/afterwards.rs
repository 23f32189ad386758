use super::super::check::medium;
use super::super::number::{CARBON, CELSIUS, DEPTH, HRC, size};
use crate::crosscheck::{CRACKS_MM, Need};
use crate::plan::{Afterwards, Heat, Stage};
use crate::steel::QuenchMedium;
use crate::units::Interval;

/// The stages, one row each: what, skin, richest, must come off, may come off. The first row names the columns.
pub(in crate::report) fn stages(after: &Afterwards) -> Vec<[String; 5]> {
    let head = ["", "skin %C", "richest %C", "must off, mm", "may off, mm"].map(String::from);
    let mut rows = vec![head, row("from the pack".into(), &after.packed)];
    for heat in &after.heats {
        let name = if heat.refines { "refine" } else { "harden" };
        let at = format!("{:.0} min at {}", heat.minutes, CELSIUS.one(heat.celsius));
        rows.push(row(format!("{name}, {at}, foil"), &heat.kept_from_air));
        rows.push(row("  the same in open air".into(), &heat.in_air));
    }
    rows
}

fn row(what: String, stage: &Stage) -> [String; 5] {
    let off = |mm: &Option<Interval<f64>>| mm.as_ref().map_or("-".into(), |mm| DEPTH.bare_with_range(mm));
    [
        what,
        CARBON.bare(stage.skin),
        CARBON.bare(stage.richest),
        off(&stage.must_come_off),
        off(&stage.may_come_off),
    ]
}

/// What the columns mean.
pub(in crate::report) fn off_each_side(after: &Afterwards, need: &Need) -> String {
    let hard = after.wanted_hrc.map_or_else(String::new, |hrc| {
        format!(
            " ({} after {:.0} h at {}, if all became martensite)",
            HRC.one(hrc),
            need.temper_time.value.minutes() / 60.0,
            CELSIUS.one(need.temper.value.celsius())
        )
    });
    format!(
        "Off each side: what must come off before {}{hard} is at the surface, and what may before it is gone. Open air is \
         taken at its worst (a skin bare of carbon, scale counted off); foil, or a box with charcoal, only lets the case \
         spread.{}",
        CARBON.one(after.wanted),
        if after.one_face {
            " That is of the packed face: the other has the carbon of the stock."
        } else {
            ""
        }
    )
}

/// What they mean, and how to go on.
pub(in crate::report) fn words(after: &Afterwards, need: &Need) -> Vec<String> {
    let mut list = vec![off_each_side(after, need)];
    list.extend(after.heats.iter().filter_map(|heat| lost(heat, after)));
    list.extend(apex(after));
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
    let hardened = after.as_advised()?;
    let bites: Vec<String> = hardened
        .files
        .iter()
        .map(|f| {
            let (from, to) = (f.skates_to.low() * SLOPE, f.bites_from.high() * SLOPE);
            let likely = f64::midpoint(f.skates_to.best(), f.bites_from.best()) * SLOPE;
            let name = if f.file.chars().all(|c| c.is_ascii_digit()) { "file " } else { "a " };
            format!("{name}{} near {likely:.0} mm ({from:.0} to {to:.0})", f.file)
        })
        .collect();
    let quenched = hardened.medium.map_or_else(String::new, |m| format!(", quenched in {}", medium(m)));
    (!bites.is_empty()).then(|| {
        format!(
            "Depth by file, on a coupon as thick as this{quenched}: grind a taper of 1 in {SLOPE:.0} wet, draw the files along \
             it; depth is the length to the first bite over {SLOPE:.0}. Untempered they should begin to bite (all doubts \
             taken in): {}.",
            bites.join(", ")
        )
    })
}

/// The finished edge after all heats.
fn apex(after: &Afterwards) -> Option<String> {
    let carbon = after.apex.as_ref()?;
    let wants = CARBON.one(after.wanted);
    let holds = match (carbon.low() >= after.wanted, carbon.best() >= after.wanted) {
        (true, _) => format!("{wants} or more in every story"),
        (false, true) => format!("{wants} is likely there, not surely"),
        (false, false) => {
            format!("less than the {wants} that it wants, whatever comes off: soak longer or start thinner")
        }
    };
    Some(format!(
        "The finished edge itself, after these heats in foil: {}: {holds}.",
        CARBON.with_range(carbon)
    ))
}

/// What an open-air heat costs, where it costs the case.
fn lost(heat: &Heat, after: &Afterwards) -> Option<String> {
    let name = if heat.refines { "refining heat" } else { "heat to harden" };
    let scaled = format!("{:.0} µm of metal turn into scale", heat.in_air.scaled * 1e3);
    match (&heat.kept_from_air.may_come_off, heat.in_air.must_come_off.zip(heat.in_air.may_come_off)) {
        (None, _) => None,
        (Some(_), None) => Some(format!(
            "One {name} in open air may leave no {} anywhere ({scaled}): keep it from air.",
            CARBON.one(after.wanted)
        )),
        (Some(may), Some((must, left))) => Some(format!(
            "One {name} in open air: then {} must come off each side and no more than {} may ({} if it is kept from air); \
             {scaled}.{}",
            DEPTH.one(must.best()),
            DEPTH.one(left.best()),
            DEPTH.one(may.best()),
            if heat.in_air.surely { "" } else { " By some of the doubts it leaves too little anywhere." }
        )),
    }
}

/// What a bath leaves, in this section.
fn keeps(after: &Afterwards, mm: &Interval<f64>) -> String {
    match (mm.best() > 0.0, mm.high() > 0.0) {
        _ if is_through(after, mm) => "50 HRC or more all through".into(),
        (true, _) => format!("50 HRC down to {}", DEPTH.with_range(mm)),
        (false, true) => format!("under 50 HRC, or 50 HRC down to {} at most", DEPTH.one(mm.high())),
        (false, false) => "under 50 HRC all through".into(),
    }
}

fn is_through(after: &Afterwards, mm: &Interval<f64>) -> bool {
    mm.low() >= after.packed.profile.extent() * 1e3 - 1e-6
}

/// What to quench in, and what the others would do.
fn quench(after: &Afterwards) -> String {
    let section = after.thickness.map_or_else(
        || "a section of unknown thickness, taken as thin".to_string(),
        |mm| format!("a section of {}", size(mm)),
    );
    let thin = after.thickness.is_none_or(|mm| mm < CRACKS_MM);
    let depth = |m: QuenchMedium| after.hardened.iter().find(|h| h.medium == Some(m)).map(|h| &h.effective);
    let oil = depth(QuenchMedium::Oil);
    let through = |mm: &Interval<f64>| is_through(after, mm);
    let keeps = |mm: &Interval<f64>| keeps(after, mm);
    let why = match (after.medium, thin, oil) {
        (QuenchMedium::Oil, _, Some(mm)) if through(mm) => format!(
            "oil leaves {}; water cracks thin edges of 0.6 %C and more",
            keeps(mm)
        ),
        (QuenchMedium::Oil, _, Some(mm)) => format!(
            "oil leaves {}. Deeper the case comes out slack, so the rim looks shorter than it is. Water cracks thin edges of \
             0.6 %C and more",
            keeps(mm)
        ),
        (QuenchMedium::Oil, _, None) => {
            "oil hardens the rich part of the case; the lower half, under about 0.5 %C, may stay slack, so the rim looks \
             shorter than it is. Water cracks thin edges of 0.6 %C and more"
                .into()
        }
        (_, true, _) => format!(
            "oil may leave it slack{}, water may crack it: try a file on a coupon quenched in oil first; if it skates, oil is \
             enough",
            oil.map_or_else(String::new, |mm| format!(" ({})", keeps(mm)))
        ),
        (_, false, _) => {
            let oil = oil.map_or_else(String::new, |mm| format!(" ({})", keeps(mm)));
            let wet = depth(after.medium).map_or_else(String::new, |mm| format!("; water leaves {}", keeps(mm)));
            format!("oil would leave it slack{oil}{wet}. Edge first, straight down, and move it")
        }
    };
    format!("Quench {section} in {}: {why}.", medium(after.medium))
}
