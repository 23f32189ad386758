use super::super::number::{CELSIUS, DEPTH, HRC, MASS_GAIN, size};
use super::clock::duration;
use crate::crosscheck::{Hard, Hardening};
use crate::diffusion::Scaled;
use crate::plan::{Begins, Intent, SoakPlan, Tables};
use crate::prediction::{Reading, Spread, StagePrediction};
use crate::soak::WitnessMetal;
use crate::sources::Status;
use crate::steel::{CarbonBand, Coupon};
use crate::units::{CarbonPercent, Interval};

/// Witnesses, coupon and spy.
pub(super) fn list(intent: &Intent, plan: &SoakPlan) -> Vec<String> {
    let mut list = Vec::new();
    if plan.begins != Begins::RestOfSoak {
        list.extend(witnesses(intent, plan));
        list.push(format!(
            "Coupon: of the same bar, {} thick or more, so that it keeps a soft core; long enough to snap twice. Pack it \
             beside the piece. Weigh it before ({}, so a balance of 1 mg is needed). Keep a blank, the same size and not \
             packed, to quench and snap beside it.",
            size(plan.coupon.millimetres()),
            gains(intent, plan)
        ));
    }
    if let Some(spy) = &plan.spy {
        list.push(format!(
            "Spy: a rod of the same bar through a snug hole in the lid. Pull it {} into the hold, quench it in water, \
             snap it, plug the hole with clay. It should show {}. If it shows less, hold longer: \
             `snapspark plan --from RUN.toml --go-on --reach ...` says how long.",
            duration(spy.after.minutes()),
            rim(&spy.shows)
        ));
    }
    list
}

/// What the coupon will gain: on its own surface, where that is known.
fn gains(intent: &Intent, plan: &SoakPlan) -> String {
    let gain = plan.prediction.last().readings.get(&Reading::MassGain).map(|s| s.interval);
    let gain = gain.unwrap_or_else(|| Interval::exact(0.0));
    let Some(area) = intent.weighed.as_ref().and_then(Coupon::packed_area) else {
        return format!(
            "{:.0} mg will be gained on each 10 cm² of its surface, 2 (l w + l t + w t)",
            // 1 g/m² is 1 mg on 10 cm²
            gain.best()
        );
    };
    // g/m² x m², in mg
    let [low, best, high] = [gain.low(), gain.best(), gain.high()].map(|g| g * area * 1e3);
    format!("{best:.0} mg, {low:.0} to {high:.0}, will be gained on its {:.1} cm²", area * 1e4)
}

/// The pair that brackets the heat, and what it proves.
fn witnesses(intent: &Intent, plan: &SoakPlan) -> Option<String> {
    let pair = &plan.witnesses;
    let heat = CELSIUS.one(intent.temperature.celsius());
    let name = |metal: &WitnessMetal| {
        let alias = metal.aliases.first().map(|a| format!(", {a}")).unwrap_or_default();
        let range = format!(
            "{:.0} to {}",
            metal.solidus.value.best().celsius(),
            CELSIUS.one(metal.liquidus.value.best().celsius())
        );
        let memory = if metal.solidus.status == Status::Memory { ", from memory" } else { "" };
        let one = metal.solidus.value == metal.liquidus.value;
        let range = if one { CELSIUS.one(metal.solidus.value.best().celsius()) } else { range };
        format!("{}{alias} ({range}{memory})", metal.name)
    };
    let (melts, stays) = (pair.melts.as_ref().map(name), pair.stays.as_ref().map(name));
    let proves = match pair.bracket() {
        (Some(low), Some(high)) => format!("{low:.0} to {}", CELSIUS.one(high)),
        (Some(low), None) => format!("{} at least", CELSIUS.one(low)),
        (None, Some(high)) => format!("less than {}", CELSIUS.one(high)),
        (None, None) => return None,
    };
    let pieces = [melts.map(|m| format!("{m} must melt")), stays.map(|s| format!("{s} must keep its shape"))];
    let pieces: Vec<String> = pieces.into_iter().flatten().collect();
    Some(format!(
        "Witnesses, beside the steel, each a crumb in its own clay dimple: {}. If both do, \
         the steel's hottest was {proves}, for a planned {heat}. A second pair at the wall tells a late heat-through \
         from a cold fire.",
        pieces.join("; ")
    ))
}

/// What the coupon should show if all goes well.
pub(super) fn shows(intent: &Intent, plan: &SoakPlan, tables: &Tables) -> Vec<String> {
    let last = plan.prediction.last();
    let best = |reading| last.readings.get(&reading).map_or(0.0, |s| s.interval.best());
    let mut list = vec!["Skin: light grey. Dark, flaking scale means that air got in.".to_string()];
    let band = |wt: f64| CarbonPercent::new(wt).map(CarbonBand::of);
    if let (Some(surface), Ok(band)) = (last.readings.get(&Reading::Surface), band(best(Reading::Surface))) {
        let band = match band.edges() {
            (low, Some(high)) => format!("{low:.2} to {high:.2} %C"),
            (low, None) => format!("{low:.2} %C or more"),
        };
        list.push(format!(
            "Sparks, soft, one light touch beside the soft stock: bushy, as of steel with {band} (surface {:.2} to \
             {:.2} %C), and plainer with every touch deeper.",
            surface.interval.low(),
            surface.interval.high()
        ));
    }
    list.push(format!("Fracture, quenched from just past the magnet in water, beside the blank: {}, fine and silky round a fibrous core; none on the blank.", rim(last)));
    if let Some(file) = file(intent, tables, best(Reading::Surface)) {
        list.push(file);
    }
    if let Some(gain) = last.readings.get(&Reading::MassGain) {
        list.push(format!(
            "Weight, cooled in the closed pack and brushed, before any other heat: {} gained on each 10 cm² of packed \
             surface. {:.0} min of open air at {} would add {:.0} mg of oxygen there: then it says nothing.",
            // 1 g/m² is 1 mg on 10 cm²
            MASS_GAIN.range(&gain.interval).replace("g/m²", "mg"),
            tables.need.open_air_time.value.minutes(),
            CELSIUS.one(tables.need.open_air.value.celsius()),
            oxygen(tables)
        ));
    }
    list
}

/// Oxygen that a short heat in open air binds on 10 cm², mg.
fn oxygen(tables: &Tables) -> f64 {
    let (heat, time) = (tables.need.open_air.value.kelvin(), tables.need.open_air_time.value.seconds());
    let scaled = tables.rules.heats.scaling.after(Scaled::default(), &[(0.0, heat), (time, heat)]);
    // g/cm² on 10 cm², in mg
    scaled.oxygen * 10.0 * 1e3
}

/// What a mill file does to it, quenched.
fn file(intent: &Intent, tables: &Tables, surface: f64) -> Option<String> {
    let (hardness, need) = (tables.hardness, tables.need);
    let alloy = need.alloy(intent.stock.manganese);
    let hardening = Hardening { hardness, phase: tables.physics.phase, alloy };
    let Hard::At(hrc) = hardening.quenched(surface, need.hardening.value.best(), need.martensite.value)
    else {
        return None;
    };
    let (low, high) = hrc.nine_in_ten();
    let file = hardness.file("mill file")?;
    let skates = hrc.best >= file.undecided.value.best().points();
    let does = if skates { "skates on it" } else { "may bite it" };
    Some(format!(
        "File: a new mill file {does}, {low:.0} to {} by carbon ({:.0} % martensite).",
        HRC.one(high),
        need.martensite.value * 100.0
    ))
}

/// "a rim of 0.42 mm (0.30 to 0.53) that an eye sees".
fn rim(stage: &StagePrediction) -> String {
    let depth = |spread: &Spread| match (spread.through.best, spread.through.high) {
        (true, _) => "a rim that goes through".to_string(),
        (false, true) => {
            format!(
                "a rim of {} (from {} to all through)",
                DEPTH.one(spread.interval.best()),
                DEPTH.one(spread.interval.low())
            )
        }
        (false, false) => format!("a rim of {}", DEPTH.with_range(&spread.interval)),
    };
    stage.readings.get(&Reading::Visible).map_or_else(|| "a rim".into(), depth)
}
