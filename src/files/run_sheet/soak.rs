use super::fault::Fault;
use super::field::Field;
use super::read::cannot_read;
use super::section::Section;
use super::steps;
use crate::files::Models;
use crate::files::log_csv::{self, LogUnits, TemperatureUnit, TimeUnit};
use crate::files::problem::shown;
use crate::soak::{
    Cooled, HeatEvidence, SoakLog, SoakRecord, StageKind, Step, ThermometerPlace, WitnessPlace,
    WitnessReading,
};
use crate::units::{Interval, Temperature};
use std::io;

const THERMOMETERS: [(&str, ThermometerPlace); 5] = [
    ("beside the steel", ThermometerPlace::BesideSteel),
    ("in the pack", ThermometerPlace::InPack),
    ("outside", ThermometerPlace::Outside),
    ("by eye", ThermometerPlace::Eye),
    ("outside the container", ThermometerPlace::Outside),
];
const COOLED: [(&str, Cooled); 3] = [
    ("in the closed pack", Cooled::ClosedPack),
    ("opened hot", Cooled::OpenedHot),
    ("quenched from the heat", Cooled::QuenchedFromHeat),
];
const WITNESS_PLACES: [(&str, WitnessPlace); 2] =
    [("beside the steel", WitnessPlace::BesideSteel), ("at the wall", WitnessPlace::AtWall)];
/// A soak has at most this many steps.
const MOST_STEPS: usize = 200;
/// The three ways to tell a heat, for messages.
const WAYS: &str = "\
write one of: log = \"soak.csv\"
              steps = [\"20 min to 925C\", \"hold 75 min\", \"cool in pack\"]
              time_at_heat = \"75 min\" and a colour, temperature or witness";

/// Reads `[soak]`; `None` after noting why there is no heat to go by.
pub(super) fn read(
    section: &mut Section<'_>,
    folder_reader: &dyn Fn(&str) -> io::Result<Vec<u8>>,
) -> Option<SoakRecord> {
    section.list_in_order(&[
        "log",
        "log_time_unit",
        "log_temperature_unit",
        "steps",
        "time_at_heat",
        "heat_up",
    ]);
    let witnesses: Vec<_> = section.each("witness", witness).into_iter().flatten().collect();
    let told_by_witness = section.take("witness").is_some();
    let by_eye = section.take("colour").is_some();
    let evidence = evidence(section, told_by_witness, folder_reader);
    let place = section.take("thermometer").and_then(|f| f.word(&THERMOMETERS));
    let place = place.unwrap_or(if by_eye { ThermometerPlace::Eye } else { ThermometerPlace::Unknown });
    let cooled_field = section.take("cooled");
    let cooled = cooled_field.as_ref().and_then(|f| f.word(&COOLED));
    let furnace = section.take("furnace");
    let furnace = furnace.and_then(|f| f.short("a furnace's name").map(|name| name.trim().to_string()));
    let furnace = furnace.filter(|name| !name.is_empty());
    let evidence = evidence?;
    let shown = cooling_shown_by(&evidence);
    if let (Some(field), Some(said), Some(shown)) = (cooled_field, cooled, shown)
        && said != shown
    {
        let word = |c| COOLED.iter().find(|(_, v)| *v == c).map_or("otherwise", |(w, _)| w);
        field.refuse::<()>(Fault::new(
            format!("cooled \"{}\" here, but \"{}\" by the steps or the log", word(said), word(shown)),
            "take this line out, or mend the steps",
        ));
    }
    let known = section.reading.models.thermometers.iter().find(|t| t.place == place);
    let Some(thermometer) = known.cloned() else {
        section.missing("the program's tables have no thermometer at this place", "");
        return None;
    };
    let cooled = cooled.or(shown).unwrap_or(Cooled::Unknown);
    Some(SoakRecord { evidence, thermometer, witnesses, cooled, furnace })
}

/// Exactly one of log, steps and time at heat.
fn evidence(
    section: &mut Section<'_>,
    told_by_witness: bool,
    folder_reader: &dyn Fn(&str) -> io::Result<Vec<u8>>,
) -> Option<HeatEvidence> {
    let units = LogUnits {
        time: section.take("log_time_unit").and_then(|f| f.word(&TimeUnit::WORDS)),
        temperature: section.take("log_temperature_unit").and_then(|f| f.word(&TemperatureUnit::WORDS)),
    };
    let log_units = section.first_of(&["log_time_unit", "log_temperature_unit"]);
    let of_time = section.first_of(&["colour", "temperature", "heat_up"]);
    let log = section.take("log");
    let steps = section.take("steps");
    let time = section.take("time_at_heat");
    let mut ways: Vec<_> = [&log, &steps, &time].into_iter().flatten().collect();
    ways.sort_by_key(|field| field.at);
    if let [first, second, ..] = ways[..] {
        let first_name = first.path.trim_start_matches("soak.");
        let help = format!("{WAYS}\nthe other lines must go");
        second.refuse::<()>(Fault::new(format!("the heat is told a second time, after {first_name}"), help));
        return None;
    }
    let not_here = |field: Option<Field<'_>>, owner: &str| {
        if let Some(field) = field {
            let name = field.path.trim_start_matches("soak.");
            let help = format!("take this line out, or tell the heat by {owner}");
            field.refuse::<()>(Fault::new(format!("{name} goes only with {owner}"), help));
        }
    };
    if log.is_none() {
        not_here(log_units, "log");
    }
    if let Some(field) = log {
        not_here(of_time, "time_at_heat");
        read_log(&field, units, folder_reader).map(HeatEvidence::Log)
    } else if let Some(field) = steps {
        not_here(of_time, "time_at_heat");
        read_steps(&field).map(HeatEvidence::Steps)
    } else if let Some(field) = time {
        time_at_heat(section, &field, told_by_witness)
    } else {
        section.missing("nothing says how long the steel was at heat", WAYS);
        None
    }
}

fn time_at_heat(section: &mut Section<'_>, time: &Field<'_>, told_by_witness: bool) -> Option<HeatEvidence> {
    let heat_up = section.take("heat_up").map(|f| f.interval());
    let colour = section.take("colour");
    let measured = section.take("temperature");
    if let (Some(_), Some(field)) = (&colour, &measured) {
        field.refuse::<()>(Fault::new(
            "colour and temperature are both given",
            "keep the one that you trust more",
        ));
    }
    let temperature: Option<Option<Interval<Temperature>>> = if let Some(field) = measured {
        Some(field.heat())
    } else {
        colour.map(|f| f.name(Models::colour).map(|colour| colour.temperature.value))
    };
    if temperature.is_none() && !told_by_witness {
        let help = "add temperature = \"900 C\", colour = \"orange\" or a [[soak.witness]]";
        let fault = Fault::new("nothing says how hot it was", help);
        section.reading.missing(time.at, &time.path, fault);
        return None;
    }
    let time = time.interval();
    Some(HeatEvidence::TimeAtHeat {
        temperature: settled(temperature)?,
        time: time?,
        heat_up: settled(heat_up)?,
    })
}

/// `Some(None)` is a value that was refused; without a value there is nothing to refuse.
#[allow(clippy::option_option)]
fn settled<T>(value: Option<Option<T>>) -> Option<Option<T>> {
    match value {
        None => Some(None),
        Some(None) => None,
        Some(value) => Some(value),
    }
}

fn read_log(
    field: &Field<'_>,
    units: LogUnits,
    folder_reader: &dyn Fn(&str) -> io::Result<Vec<u8>>,
) -> Option<SoakLog> {
    let name = field.text()?;
    let bytes = match folder_reader(&name) {
        Ok(bytes) => bytes,
        Err(error) => {
            let help = "the name counts from the folder of the run sheet";
            return field.refuse(Fault::new(format!("`{}`: {}", shown(&name), cannot_read(&error)), help));
        }
    };
    match log_csv::read(&bytes, &name, units) {
        Ok((log, warnings)) => {
            for warning in warnings {
                field.reading.add_warning(field.at, warning);
            }
            Some(log)
        }
        Err(problems) => {
            for problem in problems {
                field.reading.add(field.at, problem);
            }
            None
        }
    }
}

fn read_steps(field: &Field<'_>) -> Option<Vec<Step>> {
    let entries: Vec<_> = field.list().into_iter().flatten().collect();
    if entries.is_empty() || entries.len() > MOST_STEPS {
        let help = format!("write 1 to {MOST_STEPS} steps, such as [\"20 min to 925C\", \"hold 75 min\"]");
        return field.refuse(Fault::new(format!("{} steps", entries.len()), help));
    }
    let mut told: Vec<Option<Step>> = Vec::new();
    for entry in &entries {
        let step = entry.short("a step").and_then(|text| entry.settle(steps::read(text)));
        if let Some(fault) = step.as_ref().and_then(|step| out_of_order(step, &told)) {
            entry.refuse::<()>(fault);
        }
        told.push(step);
    }
    told.into_iter().collect()
}

/// A step that cannot follow those `before` it. Steps that were refused are taken as right.
fn out_of_order(step: &Step, before: &[Option<Step>]) -> Option<Fault> {
    let last = match before.last() {
        None => None,
        Some(None) => return None,
        Some(Some(step)) => Some(step),
    };
    let at_heat = matches!(last, Some(Step::HeatTo { .. } | Step::Hold { .. }));
    match step {
        Step::Hold { at: None, .. } if !at_heat => {
            let help = "say it: \"hold 75 min at 925C\", or put \"20 min to 925C\" before it";
            Some(Fault::new("a hold that follows no heating has no temperature", help))
        }
        Step::CoolInPack { .. } | Step::OpenHot if !at_heat => {
            let help = "put the heat before it: \"20 min to 925C\", \"hold 75 min\"";
            Some(Fault::new("this can only follow a heat in the pack", help))
        }
        Step::Quench { .. } if matches!(last, None | Some(Step::Quench { .. })) => Some(Fault::new(
            "there is no heat to quench from",
            "put the heat before it: \"foil 10 min at 850C\"",
        )),
        _ => None,
    }
}

/// How it cooled as far as steps or log tell.
fn cooling_shown_by(evidence: &HeatEvidence) -> Option<Cooled> {
    match evidence {
        HeatEvidence::Steps(steps) => steps.iter().find_map(|step| match step {
            Step::CoolInPack { .. } => Some(Cooled::ClosedPack),
            Step::OpenHot => Some(Cooled::OpenedHot),
            Step::Quench { .. } => Some(Cooled::QuenchedFromHeat),
            _ => None,
        }),
        HeatEvidence::Log(log) => {
            log.points().iter().filter_map(|p| p.stage).find_map(|stage| match stage.kind {
                StageKind::PackCool => Some(Cooled::ClosedPack),
                StageKind::AirCool => Some(Cooled::OpenedHot),
                StageKind::Soak | StageKind::Reheat => None,
            })
        }
        HeatEvidence::TimeAtHeat { .. } => None,
    }
}

/// Reads one `[[soak.witness]]`; `None` if it tells nothing.
fn witness(section: &mut Section<'_>) -> Option<WitnessReading> {
    let metal = section.take("metal");
    let melted = section.take("melted");
    let sat = section.take("sat").map(|f| f.word(&WITNESS_PLACES));
    if metal.is_none() || melted.is_none() {
        let fault = Fault::new(
            "a witness tells something only with its metal and whether it melted: it is left out",
            "add metal = \"...\" and melted = true or false",
        );
        section.warning(fault);
    }
    let metal = metal.map(|f| f.name(Models::metal));
    let melted = melted.map(|f| f.yes_no());
    // Without a place it is taken as at the wall, where it says less about the steel.
    let place = sat.unwrap_or(Some(WitnessPlace::AtWall));
    Some(WitnessReading { metal: metal??, melted: melted??, place: place? })
}
