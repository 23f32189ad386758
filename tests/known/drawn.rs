//! Drawn smiths: coupons of any carbon, read by four known steels on three days. All pictures are drawn; none of this
//! says how real photos are read.

use crate::support::models;
use snapspark::audit::{Bench, Folds, LeftOut, judge, scores, train};
use snapspark::estimate::{Rig, SparkAnswer, SparkReader, read_sparks, read_sparks_at};
use snapspark::features::{Feature, FeatureName, Origin, SparkFeatures};
use snapspark::files::spark_rows;
use snapspark::known::{Beside, By, Exposures, Piece, Shown, SparkMeasure, Trend, TrendRows};
use snapspark::spark::{SparkContrast, StreamFigures};
use snapspark::steel::CarbonBand;
use snapspark::units::{CarbonPercent, Interval};
use std::collections::BTreeMap;

/// One piece of a drawn smith as `measure_drawn_smiths` writes it.
pub(crate) struct DrawnPiece {
    pub(crate) day: usize,
    pub(crate) kind: String,
    pub(crate) bar: usize,
    pub(crate) carbon: f64,
    pub(crate) figures: Option<StreamFigures>,
}

pub(crate) fn read_smiths(text: &str) -> BTreeMap<u64, Vec<DrawnPiece>> {
    let mut smiths: BTreeMap<u64, Vec<DrawnPiece>> = BTreeMap::new();
    for line in text.lines() {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |i: usize| cells.get(i).and_then(|c| c.parse::<f64>().ok());
        let range = |i: usize| {
            let at = 8 + 3 * i;
            Interval::new(number(at)?, number(at + 1)?, number(at + 2)?)
        };
        let photos = number(5).unwrap() as usize;
        let figures = (photos > 0).then(|| StreamFigures {
            photos,
            resolved: number(6).unwrap(),
            exposed_s: number(7),
            share_in_flight: range(0),
            share_bursting: range(1),
            rays: range(2),
            tiers: range(3),
            onset: range(4),
            bursts_per_px: range(5),
            bursts_per_carrier: range(6),
            secondary_share: range(7),
            length: range(8),
            longest: range(9),
            stream_length: range(10),
            flight: range(11),
            carriers: range(12),
            bursts: range(13),
            bursts_per_s: range(14),
            path_per_s: range(15),
            direction: None,
            opening: None,
            light: Vec::new(),
        });
        smiths.entry(number(0).unwrap() as u64).or_default().push(DrawnPiece {
            day: number(1).unwrap() as usize,
            kind: cells[2].into(),
            bar: number(3).unwrap() as usize,
            carbon: number(4).unwrap(),
            figures,
        });
    }
    smiths
}

/// Carbon of the grades as labels: ASTM A29; the stock is mild steel of which nothing is known.
fn label(piece: &DrawnPiece) -> Interval<f64> {
    let grades = [(0.15, 0.20), (0.28, 0.34), (0.43, 0.50), (0.55, 0.65), (0.75, 0.88), (0.90, 1.03)];
    let (low, high) = if piece.kind == "stock" {
        (0.05, 0.26)
    } else {
        grades.into_iter().find(|(low, high)| (*low..=*high).contains(&piece.carbon)).unwrap()
    };
    Interval::new(low, f64::midpoint(low, high), high).unwrap()
}

#[derive(Default)]
struct Tally {
    coupons: usize,
    answered: usize,
    right: usize,
    near: usize,
    error: f64,
    trend_right: usize,
    trend_near: usize,
    trend_answered: usize,
    trend_error: f64,
    stated: usize,
    held: usize,
    size: usize,
    carbon_held: usize,
    width: f64,
    raw_held: usize,
    raw_width: f64,
}

fn band(wt: f64) -> usize {
    CarbonBand::of(CarbonPercent::new(wt).unwrap()).index()
}

fn score(smiths: &BTreeMap<u64, Vec<DrawnPiece>>) {
    let rows: TrendRows = spark_rows().unwrap();
    let trend = Trend::of(&rows);
    let exposures = Exposures::judged(&models().photo_reading);
    let bench = Bench { trend: &trend, rows: &rows, by: By::Photos, exposures: &exposures };
    let mut all = Tally::default();
    let (mut smiths_stated, mut shares) = (0, Vec::new());
    let mut by_day = (0, 0);
    let mut by_steel = (0, 0);
    let mut confusion = [[0; 6]; 6];
    for (number, drawn) in smiths {
        let piece = |d: &DrawnPiece| {
            let figures = d.figures.as_ref()?;
            Some(Piece {
                name: format!("{}-{}-{}", number, d.day, d.bar),
                carbon: label(d),
                steel: d.bar,
                day: d.day,
                reference: d.kind == "stock",
                shown: Shown::on_photos(figures),
            })
        };
        let known: Vec<Piece> =
            drawn.iter().filter(|d| d.kind != "coupon" && d.day < 3).filter_map(piece).collect();
        let known: Vec<&Piece> = known.iter().collect();
        if known.len() < 6 {
            println!("{number}: only {} pieces can be used", known.len());
            continue;
        }
        let rig: Rig = train(&bench, &known).unwrap();
        by_day.0 += rig.scores.right;
        by_day.1 += rig.scores.judged();
        let steel = scores(&judge(&bench, &known, &Folds::of(&known, LeftOut::Steel)).unwrap());
        by_steel.0 += steel.right;
        by_steel.1 += steel.judged();
        if std::env::var("SHOW").is_ok() {
            let told: Vec<String> = SparkMeasure::ALL
                .iter()
                .map(|m| {
                    let l = &rig.personal.correction.lines[*m as usize];
                    format!("{:?} {:.2} {:.2} {:.2}", m, l.offset(), l.slope(), l.scatter)
                })
                .collect();
            println!("{number} {:?} {told:?}", rig.personal.measures());
        }
        let mut own = (0, 0);
        for coupon in drawn.iter().filter(|d| d.kind == "coupon") {
            let t = &mut all;
            t.coupons += 1;
            let Some(figures) = &coupon.figures else { continue };
            let stock = drawn.iter().find(|d| d.kind == "stock" && d.day == coupon.day).unwrap();
            let shown = Shown::on_photos(figures);
            let beside_shown = stock.figures.as_ref().map(Shown::on_photos);
            let beside =
                Beside { steels: beside_shown.iter().map(|s| (label(stock), s)).collect(), fitted: false };
            let truth = band(coupon.carbon);
            let published = published(figures, stock.figures.as_ref());
            if let Ok(SparkAnswer::Bands(e)) =
                read_sparks(&published, &SparkReader::published(&models().spark_tree, &rows.training))
            {
                t.trend_answered += 1;
                t.trend_right += usize::from(e.band.index() == truth);
                t.trend_near += usize::from(e.band.index().abs_diff(truth) <= 1);
                t.trend_error += e.band.index().abs_diff(truth) as f64;
            }
            let answer = read_sparks_at(&rig, &published, &shown, &beside).unwrap();
            let SparkAnswer::Bands(e) = answer else {
                println!("{number}: {answer:?}");
                continue;
            };
            t.answered += 1;
            confusion[truth][e.band.index()] += 1;
            t.right += usize::from(e.band.index() == truth);
            t.near += usize::from(e.band.index().abs_diff(truth) <= 1);
            t.error += e.band.index().abs_diff(truth) as f64;
            let known = e.known.unwrap();
            t.raw_held +=
                usize::from(known.carbon.low() <= coupon.carbon && coupon.carbon <= known.carbon.high());
            t.raw_width += known.carbon.high() - known.carbon.low();
            if let Some(stated) = known.stated {
                t.stated += 1;
                let (low, high) = stated.bands;
                let held = (low.index()..=high.index()).contains(&truth);
                own.0 += usize::from(held);
                own.1 += 1;
                t.held += usize::from(held);
                t.size += high.index() - low.index() + 1;
                t.carbon_held += usize::from(
                    stated.carbon.low() <= coupon.carbon && coupon.carbon <= stated.carbon.high(),
                );
                t.width += stated.carbon.high() - stated.carbon.low();
            }
        }
        if own.1 > 0 {
            smiths_stated += 1;
            shares.push(own.0 as f64 / own.1 as f64);
        }
    }
    let t = &all;
    let of = |n: usize, m: usize| 100.0 * n as f64 / m.max(1) as f64;
    println!(
        "coupons {} answered {} right {:.1} % near {:.1} % mean band error {:.2}",
        t.coupons,
        t.answered,
        of(t.right, t.answered),
        of(t.near, t.answered),
        t.error / t.answered as f64
    );
    println!(
        "published trend: answered {} right {:.1} % near {:.1} % error {:.2}",
        t.trend_answered,
        of(t.trend_right, t.trend_answered),
        of(t.trend_near, t.trend_answered),
        t.trend_error / t.trend_answered as f64
    );
    println!(
        "stated {} by {smiths_stated} smiths: held {:.1} % size {:.2}; carbon held {:.1} % width {:.2}; nine tenths of the chance held {:.1} % width {:.2}",
        t.stated,
        of(t.held, t.stated),
        t.size as f64 / t.stated as f64,
        of(t.carbon_held, t.stated),
        t.width / t.stated as f64,
        of(t.raw_held, t.answered),
        t.raw_width / t.answered as f64
    );
    println!("left out by day {:.1} %, by steel {:.1} %", of(by_day.0, by_day.1), of(by_steel.0, by_steel.1));
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    println!(
        "smith to smith sd of held share {:.3}",
        (shares.iter().map(|s| (s - mean).powi(2)).sum::<f64>() / shares.len() as f64).sqrt()
    );
    for row in confusion {
        println!("{row:?}");
    }
}

/// What the program makes of photos without known steels.
fn published(coupon: &StreamFigures, stock: Option<&StreamFigures>) -> SparkFeatures {
    let contrast =
        stock.map(|stock| SparkContrast::of(coupon, stock, &models().photo_reading, &mut Vec::new()));
    let contrast = contrast.unwrap_or_default();
    let many = |r: Interval<f64>| Interval::new(r.low().min(8.0), r.best().min(8.0), r.high().min(8.0));
    let mut features = SparkFeatures::default();
    for (name, value) in [
        (FeatureName::ShareBursting, coupon.share_in_flight),
        (FeatureName::Rays, coupon.rays.and_then(many)),
        (FeatureName::Tiers, coupon.tiers),
        (FeatureName::Onset, coupon.onset),
        (FeatureName::BurstRatio, contrast.bursts),
        (FeatureName::CarrierRatio, contrast.carriers),
        (FeatureName::LengthRatio, contrast.length),
    ] {
        features.replace(name, value.map(|value| Feature { value, origin: Origin::Photo }));
    }
    features
}

#[test]
#[ignore = "needs SMITHS: a file of measure_drawn_smiths"]
fn drawn_smiths_are_read_by_their_own_steels() {
    let text = std::fs::read_to_string(std::env::var("SMITHS").expect("SMITHS")).unwrap();
    score(&read_smiths(&text));
}
