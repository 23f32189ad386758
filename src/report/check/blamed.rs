use super::{CauseLine, CauseList};
use crate::crosscheck::{Blamed, CrossCheck, Fits, Mistaken, Move};
use crate::report::number::{CARBON, CELSIUS, DEPTH, MINUTES, of_100};

/// Share from which a cause is shown although all fits (judgement).
const WORTH_KNOWING: f64 = 0.2;
/// Share under which a cause is not shown at all (judgement).
const LEAST: f64 = 0.05;
/// Most causes shown.
const MOST: usize = 3;
/// Carbon from which an edge of a rim means that no rim shows, %C: no case is that rich.
const NO_RIM: f64 = 1.5;

/// What explains it best.
pub(super) fn causes(check: &CrossCheck) -> CauseList {
    let least = match check.fits {
        Fits::Less | Fits::More | Fits::Contradicts => LEAST,
        Fits::Yes | Fits::CannotTell => WORTH_KNOWING,
    };
    let list: Vec<CauseLine> =
        check.causes.iter().filter(|b| b.share >= least).take(MOST).map(line).collect();
    let rest = if check.agreements.is_empty() && list.is_empty() {
        "Nothing was seen that would need explaining.".into()
    } else if list.is_empty() {
        "Nothing needs explaining: the usual doubts of such a run are enough.".into()
    } else {
        format!(
            "No fault but the usual doubts: {}. The shares are judged weights, not measured chances.",
            of_100(check.usual)
        )
    };
    CauseList { heading: "What explains it best", list, rest }
}

fn line(blamed: &Blamed) -> CauseLine {
    let word = match blamed.share {
        s if s >= 0.5 => "likely",
        s if s >= WORTH_KNOWING => "may well be",
        _ => "possible",
    };
    let change = change(&blamed.change);
    let change = if change.is_empty() { String::new() } else { format!(": {}", change.join(", ")) };
    CauseLine {
        what: format!("{} ({word}, {}){change}", blamed.cause.name, of_100(blamed.share)),
        tells_apart: blamed.cause.tells_apart.clone(),
        next: format!("Try: {}", blamed.cause.next),
    }
}

/// The changes of a story in words.
pub(super) fn change(change: &Move) -> Vec<String> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let hotter = |k: f64| {
        let side = if k < 0.0 { "colder" } else { "hotter" };
        format!("about {} {side}", CELSIUS.one(k.abs()))
    };
    let potential = |factor: f64| match factor {
        f if f < 1.0 => format!("a pack of about {} of its strength", percent(f)),
        f => format!("a pack about {} richer", percent(f - 1.0)),
    };
    let rim = |wt: f64| {
        if wt >= NO_RIM {
            "a rim that does not show".into()
        } else {
            format!("a rim that shows only to {}", CARBON.one(wt))
        }
    };
    let said = [
        change.temperature_kelvin.map(hotter),
        change.late_share.map(|s| format!("hot only for the last {} of its time at heat", percent(1.0 - s))),
        change.time_factor.map(|f| format!("about {f:.1} times as long as the record says")),
        change.potential_factor.map(potential),
        change.co2_factor.map(|f| format!("a leak that makes {f:.1} times the CO2 of a tight pack")),
        change.transfer_factor.map(|f| format!("carbon taken up at about {} of the usual rate", percent(f))),
        change.follows_acm.then(|| "the surface gave carbon back while the pack cooled".into()),
        change.open_air.map(|(time, heat)| {
            format!("about {} in open air at {}", minutes(time.minutes()), CELSIUS.one(heat.celsius()))
        }),
        change.core.map(|core| format!("stock of about {}", CARBON.one(core.wt_percent()))),
        change.thickness.map(|d| format!("a coupon only {} thick", DEPTH.one(d.millimetres()))),
        change.visible_edge.map(|edge| rim(edge.wt_percent())),
        change.martensite.map(|m| format!("only {} of it hardened", percent(m))),
        change.quench_heat.map(|heat| format!("quenched from about {}", CELSIUS.one(heat.celsius()))),
        change.ground.map(|d| format!("about {} ground off before the sparks", DEPTH.one(d.millimetres()))),
        change.spark_bias.map(|wt| format!("sparks that look about {} too rich", CARBON.one(wt))),
        change.face.map(|face| match face {
            Mistaken::NoBorder => "no true border on the face".into(),
            Mistaken::Lip => "what passes for a rim is none".into(),
        }),
    ];
    said.into_iter().flatten().collect()
}

fn minutes(minutes: f64) -> String {
    if minutes < 1.0 { format!("{:.0} s", minutes * 60.0) } else { MINUTES.one(minutes) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{CarbonPercent, Temperature, Time};

    #[test]
    fn changes_are_told_as_what_happened() {
        let colder = Move { temperature_kelvin: Some(-60.0), late_share: Some(0.6), ..Move::default() };
        assert_eq!(change(&colder), ["about 60 °C colder", "hot only for the last 40 % of its time at heat"]);
        let richer = Move { potential_factor: Some(1.25), transfer_factor: Some(0.25), ..Move::default() };
        assert_eq!(
            change(&richer),
            ["a pack about 25 % richer", "carbon taken up at about 25 % of the usual rate"]
        );
        let air = (Time::from_minutes(0.5).unwrap(), Temperature::from_celsius(850.0).unwrap());
        let air = Move { open_air: Some(air), ..Move::default() };
        assert_eq!(change(&air), ["about 30 s in open air at 850 °C"]);
        let hidden = |wt| Move { visible_edge: CarbonPercent::new(wt).ok(), ..Move::default() };
        assert_eq!(change(&hidden(0.5)), ["a rim that shows only to 0.50 %C"]);
        assert_eq!(change(&hidden(1.9)), ["a rim that does not show"]);
        assert!(change(&Move::default()).is_empty());
    }
}
