use super::super::note::doubt;
use super::super::number::{CELSIUS, MINUTES};
use super::super::soak::{Line, Section};
use crate::plan::{Begins, Clock, Intent, Needed, SoakPlan};
use crate::prediction::Doubt;
use crate::units::{Interval, Time};

/// "50 min", "2 h 30 min"; from four hours on to 5 min.
pub(in crate::report) fn duration(minutes: f64) -> String {
    let whole = if minutes < 240.0 { minutes.round() } else { (minutes / 5.0).round() * 5.0 } as i64;
    match (whole / 60, whole % 60) {
        (0, min) => format!("{min} min"),
        (1, min) => format!("{} min", 60 + min),
        (h, 0) => format!("{h} h"),
        (h, min) => format!("{h} h {min:02} min"),
    }
}

/// The furnace's clock.
pub(super) fn section(intent: &Intent, plan: &SoakPlan) -> Section {
    let Clock { heat_up, heat_up_guessed, steel_there, hold, cooling, whole } = &plan.clock;
    let heat = CELSIUS.one(intent.temperature.celsius());
    let mut lines = Vec::new();
    if let Some(up) = heat_up {
        let label =
            format!("lighting to {heat}{}", if *heat_up_guessed { " (a guess: time it)" } else { "" });
        lines.push(line(label, MINUTES.one(up.best()), ranged(up)));
    }
    lines.push(line("hold, by the thermometer", MINUTES.one(*hold), String::new()));
    let there = match steel_there {
        Some(0.0) => "at once".into(),
        Some(minutes) => MINUTES.one(*minutes),
        None => "not within it".into(),
    };
    if plan.begins != Begins::RestOfSoak {
        lines.push(line("of it, until the steel is at heat too", there, String::new()));
    }
    lines.push(line(
        "in the closed pack until it may be opened",
        MINUTES.one(cooling.best()),
        ranged(cooling),
    ));
    lines.push(line("in all", MINUTES.one(whole.best()), ranged(whole)));
    Section { heading: "The clock".into(), lines }
}

fn line(label: impl Into<String>, value: String, range: String) -> Line {
    Line { label: label.into(), value, range }
}

fn ranged(range: &Interval<f64>) -> String {
    if range.is_exact() { String::new() } else { MINUTES.range(range) }
}

/// Hotter and colder: the first row names the columns.
pub(super) fn heats(plan: &SoakPlan) -> Vec<[String; 4]> {
    let aimed = format!("{:.0} in 10", plan.aimed * 10.0);
    let head = ["at".into(), format!("hold for {aimed}"), "even chance (nine in ten)".into(), "grain".into()];
    let mut rows = vec![head];
    for row in &plan.rows {
        let grain = if row.grain_grows { "grows" } else { "holds" };
        let (hold, even) = match &row.needed {
            Some(needed) => (
                needed.planned(plan.aimed).map_or("too long".into(), |t| duration(t.minutes())),
                even(needed),
            ),
            None => ("too long".into(), String::new()),
        };
        rows.push([CELSIUS.one(row.temperature.celsius()), hold, even, grain.into()]);
    }
    rows
}

fn even(needed: &Needed) -> String {
    let (low, high) = needed.nine_in_ten();
    let high = high.map_or("too long".into(), |t| duration(t.minutes()));
    format!("{} ({} to {high})", duration(needed.best().minutes()), duration(low.minutes()))
}

/// What each doubt alone does to the hold, the largest first.
pub(super) fn doubts(plan: &SoakPlan) -> Vec<Line> {
    let told = |(which, shortest, longest): &(Doubt, Time, Option<Time>)| {
        let longest = longest.map_or("too long".into(), |t| duration(t.minutes()));
        let what = match which {
            Doubt::TimeAtHeat => "how long it takes to heat up",
            which => doubt(*which),
        };
        line(what, format!("{} to {longest}", duration(shortest.minutes())), String::new())
    };
    plan.needed.effects.iter().map(told).collect()
}
