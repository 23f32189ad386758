//! Photos of a rig whose steels nobody knows, against the published trend: `models/photo-lines.toml`, and what it makes of
//! photos. All readings are of drawn pictures.

use super::smith::read;
use crate::support::models;
use snapspark::estimate::{SparkAnswer, SparkDoubt};
use snapspark::features::FeatureName;
use snapspark::files::Observed;
use snapspark::files::known_set::PublishedTrend;
use snapspark::known::{Beside, PhotoLine, Shown, SparkMeasure, told_by_photos};
use snapspark::spark::{PartOf, Photographed, SparkObservation, StreamFigures, StreamObservation, Told};
use snapspark::units::{CarbonPercent, Interval};
use std::collections::BTreeMap;

const POINTS: &str = include_str!("../../training-data/photo_points.csv");

/// Trend, reading and variance of a measure, by smith.
fn points(measure: SparkMeasure) -> BTreeMap<&'static str, Vec<[f64; 3]>> {
    let mut smiths: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for line in POINTS.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        if cells[2] == measure.column().column() {
            let point = [4, 5, 6].map(|i: usize| cells[i].parse().unwrap());
            smiths.entry(cells[0]).or_default().push(point);
        }
    }
    smiths
}

/// Weighted least squares with an offset of each smith: slope and its standard error.
fn slope_within(smiths: &BTreeMap<&str, Vec<[f64; 3]>>, scatter: f64) -> (f64, f64) {
    let (mut square, mut product) = (0.0, 0.0);
    for points in smiths.values() {
        let weight = |p: &[f64; 3]| 1.0 / (p[2] + scatter * scatter);
        let total: f64 = points.iter().map(weight).sum();
        let mean = |k: usize| points.iter().map(|p| weight(p) * p[k]).sum::<f64>() / total;
        let (trend, reading) = (mean(0), mean(1));
        square += points.iter().map(|p| weight(p) * (p[0] - trend).powi(2)).sum::<f64>();
        product += points.iter().map(|p| weight(p) * (p[0] - trend) * (p[1] - reading)).sum::<f64>();
    }
    (product / square, square.sqrt().recip())
}

/// The lines were fitted by a program of its own, in which slopes differ from smith to smith; a plain regression of the same
/// readings, in which they do not, must come out alike.
#[test]
fn slopes_agree_with_a_plain_regression() {
    let lines = &models().photo_lines.value;
    for measure in SparkMeasure::ALL {
        let Some(line) = lines[measure as usize] else { continue };
        let smiths = points(measure);
        let (slope, error) = slope_within(&smiths, line.scatter);
        let between = line.slope.1 / (smiths.len() as f64).sqrt();
        let off = (slope - line.slope.0).abs();
        assert!(off < 3.0 * error.hypot(between), "{measure:?}: {slope:.3} ({error:.3}), {line:?}");
    }
}

/// A range of a measure about what a line has for a carbon content, wt%; an amount is some number of its own.
fn reading(published: &PublishedTrend, measure: SparkMeasure, line: &PhotoLine, wt: f64) -> Interval<f64> {
    let centre = published.trend.centre(measure);
    let offset = line.offset.map_or(4.0, |(mean, _)| mean);
    let at = centre + offset + line.slope.0 * (published.trend.typical(measure, wt) - centre);
    let [low, best, high] = [at - 0.1, at, at + 0.1].map(|at| measure.off_scale(at));
    Interval::new(low, best, high).unwrap()
}

/// Figures of a piece that shows what the photos of the usual rig do.
fn figures(published: &PublishedTrend, wt: f64) -> StreamFigures {
    let smiths = read(include_str!("drawn_smiths.csv"));
    let mut figures = smiths.values().flatten().find_map(|d| d.figures.clone()).unwrap();
    let of =
        |m: SparkMeasure| Some(reading(published, m, models().photo_lines.value[m as usize].as_ref()?, wt));
    figures.share_bursting = of(SparkMeasure::Share);
    figures.rays = of(SparkMeasure::Rays);
    figures.tiers = of(SparkMeasure::Tiers);
    figures.onset = of(SparkMeasure::Onset);
    figures.bursts = of(SparkMeasure::Bursts);
    figures.carriers = of(SparkMeasure::Carriers);
    figures.length = of(SparkMeasure::Length);
    figures
}

/// What photos of the usual rig show of a coupon beside stock, in the terms of the trend.
fn told(published: &PublishedTrend, wt: f64) -> BTreeMap<FeatureName, Interval<f64>> {
    let (coupon, stock) = (figures(published, wt), figures(published, 0.15));
    let (coupon, stock) = (Shown::on_photos(&coupon), Shown::on_photos(&stock));
    let beside = Beside { steels: vec![(Interval::exact(0.15), &stock)], fitted: false };
    told_by_photos(&published.trend, &published.exposures, &coupon, &beside).into_iter().collect()
}

#[test]
fn photos_of_the_usual_rig_read_as_the_trend_has_their_carbon() {
    let published = PublishedTrend::shipped(models()).unwrap();
    for wt in [0.08, 0.3, 0.6, 0.9] {
        let told = told(&published, wt);
        // on drawn photos tiers do not change with carbon, and fine sparking is not seen
        assert!(!told.contains_key(&FeatureName::Tiers) && !told.contains_key(&FeatureName::FineSparking));
        for measure in
            [SparkMeasure::Share, SparkMeasure::Onset, SparkMeasure::Bursts, SparkMeasure::Carriers]
        {
            let value = told[&measure.column()];
            let typical = published.trend.typical(measure, wt);
            let off = (measure.on_scale(value.best()) - typical).abs();
            assert!(off < 0.05, "{measure:?} at {wt} %C: {value:?}, typical {}", measure.off_scale(typical));
            assert!(value.low() < value.best() && value.best() < value.high(), "{measure:?}: {value:?}");
        }
    }
}

/// An eye sees most carriers burst where photos of the usual rig show one in ten: that is no contradiction. That they all
/// fail to is one.
#[test]
fn words_are_settled_with_what_an_eye_would_have_seen() {
    let published = PublishedTrend::shipped(models()).unwrap();
    let rich = figures(&published, 0.7);
    assert!(rich.share_bursting.unwrap().best() < 0.3, "{:?}", rich.share_bursting);
    let doubts = |word| {
        let coupon =
            StreamObservation { share_bursting: Some(Told::Word(word)), ..StreamObservation::default() };
        let photographed = Photographed {
            figures: Some(Box::new(rich.clone())),
            stock_figures: Some(Box::new(figures(&published, 0.15))),
            ..Photographed::default()
        };
        let told =
            SparkObservation { coupon, photographed: Some(photographed), ..SparkObservation::default() };
        let stock = Interval::exact(CarbonPercent::new(0.15).unwrap());
        let (features, answer) = Observed::sparks(&told, &stock, None, models()).unwrap();
        let SparkAnswer::Bands(estimate) = answer else { panic!("{answer:?}") };
        assert!(estimate.doubts.contains(&SparkDoubt::RigUnknown), "{:?}", estimate.doubts);
        features.disagreeing().to_vec()
    };
    assert_eq!(doubts(PartOf::Most), []);
    assert_eq!(doubts(PartOf::None), [FeatureName::ShareBursting]);
}
