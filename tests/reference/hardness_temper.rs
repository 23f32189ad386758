//! Hardness after tempering against a chart and a handbook: `hardness_temper.csv`. Tolerance as its head says.

use super::hardness::{celsius, hardness, hrc, percent, quenched};
use crate::support::{models, rows};
use snapspark::units::{Hrc, Interval, Time};

const TEMPER_HRC: f64 = 3.0;

#[derive(serde::Deserialize)]
struct TemperRow {
    source: String,
    steel: String,
    carbon: f64,
    celsius: f64,
    hours: f64,
    hrc: f64,
}

/// After tempering steel that was hardened right: from 840 °C, or from 900 °C below 0.5 %C.
fn tempered(c: f64, temper: f64, hours: f64) -> Option<Interval<Hrc>> {
    let before = quenched(c, if c < 0.5 { 900.0 } else { 840.0 });
    let time = Time::from_minutes(hours * 60.0).unwrap();
    hardness().temper.hrc(&before.hrc.unwrap(), before.dissolved, celsius(temper), time)
}

/// Rows of the handbook, from memory, that miss the tolerance: steel, °C, how much softer than ours, HRC.
const MISSED: [(&str, f64, f64); 7] = [
    ("1050", 205.0, 4.7),
    ("1050", 260.0, 3.4),
    ("1050", 315.0, 3.4),
    ("1060", 370.0, 4.3),
    ("1080", 315.0, 3.8),
    ("1080", 370.0, 6.4),
    ("1095", 370.0, 3.2),
];

#[test]
fn tempering_by_chart_and_handbook() {
    let mut counts = [0; 3];
    let mut missed = Vec::new();
    let mut worst = [0.0_f64; 2];
    for row in rows::<TemperRow>("hardness_temper.csv") {
        let Some(got) = tempered(row.carbon, row.celsius, row.hours) else {
            assert!(row.carbon < 0.35 || row.celsius > 400.0, "{} {}", row.steel, row.celsius);
            counts[2] += 1;
            continue;
        };
        let kind = usize::from(row.source == "handbook");
        let off = got.best().points() - row.hrc;
        println!(
            "{} {} {}: ours {:.1}, printed {}",
            row.source,
            row.steel,
            row.celsius,
            got.best().points(),
            row.hrc
        );
        counts[kind] += 1;
        worst[kind] = worst[kind].max(off.abs());
        let inside = got.low().points() <= row.hrc && row.hrc <= got.high().points();
        assert!(inside, "{} {}: {got:?}, printed {}", row.steel, row.celsius, row.hrc);
        if off.abs() > TEMPER_HRC {
            assert!(off > 0.0 && kind == 1, "{} {}: {off}", row.steel, row.celsius);
            missed.push((row.steel.clone(), row.celsius, (off * 10.0).round() / 10.0));
        }
    }
    println!("worst: chart {:.2}, handbook {:.2}; missed {missed:?}", worst[0], worst[1]);
    assert_eq!(counts, [30, 20, 10]);
    let named: Vec<_> = MISSED.iter().map(|(steel, t, off)| ((*steel).to_owned(), *t, *off)).collect();
    assert_eq!(missed, named);
}

/// 1095 tempered an hour at straw, 230 °C, is about 58 to 60 HRC (common practice, no source). Within
/// 1 HRC, written before the first run.
#[test]
fn straw_on_1095() {
    let carbon = models().grade("1095").unwrap().carbon.value.best().wt_percent();
    let got = tempered(carbon, 230.0, 1.0).unwrap();
    println!(
        "{carbon}: {:.2} ({:.1} to {:.1})",
        got.best().points(),
        got.low().points(),
        got.high().points()
    );
    assert!((57.0..=61.0).contains(&got.best().points()));
}

/// Longer and hotter is softer, never harder than before, and a cool hour does nothing.
#[test]
fn tempering_only_softens() {
    let before = quenched(0.7, 840.0).hrc.unwrap();
    let mut last = before.best();
    for t in (90..=395).step_by(5) {
        let now = tempered(0.7, f64::from(t), 1.0).unwrap();
        let longer = tempered(0.7, f64::from(t), 1.2).unwrap();
        assert!(now.best() <= last && longer.best() <= now.best() && now.high() <= before.high(), "{t}");
        last = now.best();
    }
    assert_eq!(tempered(0.7, 95.0, 1.0), Some(before));
    // a slack quench is not repaired
    let slack = Interval::exact(hrc(45.0));
    let hour = Time::from_minutes(60.0).unwrap();
    let got = hardness().temper.hrc(&slack, percent(0.7), celsius(200.0), hour).unwrap();
    assert_eq!(got.best(), hrc(45.0));
}

/// 50 HRC after 200 °C needs 0.35 %C instead of 0.30 (computed, from the chart); within 0.01 %C, written
/// before the first run.
#[test]
fn the_temper_moves_the_fifty_hrc_depth() {
    let hard = |c: f64| tempered(c, 200.0, 1.5).is_some_and(|t| t.best() >= hrc(50.0));
    let got = (300..500).map(|i| f64::from(i) / 1000.0).find(|c| hard(*c)).unwrap();
    println!("{got:.3} %C");
    assert!((got - 0.35).abs() <= 0.01);
}
