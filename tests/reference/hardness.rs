//! Hardness by carbon and quench against tables: `hardness_martensite.csv`,
//! `hardness_austenite.csv`. Tolerances as their heads say.

use crate::support::{models, rows};
use snapspark::hardness::{Alloy, AsQuenched, Hardness, Quench, SHARES};
use snapspark::units::{CarbonPercent, Hrc, Hv, Interval, Share, Temperature};

const FORMULA_HRC: f64 = 0.06;
const TABLE_AGAINST_FORMULA_HRC: f64 = 0.4;
const COLUMN_HRC: f64 = 0.05;
const MAYNIER_RELATIVE: f64 = 0.10;
const MAYNIER_MOST_WT: f64 = 0.50;
const MS_KELVIN: f64 = 1.0;
const RETAINED_POINTS: f64 = 1.0;
const MIXED_HV: f64 = 5.0;

/// What the tables of retained austenite were computed for.
const TABLED: Alloy = Alloy { manganese: 0.5, silicon: 0.2 };

pub(super) fn hardness() -> &'static Hardness {
    &models().hardness
}

pub(super) fn percent(c: f64) -> CarbonPercent {
    CarbonPercent::new(c).unwrap()
}

pub(super) fn celsius(t: f64) -> Temperature {
    Temperature::from_celsius(t).unwrap()
}

pub(super) fn share(s: f64) -> Share {
    Share::new(s).unwrap()
}

pub(super) fn hrc(n: f64) -> Hrc {
    Hrc::new(n).unwrap()
}

/// Quenched to 20 °C, all martensite that can be.
pub(super) fn quenched(c: f64, heat: f64) -> AsQuenched {
    let quench = Quench { heat: celsius(heat), coldest: celsius(20.0), martensite: share(1.0) };
    hardness().as_quenched(&models().phase, percent(c), &TABLED, &quench).unwrap()
}

#[derive(serde::Deserialize)]
struct MartensiteRow {
    carbon: f64,
    hrc_99: Option<f64>,
    hrc_95: Option<f64>,
    hrc_90: Option<f64>,
    hrc_80: Option<f64>,
    hrc_50: Option<f64>,
    hrc_full: f64,
    hv_maynier: Option<f64>,
}

#[test]
fn martensite_by_carbon_and_share() {
    let martensite = &hardness().martensite;
    let [mut formula, mut table, mut column, mut maynier] = [0.0_f64; 4];
    let mut counts = [0; 4];
    for row in rows::<MartensiteRow>("hardness_martensite.csv") {
        let full = martensite.full_hrc(percent(row.carbon)).unwrap();
        formula = formula.max((full.best().points() - row.hrc_full).abs());
        counts[0] += 1;
        if let Some(printed) = row.hrc_99 {
            table = table.max((full.best().points() - printed).abs());
            counts[1] += 1;
        }
        let columns = [row.hrc_99, row.hrc_95, row.hrc_90, row.hrc_80, row.hrc_50];
        for (of, printed) in SHARES.into_iter().zip(columns) {
            let Some(printed) = printed else { continue };
            let got = martensite.hrc(percent(row.carbon), share(of)).unwrap();
            column = column.max((got.best().points() - printed).abs());
            assert!(got.low().points() <= printed && printed <= got.high().points());
            counts[2] += 1;
        }
        if let Some(printed) = row.hv_maynier.filter(|_| row.carbon <= MAYNIER_MOST_WT) {
            let got = hardness().conversion.to_hv(full.best()).unwrap().number();
            maynier = maynier.max((got / printed - 1.0).abs());
            counts[3] += 1;
        }
    }
    println!("formula {formula:.3}, against 99 % {table:.3}, columns {column:.3} HRC, Maynier {maynier:.3}");
    assert_eq!(counts, [28, 26, 130, 21]);
    assert!(formula <= FORMULA_HRC, "{formula}");
    assert!(table <= TABLE_AGAINST_FORMULA_HRC, "{table}");
    assert!(column <= COLUMN_HRC, "{column}");
    assert!(maynier <= MAYNIER_RELATIVE, "{maynier}");
}

/// 50 HRC as quenched: 0.30 %C with 99 %, 0.40 with 90 % and 0.58 with 50 % martensite (the same table).
/// Within 0.01 %C, written before the first run.
#[test]
fn fifty_hrc_moves_with_the_share_of_martensite() {
    for (of, wanted) in [(0.99, 0.30), (0.90, 0.40), (0.50, 0.58)] {
        let hard = |c: f64| hardness().martensite.hrc(percent(c), share(of)).unwrap().best().points() >= 50.0;
        let got = (100..=700).map(|i| f64::from(i) / 1000.0).find(|c| hard(*c)).unwrap();
        println!("{of}: {got:.3} %C");
        assert!((got - wanted).abs() <= 0.01, "{of}: {got}");
    }
}

/// It never falls with carbon nor with martensite; above 0.8 %C it is 65 to 67 HRC; outside the sources
/// there is no answer.
#[test]
fn martensite_rises_and_ends_where_its_sources_end() {
    let martensite = &hardness().martensite;
    for share_of in [0.5, 0.6, 0.85, 0.93, 0.97, 0.99, 0.995, 1.0] {
        let mut before = [0.0; 3];
        for i in 100..=1400 {
            let c = percent(f64::from(i) / 1000.0);
            let got = martensite.hrc(c, share(share_of)).unwrap();
            let more = martensite.hrc(c, share((share_of + 0.004_f64).min(1.0))).unwrap();
            let now = [got.low(), got.best(), got.high()].map(Hrc::points);
            assert!(now[1] >= before[1] - 1e-9, "{share_of} at {c:?}: {now:?} after {before:?}");
            assert!(more.best().points() >= now[1] - 1e-9, "{share_of} at {c:?}");
            before = now;
        }
    }
    let rich = martensite.full_hrc(percent(1.0)).unwrap();
    assert_eq!([rich.low(), rich.best(), rich.high()].map(Hrc::points), [65.0, 66.0, 67.0]);
    assert_eq!(martensite.full_hrc(percent(0.09)), None);
    assert_eq!(martensite.hrc(percent(0.4), share(0.49)), None);
}

/// 50 HRC is 513 HV: D. Pye, Industrial Heating (confirmed). The rest of the table is from memory.
#[test]
fn rockwell_and_vickers() {
    let conversion = &hardness().conversion;
    assert_eq!(conversion.to_hv(hrc(50.0)).unwrap().number(), 513.0);
    for tenths in 200..=680 {
        let there = conversion.to_hv(hrc(f64::from(tenths) / 10.0)).unwrap();
        let back = conversion.to_hrc(there).unwrap().points();
        assert!((back - f64::from(tenths) / 10.0).abs() < 1e-9, "{back}");
    }
    assert_eq!(conversion.to_hv(hrc(68.1)), None);
    assert_eq!(conversion.to_hrc(Hv::new(237.0).unwrap()), None);
    assert_eq!(conversion.to_hrc(Hv::new(941.0).unwrap()), None);
}

#[test]
fn retained_austenite_by_dissolved_carbon() {
    type Row = (f64, f64, f64, Option<f64>);
    let austenite = &hardness().austenite;
    let [mut ms_worst, mut left_worst, mut hv_worst] = [0.0_f64; 3];
    let all = rows::<Row>("hardness_austenite.csv");
    assert_eq!(all.len(), 13);
    for (c, ms, retained, hv) in all {
        let got_ms = austenite.ms(percent(c), &TABLED).unwrap().celsius();
        ms_worst = ms_worst.max((got_ms - ms).abs());
        let left = austenite.retained(percent(c), &TABLED, celsius(20.0)).unwrap();
        let points = left.best().fraction() * 100.0;
        left_worst = left_worst.max((points - retained).abs());
        if let Some(hv) = hv {
            let hard = Interval::exact(Hv::new(900.0).unwrap());
            let mixed = austenite.mixed(&hard, &left).unwrap().best().number();
            hv_worst = hv_worst.max((mixed - hv).abs());
        }
        println!("{c}: Ms {got_ms:.0}, {points:.1} %, printed {ms}, {retained}");
    }
    println!("worst: Ms {ms_worst:.2} C, {left_worst:.2} points, {hv_worst:.1} HV");
    assert!(ms_worst <= MS_KELVIN && left_worst <= RETAINED_POINTS && hv_worst <= MIXED_HV);

    // measured
    let left = austenite.retained(percent(1.4), &TABLED, celsius(20.0)).unwrap();
    let (low, high) = (left.low().fraction() * 100.0, left.high().fraction() * 100.0);
    println!("1.4 %C: {low:.0} to {high:.0} %, measured 28 to 45");
    assert!(low <= 45.0 && high >= 28.0 && high >= 45.0);
    assert_eq!(austenite.retained(percent(1.41), &TABLED, celsius(20.0)), None);
}

/// A 1.2 %C rim quenched from 780 °C holds about 0.9 %C and stays file hard; from 925 °C it goes soft to
/// the file (computed, from the two tables). File hard: 60 HRC (from memory).
#[test]
fn a_rich_rim_quenched_too_hot_is_soft() {
    let (cool, hot) = (quenched(1.2, 780.0), quenched(1.2, 925.0));
    println!("780: {:?}\n925: {:?}", cool.hrc, hot.hrc);
    assert!((cool.dissolved.wt_percent() - 0.9).abs() < 0.05);
    assert_eq!(hot.dissolved, percent(1.2));
    assert!(cool.hrc.unwrap().best() >= hrc(60.0));
    assert!(hot.hrc.unwrap().best() < hrc(60.0));
}

/// Martensite of 0.20 to 0.25 %C is 44 to 48 HRC; within 0.5 HRC of the printed table at either end, written
/// before the first run (the sentence rounds the 47.25 of the table up: ours is 0.55 under its 48).
/// From a heat where ferrite is left it is softer, and below A1 nothing hardens.
#[test]
fn the_core_hardens_too() {
    for (c, wanted) in [(0.20, 44.2), (0.25, 47.25)] {
        let got = quenched(c, 900.0).hrc.unwrap().best().points();
        println!("{c}: {got:.2}");
        assert!((got - wanted).abs() <= 0.5 && (44.0..=48.0).contains(&got), "{c}: {got}");
    }
    let all = quenched(0.20, 900.0);
    let part = quenched(0.20, 780.0);
    assert!(part.austenite.fraction() < 1.0 && part.dissolved > all.dissolved);
    assert!(part.hv.best() < all.hv.best() && part.hv.low() < all.hv.low());
    let cold = Quench { heat: celsius(720.0), coldest: celsius(20.0), martensite: share(1.0) };
    let answer = hardness().as_quenched(&models().phase, percent(0.8), &TABLED, &cold);
    assert!(answer.unwrap_err().to_string().starts_with("quenched from 720 °C: below 727 °C"));
}
