//! A rig against the published trend: planted differences are found, thin evidence is pulled towards none, days that
//! drift are tied together by their stock. What a rig shows is drawn from the trend itself, so the truth is known.

use crate::support::models;
use crate::support::streams::Chance;
use snapspark::audit::{advise, train};
use snapspark::estimate::{SparkAnswer, read_sparks_at};
use snapspark::features::{Feature, Origin, SparkFeatures};
use snapspark::files::known_set::PublishedTrend;
use snapspark::known::{Beside, By, Correction, Piece, Shown, SparkMeasure};
use snapspark::units::Interval;

/// How a rig differs from the trend on the scale of each measure.
#[derive(Clone, Copy)]
struct Planted {
    offset: f64,
    slope: f64,
    scatter: f64,
}

const NONE: Planted = Planted { offset: 0.0, slope: 1.0, scatter: 0.0 };

fn published() -> PublishedTrend {
    PublishedTrend::shipped(models()).unwrap()
}

/// What a steel shows in words at such a rig; each value has a narrow range of its own.
fn shown(published: &PublishedTrend, planted: Planted, wt: f64, drift: f64, chance: &mut Chance) -> Shown {
    let trend = &published.trend;
    let mut features = SparkFeatures::default();
    for measure in [SparkMeasure::Share, SparkMeasure::Bursts, SparkMeasure::Carriers] {
        let centre = trend.centre(measure);
        let at = centre
            + planted.offset
            + planted.slope * (trend.typical(measure, wt) - centre)
            + drift
            + chance.factor(planted.scatter).ln();
        let range = [at - 0.02, at, at + 0.02].map(|at| measure.off_scale(at));
        let value = Interval::new(range[0], range[1], range[2]).unwrap();
        features.replace(measure.column(), Some(Feature { value, origin: Origin::Described }));
    }
    Shown::in_words(&features)
}

fn piece(day: usize, steel: usize, wt: f64, shown: Shown) -> Piece {
    let carbon = Interval::new(wt - 0.02, wt, wt + 0.02).unwrap();
    Piece { name: format!("{steel}-{day}"), carbon, steel, day, reference: steel == 0, shown }
}

/// Mild stock and three steels on each day.
fn pieces(published: &PublishedTrend, planted: Planted, drifts: &[f64], seed: u64) -> Vec<Piece> {
    let mut chance = Chance::new(seed);
    let mut pieces = Vec::new();
    for (day, drift) in drifts.iter().enumerate() {
        for (steel, wt) in [0.17, 0.45, 0.6, 0.95].into_iter().enumerate() {
            pieces.push(piece(day, steel, wt, shown(published, planted, wt, *drift, &mut chance)));
        }
    }
    pieces
}

fn fit(published: &PublishedTrend, pieces: &[Piece]) -> Correction {
    let pieces: Vec<&Piece> = pieces.iter().collect();
    Correction::fit(&published.trend, By::Words, &pieces, &published.exposures)
}

#[test]
fn without_steels_nothing_is_corrected() {
    let published = published();
    let correction = fit(&published, &[]);
    for line in &correction.lines {
        assert_eq!((line.offset(), line.slope(), line.readings), (0.0, 1.0, 0));
    }
    // the trend's own typical values come back as they are
    let day = correction.on_day(&published.trend, &Beside::default());
    let seen = shown(&published, NONE, 0.5, 0.0, &mut Chance::new(1));
    for measure in [SparkMeasure::Share, SparkMeasure::Bursts] {
        let as_trend = day.as_trend(measure, &seen).unwrap().best();
        let typical = measure.off_scale(published.trend.typical(measure, 0.5));
        assert!((as_trend / typical - 1.0).abs() < 1e-9, "{measure:?}: {as_trend} {typical}");
    }
}

#[test]
fn a_planted_difference_is_found_the_better_the_more_steels_there_are() {
    let published = published();
    let planted = Planted { offset: -0.4, slope: 0.6, scatter: 0.15 };
    let off = |days: usize| {
        let mut sum = 0.0;
        for seed in 0..20 {
            let line = fit(&published, &pieces(&published, planted, &vec![0.0; days], seed)).lines
                [SparkMeasure::Bursts as usize];
            sum += (line.offset() - planted.offset).abs() + (line.slope() - planted.slope).abs();
        }
        sum / 20.0
    };
    let (one, five, forty) = (off(1), off(5), off(40));
    assert!(one > five && five > forty, "{one} {five} {forty}");
    assert!(forty < 0.08, "{forty}");
    // one steel alone moves the line towards what it shows, not all the way
    let lone = &pieces(&published, planted, &[0.0], 1)[2..3];
    let line = fit(&published, lone).lines[SparkMeasure::Bursts as usize];
    assert!(line.offset() < 0.0 && line.offset() > planted.offset, "{}", line.offset());
}

/// A line never falls where the trend rises, whatever the steels show.
#[test]
fn a_correction_is_monotone() {
    let published = published();
    let upside_down = Planted { offset: 0.0, slope: -1.0, scatter: 0.05 };
    for line in &fit(&published, &pieces(&published, upside_down, &[0.0; 4], 1)).lines {
        assert!(line.slope() > 0.0);
    }
}

/// Days that throw more or less of everything are tied together by the stock that was sparked on each.
#[test]
fn the_drift_of_a_day_is_taken_out_by_its_stock() {
    let published = published();
    let planted = Planted { offset: 0.1, slope: 0.9, scatter: 0.05 };
    // enough days for the rig's scatter to be known as small as it is
    let drifts: Vec<f64> = (0..12).map(|day| 0.25 * f64::from(day % 3 - 1)).collect();
    let known = pieces(&published, planted, &drifts, 3);
    let known: Vec<&Piece> = known.iter().collect();
    let rig = train(&published.bench(By::Words), &known).unwrap();
    let carbon = |drift: f64, beside: bool| {
        let mut chance = Chance::new(9);
        let coupon = shown(&published, planted, 0.6, drift, &mut chance);
        let stock = shown(&published, planted, 0.17, drift, &mut chance);
        let steels = if beside { vec![(Interval::exact(0.17), &stock)] } else { Vec::new() };
        rig.personal.density(&coupon, &Beside { steels, fitted: false }).mean()
    };
    let (with, without) = (carbon(0.3, true) - carbon(0.0, true), carbon(0.3, false) - carbon(0.0, false));
    assert!(without > 0.05, "a day that throws more reads richer: {without}");
    assert!(with.abs() < 0.6 * without, "its stock takes that out: {with} {without}");
}

/// What lies outside everything that was seen is refused, not read as the nearest.
#[test]
fn a_coupon_like_nothing_that_was_seen_is_refused() {
    let published = published();
    let planted = Planted { offset: 0.0, slope: 1.0, scatter: 0.1 };
    let known = pieces(&published, planted, &[0.0; 3], 5);
    let known: Vec<&Piece> = known.iter().collect();
    let rig = train(&published.bench(By::Words), &known).unwrap();
    let read = |shown: &Shown| {
        let features = SparkFeatures::default();
        read_sparks_at(&rig, &features, shown, &Beside::default()).unwrap()
    };
    let sound = shown(&published, planted, 0.6, 0.0, &mut Chance::new(2));
    assert!(matches!(read(&sound), SparkAnswer::Bands(_)));
    let mut features = SparkFeatures::default();
    for (measure, value) in [(SparkMeasure::Share, 0.03), (SparkMeasure::Bursts, 60.0)] {
        let value = Interval::new(value * 0.95, value, value * 1.05).unwrap();
        features.replace(measure.column(), Some(Feature { value, origin: Origin::Described }));
    }
    assert!(matches!(read(&Shown::in_words(&features)), SparkAnswer::Unlike { .. }));
}

/// Nothing is stated with confidence on fewer than nine steel-sessions.
#[test]
fn nine_steel_sessions_are_the_least_for_a_stated_set() {
    let published = published();
    let planted = Planted { offset: 0.1, slope: 0.8, scatter: 0.1 };
    let stated = |days: usize| {
        // three a day judge: the stock is a reference
        let known = pieces(&published, planted, &vec![0.0; days], 7);
        let known: Vec<&Piece> = known.iter().collect();
        let rig = train(&published.bench(By::Words), &known).unwrap();
        let coupon = shown(&published, planted, 0.6, 0.0, &mut Chance::new(2));
        let features = SparkFeatures::default();
        match read_sparks_at(&rig, &features, &coupon, &Beside::default()).unwrap() {
            SparkAnswer::Bands(e) => e.known.map(|k| (k.judged, k.stated.is_some())),
            _ => None,
        }
    };
    assert_eq!(stated(2), Some((6, false)));
    assert_eq!(stated(3), Some((9, true)));
}

/// Grades that a smith could buy next: ASTM A29 limits of 1018, 1030, 1045, 1060, 1080, 1095.
const GRADES: [(f64, f64); 6] =
    [(0.15, 0.20), (0.28, 0.34), (0.43, 0.50), (0.55, 0.65), (0.75, 0.88), (0.90, 1.03)];

/// What is advised to photograph next makes coupons read better than a steel picked blindly, on drawn rigs that differ
/// from the trend each in its own way: paired over smiths, one-sided normal test, p < 0.01.
#[test]
fn what_is_advised_brings_more_than_a_random_pick() {
    const SMITHS: u64 = 120;
    let published = published();
    let stock = Interval::new(0.15, 0.17, 0.20).unwrap();
    let tested = Interval::new(0.30, 0.70, 1.10).unwrap();
    let grades = GRADES.map(|(low, high)| Interval::new(low, f64::midpoint(low, high), high).unwrap());
    let mut gains = Vec::new();
    for smith in 0..SMITHS {
        let mut chance = Chance::new(1000 + smith);
        let planted = Planted {
            offset: 0.5 * (2.0 * chance.unit() - 1.0),
            slope: 0.4 + 0.9 * chance.unit(),
            scatter: 0.2,
        };
        let mut known = Vec::new();
        let first = (chance.unit() * GRADES.len() as f64) as usize;
        let at = |grade: usize, chance: &mut Chance| {
            let (low, high) = GRADES[grade];
            low + (high - low) * chance.unit()
        };
        let add = |known: &mut Vec<Piece>, day: usize, grade: usize, chance: &mut Chance| {
            for (steel, label) in [(0, stock), (1 + grade, grades[grade])] {
                let wt = if steel == 0 { 0.17 } else { at(grade, chance) };
                let shown = shown(&published, planted, wt, 0.0, chance);
                known.push(Piece { carbon: label, ..piece(day, steel, label.best(), shown) });
            }
        };
        add(&mut known, 0, first, &mut chance);
        let error = |pick: usize| {
            let mut chance = Chance::new(5000 + smith);
            let mut known = known.clone();
            add(&mut known, 1, pick, &mut chance);
            let known: Vec<&Piece> = known.iter().collect();
            let correction = Correction::fit(&published.trend, By::Words, &known, &published.exposures);
            let tells = [SparkMeasure::Share, SparkMeasure::Bursts, SparkMeasure::Carriers];
            let mut sum = 0.0;
            for i in 0..40 {
                let wt = 0.30 + 0.80 * (f64::from(i) + 0.5) / 40.0;
                let coupon = shown(&published, planted, wt, 0.0, &mut chance);
                let beside = shown(&published, planted, 0.17, 0.0, &mut chance);
                let beside = Beside { steels: vec![(stock, &beside)], fitted: false };
                let day = correction.on_day(&published.trend, &beside);
                sum += (day.density(&published.trend, &tells, &coupon).mean() - wt).abs();
            }
            sum / 40.0
        };
        let pieces: Vec<&Piece> = known.iter().collect();
        let advice = advise(&published.bench(By::Words), &pieces, &grades, &stock, &tested);
        let random = (chance.unit() * GRADES.len() as f64) as usize;
        gains.push(error(random) - error(advice.picks[0].steel));
    }
    let n = gains.len() as f64;
    let mean = gains.iter().sum::<f64>() / n;
    let sd = (gains.iter().map(|g| (g - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let z = mean / (sd / n.sqrt());
    println!("error falls by {mean:.4} %C more than with a random pick, {z:.1} standard errors");
    assert!(z > 2.33, "{mean} {sd} {z}");
}
