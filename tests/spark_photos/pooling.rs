//! Pooling: more photos narrow, copies do not, order does not matter, few carriers answer widely.

use crate::support::models;
use crate::support::streams::{Chance, Truth, add, empty, frame, series};
use proptest::prelude::*;
use snapspark::spark::{
    CarrierEnd, Frame, OverTime, PhotoConditions, PhotoNote, PhotographedSparks, Series, StreamFigures,
    pool_photos,
};
use snapspark::units::{Depth, Interval};

const TRUTH: Truth = Truth { carriers: 30.0, share: 0.4, length: 200.0, spread: 0.0 };

fn read(coupon: Series, stock: Series) -> PhotographedSparks {
    pool_photos(coupon, stock, &PhotoConditions::default(), &models().photo_reading).expect("photos")
}

fn alone(coupon: Series) -> StreamFigures {
    read(coupon, Series::default()).coupon.pooled
}

/// Every range with a width.
fn ranges(f: &StreamFigures) -> Vec<Interval<f64>> {
    let all = [
        f.carriers,
        f.bursts,
        f.length,
        f.longest,
        f.share_bursting,
        f.share_in_flight,
        f.bursts_per_carrier,
        f.bursts_per_px,
        f.onset,
        f.stream_length,
    ];
    all.into_iter().flatten().collect()
}

fn width(range: &Interval<f64>) -> f64 {
    (range.high() - range.low()) / range.best()
}

/// Mean relative width of the figures over many draws.
fn widths(frames: &[usize]) -> Vec<f64> {
    const DRAWS: u64 = 40;
    let mut sums: Vec<f64> = Vec::new();
    for seed in 0..DRAWS {
        let figures = alone(series(&TRUTH, frames, &mut Chance::new(seed)));
        let widths = ranges(&figures).iter().map(width).collect::<Vec<_>>();
        sums.resize(widths.len(), 0.0);
        sums.iter_mut().zip(widths).for_each(|(s, w)| *s += w / DRAWS as f64);
    }
    sums
}

#[test]
fn more_photos_and_more_touches_narrow() {
    let (one, four, four_touches) = (widths(&[1]), widths(&[4]), widths(&[1, 1, 1, 1]));
    assert_eq!(one.len(), 10, "a figure is missing");
    for i in 0..one.len() {
        assert!(four[i] < one[i], "figure {i}: {} after four frames, {} after one", four[i], one[i]);
        // frames of one touch do not say how touches differ
        assert!(
            four_touches[i] < 1.02 * four[i],
            "figure {i}: {} after four touches, {}",
            four_touches[i],
            four[i]
        );
    }
}

#[test]
fn few_carriers_answer_widely() {
    let of = |carriers| {
        let truth = Truth { carriers, ..TRUTH };
        alone(series(&truth, &[1], &mut Chance::new(5))).share_bursting.unwrap()
    };
    let (few, many) = (of(6.0), of(150.0));
    assert!(few.high() - few.low() > 0.35, "{few:?}");
    assert!(many.high() - many.low() < 0.2, "{many:?}");
}

#[test]
fn a_copy_is_found_and_does_not_narrow() {
    let once = series(&TRUTH, &[2], &mut Chance::new(3));
    let mut twice = once.clone();
    let mut copies = once.touches[0].clone();
    for copy in &mut copies {
        copy.name = format!("copy-of-{}", copy.name);
    }
    twice.touches.push(copies);
    let (once, twice) = (read(once, Series::default()), read(twice, Series::default()));
    assert_eq!(once.coupon.pooled, twice.coupon.pooled);
    let found: Vec<&PhotoNote> = twice.notes.iter().filter(|n| matches!(n, PhotoNote::Copy { .. })).collect();
    assert_eq!(found.len(), 2, "{:?}", twice.notes);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]
    /// Sums in another order differ by rounding alone.
    #[test]
    fn order_does_not_matter(seed in 0_u64..1000, turn in 1_usize..5) {
        const ROUNDING: f64 = 1e-9;
        let truth = Truth { spread: 0.05, ..TRUTH };
        let straight = series(&truth, &[2, 3, 1], &mut Chance::new(seed));
        let mut turned = straight.clone();
        for touch in &mut turned.touches {
            touch.reverse();
            for frame in touch.iter_mut() {
                frame.photo.carriers.rotate_left(turn);
            }
        }
        let (a, b) = (alone(straight), alone(turned));
        for (a, b) in ranges(&a).iter().zip(ranges(&b)) {
            for (a, b) in [(a.low(), b.low()), (a.best(), b.best()), (a.high(), b.high())] {
                prop_assert!((a - b).abs() <= ROUNDING * a.abs().max(1e-3), "{a} {b}");
            }
        }
    }
}

/// Sparks leave at a steady rate; the same stream is photographed with two shutters. By hand: 300 sparks fly 400 px
/// in one unit of time each, half of them burst. A shutter of 1 records R (t + T) = 600 carriers of 200 px on the
/// average with 150 bursts; one of 0.25 records 375 carriers of 80 px with 37.5: shares as seen of 0.25 and 0.10,
/// bursts for each px 1/800 both times, and 0.5 for the whole flight.
#[test]
fn the_share_of_a_whole_flight_is_the_same_for_any_shutter() {
    const TOLERANCE: f64 = 0.01;
    for (carriers, length, bursts, seen) in [(600, 200.0, 150, 0.25), (375, 80.0, 38, 0.10)] {
        let mut photo = empty();
        for i in 0..carriers {
            let one = [(100.0, 5)];
            add(&mut photo, length, if i < bursts { &one } else { &[] });
        }
        let figures = alone(one(frame("a", photo)));
        assert!((figures.share_bursting.unwrap().best() - seen).abs() < TOLERANCE);
        assert!((figures.share_in_flight.unwrap().best() - 0.5).abs() < TOLERANCE);
    }
}

fn plain(carriers: usize, bursting: usize, length: f64) -> Frame {
    let mut photo = empty();
    for i in 0..carriers {
        // no two lengths alike
        let length = length * (1.0 + 1e-3 * i as f64);
        add(&mut photo, length, if i < bursting { &[(600.0, 5)][..] } else { &[] });
    }
    frame("a", photo)
}

fn one(frame: Frame) -> Series {
    Series { touches: vec![vec![frame]], inward: true }
}

/// Twice the carriers, and of these twice as many burst: four times the bursts.
#[test]
fn against_stock() {
    let contrast = |coupon, stock| read(one(coupon), one(stock)).says.contrast;
    let ratio = contrast(plain(80, 64, 300.0), plain(40, 16, 300.0));
    let near = |range: Option<Interval<f64>>, want: f64| {
        let range = range.unwrap();
        assert!((range.best() / want - 1.0).abs() < 0.05, "{range:?}, {want}");
        assert!(range.low() < want && want < range.high(), "{range:?}, {want}");
    };
    near(ratio.bursts, 4.0);
    near(ratio.carriers, 2.0);
    near(ratio.bursts_per_length, 2.0);
    near(ratio.length, 1.0);
    // the coupon at half the shutter records half the path and half the bursts of each second
    let mut short = plain(80, 32, 150.0);
    short.photo.exposed.seconds = Some(1.0 / 120.0);
    let read = read(one(short), one(plain(40, 16, 300.0)));
    near(read.says.contrast.bursts, 4.0);
    near(read.says.contrast.carriers, 2.0);
    assert!(read.notes.iter().any(|n| matches!(n, PhotoNote::ExposuresDiffer { .. })));
}

#[test]
fn unknown_exposures_and_other_sizes_are_said() {
    let mut small = plain(40, 16, 150.0);
    small.photo.size = [2000, 1500];
    small.photo.exposed.seconds = None;
    small.photo.stream.length = Interval::new(480.0, 500.0, 520.0);
    let told = read(one(plain(80, 64, 300.0)), one(small));
    assert!(told.notes.contains(&PhotoNote::ExposureUnknown) && told.notes.contains(&PhotoNote::SizesDiffer));
    // half the pixels, the same stream
    assert!((told.says.contrast.length.unwrap().best() - 1.0).abs() < 0.05);
    assert!((told.says.contrast.bursts_per_length.unwrap().best() - 2.0).abs() < 0.1);
}

#[test]
fn a_stock_without_bursts_makes_no_ratio() {
    let told = read(one(plain(80, 64, 300.0)), one(plain(40, 0, 300.0)));
    assert_eq!(told.says.contrast.bursts, None);
    assert!(told.notes.contains(&PhotoNote::StockWithoutBursts));
}

#[test]
fn carriers_that_leave_the_picture_are_longer_than_seen() {
    let mut whole = plain(60, 0, 300.0);
    let median = |frame: &Frame| alone(one(frame.clone())).length.unwrap();
    let before = median(&whole);
    // the shorter half is cut off where it would have gone on
    for carrier in whole.photo.carriers.iter_mut().take(25) {
        carrier.end = CarrierEnd::Cut;
    }
    assert!(median(&whole).best() > before.best());
    // all of them: nobody knows
    whole.photo.carriers.iter_mut().for_each(|c| c.end = CarrierEnd::Cut);
    assert_eq!(alone(one(whole)).length, None);
}

#[test]
fn a_hidden_beginning_widens_and_moves_nothing() {
    let mut frame = plain(60, 0, 300.0);
    let before = alone(one(frame.clone())).length.unwrap();
    for carrier in frame.photo.carriers.iter_mut().step_by(3) {
        carrier.start = CarrierEnd::Hidden;
        carrier.path = vec![[200.0, 500.0], [200.0 + carrier.length, 500.0]];
    }
    let after = alone(one(frame)).length.unwrap();
    assert!((after.best() / before.best() - 1.0).abs() < 0.02);
    assert!(after.low() <= before.low() && after.high() > before.high());
}

#[test]
fn touches_deeper_than_the_surface_are_not_its() {
    let touches = |bursting: [usize; 3]| Series {
        // six frames each: on one photo twice as many bursts may be chance, by what finds miss
        touches: bursting
            .iter()
            .map(|b| (0..6).map(|i| plain(100, *b, 300.0 + *b as f64 + 0.1 * f64::from(i))).collect())
            .collect(),
        inward: true,
    };
    let (rich, stock) = (touches([80, 40, 15]), one(plain(100, 12, 300.0)));
    let told = read(rich.clone(), stock.clone());
    assert_eq!(told.says.over_time, Some(OverTime::RichThenPlain));
    assert_eq!(told.coupon.surface, 1);
    assert!(told.notes.contains(&PhotoNote::SurfaceTouches { used: 1, of: 3 }));
    assert!((told.coupon.pooled.share_bursting.unwrap().best() - 0.8).abs() < 1e-9);
    let over_time = |bursting| read(touches(bursting), stock.clone()).says.over_time;
    assert_eq!(over_time([15, 80, 20]), Some(OverTime::PlainThenRichThenPlain));
    assert_eq!(over_time([80, 78, 82]), Some(OverTime::RichThroughout));
    assert_eq!(over_time([14, 12, 13]), Some(OverTime::PlainThroughout));
    // photos without times may be frames of one touch: no change inward is read from them
    let mixed = read(Series { inward: false, ..rich.clone() }, stock.clone());
    assert_eq!((mixed.says.over_time, mixed.coupon.surface), (None, 3));
    // a measured depth decides: two of three touches within 0.08 mm
    let mm = |mm| Depth::from_millimetres(mm).ok();
    let conditions = PhotoConditions { ground: mm(0.12), surface: mm(0.08), ..PhotoConditions::default() };
    let told = pool_photos(rich, Series::default(), &conditions, &models().photo_reading).unwrap();
    assert_eq!(told.coupon.surface, 2);
}

/// A rim of 150 mm seen 750 px wide on the first photo, 375 px on one of half its size: 0.2 mm a pixel, and a stream
/// of 1000 px is 200 mm. At 20 m/s a shutter of 1/60 s passes 333 mm, more than the 80 mm of a flight.
#[test]
fn the_wheel_gives_the_scale() {
    let rim = |px: f64| Interval::new(px - 4.0, px, px + 4.0);
    let mut small = plain(40, 16, 150.0);
    small.photo.size = [2000, 1500];
    small.rim = rim(375.0);
    let coupon = Frame { rim: rim(750.0), ..plain(80, 64, 300.0) };
    let mm = |mm| Depth::from_millimetres(mm).ok();
    let speed = snapspark::units::Speed::from_metres_per_second(20.0).ok();
    let conditions = PhotoConditions { wheel: mm(150.0), speed, ..PhotoConditions::default() };
    let told = pool_photos(one(coupon), one(small.clone()), &conditions, &models().photo_reading).unwrap();
    let scale = told.mm_per_px.unwrap();
    assert!((scale.best() / 0.2 - 1.0).abs() < 0.01 && scale.low() < 0.2 && 0.2 < scale.high(), "{scale:?}");
    let stream = StreamFigures::in_mm(&told.coupon.pooled.stream_length.unwrap(), &scale).unwrap();
    assert!((stream.best() / 200.0 - 1.0).abs() < 0.01);
    let shutter = told.coupon.shutters[0][0].unwrap();
    assert!((shutter.flights / (333.3 / 80.0) - 1.0).abs() < 0.01 && !shutter.too_short);
    small.rim = None;
    let told = pool_photos(one(small), Series::default(), &conditions, &models().photo_reading).unwrap();
    assert!(told.notes.contains(&PhotoNote::RimUnseen) && told.mm_per_px.is_none());
}

#[test]
fn every_figure_stands_at_the_ends_of_its_scale() {
    let all = alone(one(plain(20, 20, 300.0)));
    let per_carrier = all.bursts_per_carrier.unwrap();
    assert!(
        per_carrier.low() < 0.97 && per_carrier.best() == 1.0 && per_carrier.high() < 1.2,
        "{per_carrier:?}"
    );
    assert!(all.share_bursting.unwrap().low() < 0.9);
    let none = alone(one(plain(20, 0, 300.0)));
    assert_eq!((none.rays, none.tiers, none.onset, none.secondary_share), (None, None, None, None));
    assert_eq!(none.share_bursting.unwrap().best(), 0.0);
    assert!(none.bursts_per_carrier.unwrap().high() > 0.05 && none.share_in_flight.unwrap().high() > 0.05);
    let nothing = alone(one(frame("a", empty())));
    assert_eq!((nothing.share_bursting, nothing.length, nothing.bursts_per_px), (None, None, None));
    assert_eq!(nothing.carriers.unwrap().best(), 0.0);
}

/// Bursts that follow each other by chance, 1 for every 200 px: on a way of 400 px e^-2 of the sparks are spared,
/// whatever part of it was seen. Numbers by the Poisson law, by hand: of 100
/// pieces of 100 px (mean 0.5) 61 have none, 30 one, 8 two, 1 three; of 100 pieces of 400 px (mean 2) 14, 27, 27, 18,
/// 9, 4, 1.
#[test]
fn sparks_that_burst_again_and_again_are_no_more_than_all() {
    const TOLERANCE: f64 = 0.06;
    let spared = (-2.0_f64).exp();
    for (length, numbers) in [(100.0, &[61, 30, 8, 1][..]), (400.0, &[14, 27, 27, 18, 9, 4, 1])] {
        let mut photo = empty();
        for (bursts, carriers) in numbers.iter().enumerate() {
            for _ in 0..*carriers {
                add(&mut photo, length, &vec![(300.0, 5); bursts]);
            }
        }
        let share = alone(one(frame("a", photo))).share_in_flight.unwrap();
        assert!((share.best() - (1.0 - spared)).abs() < TOLERANCE, "{length}: {share:?}");
        assert!(share.low() < 1.0 - spared && share.high() <= 1.0, "{length}: {share:?}");
    }
}
