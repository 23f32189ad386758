//! Drawn smiths: what their photos give as figures, one line a piece.
//!
//! `FIRST=1000 COUNT=10 cargo test --release measure_drawn_smiths -- --ignored --nocapture > smiths.csv`: half a minute a
//! smith. Smiths 1000 to 1999 are for development, those from 2000 on are the final ones.

use crate::support::draw_sparks::{Piece, Smith};
use crate::support::streams::Chance;
use crate::support::{burst_net, models};
use snapspark::photo::{Limits, decode};
use snapspark::spark::{Exposed, Frame, PhotoConditions, Series, StreamFigures, measure, pool_photos};
use snapspark::units::{Depth, Interval, Time};
use std::fmt::Write;

/// Lowest and highest carbon of the grades that a smith has four of: 1018, 1030, 1045, 1060, 1080, 1095 (ASTM A29).
const GRADES: [(f64, f64); 6] =
    [(0.15, 0.20), (0.28, 0.34), (0.43, 0.50), (0.55, 0.65), (0.75, 0.88), (0.90, 1.03)];
/// Days with known steels, and days with coupons alone.
const DAYS: (u64, u64) = (3, 2);
const COUPONS_A_DAY: u64 = 4;
const PHOTOS: u64 = 3;

fn number(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

/// Figures of a piece's photos, and how many could be used.
fn figures(smith: &Smith, piece: Piece) -> Option<StreamFigures> {
    let mut series = Series::default();
    for frame in 0..PHOTOS {
        let photo = decode(&smith.photo(piece, frame).bytes, &Limits::default()).unwrap();
        let exposed = Exposed {
            seconds: photo.exposure.time.map(Time::seconds),
            focal_mm: photo.exposure.focal_length.map(Depth::millimetres),
            ..Exposed::default()
        };
        if let Ok(found) = measure(&photo.picture, exposed, burst_net()) {
            series.touches.push(vec![Frame::new(format!("{frame}"), found, None)]);
        }
    }
    let reading = &models().photo_reading;
    Some(pool_photos(series, Series::default(), &PhotoConditions::default(), reading)?.coupon.pooled)
}

fn line(kind: &str, smith: u64, piece: Piece, figures: Option<&StreamFigures>) {
    let mut line = format!("{smith},{},{kind},{},{:.4}", piece.session, piece.bar, piece.carbon_wt_pct);
    let Some(f) = figures else {
        println!("{line},0");
        return;
    };
    let seconds = f.exposed_s.map_or(String::new(), |s| format!("{s:.6}"));
    write!(line, ",{},{:.4},{seconds}", f.photos, f.resolved).unwrap();
    let ranges: [&Option<Interval<f64>>; 16] = [
        &f.share_in_flight,
        &f.share_bursting,
        &f.rays,
        &f.tiers,
        &f.onset,
        &f.bursts_per_px,
        &f.bursts_per_carrier,
        &f.secondary_share,
        &f.length,
        &f.longest,
        &f.stream_length,
        &f.flight,
        &f.carriers,
        &f.bursts,
        &f.bursts_per_s,
        &f.path_per_s,
    ];
    for range in ranges {
        match range {
            Some(r) => write!(line, ",{:.6},{:.6},{:.6}", r.low(), r.best(), r.high()).unwrap(),
            None => line += ",,,",
        }
    }
    println!("{line}");
}

#[test]
#[ignore = "hours: 75 photos a smith"]
fn measure_drawn_smiths() {
    let (first, count) = (number("FIRST", 2000), number("COUNT", 200));
    for smith_number in first..first + count {
        let smith = Smith::number(smith_number);
        let mut chance = Chance::new(smith_number);
        let stock = 0.10 + 0.12 * chance.unit();
        let mut left = GRADES.to_vec();
        let known: Vec<f64> = (0..4)
            .map(|_| {
                let (low, high) = left.remove((chance.unit() * left.len() as f64) as usize);
                low + (high - low) * chance.unit()
            })
            .collect();
        for session in 0..DAYS.0 + DAYS.1 {
            let base = Piece { session, bar: 0, carbon_wt_pct: stock };
            line("stock", smith_number, base, figures(&smith, base).as_ref());
            let known = known.iter().filter(|_| session < DAYS.0).zip(1..).map(|(c, bar)| ("known", *c, bar));
            let coupons = (0..COUPONS_A_DAY).filter(|_| session >= DAYS.0);
            let coupons: Vec<_> = coupons.map(|i| ("coupon", 0.03 + 1.12 * chance.unit(), 10 + i)).collect();
            for (kind, carbon_wt_pct, bar) in known.chain(coupons) {
                let piece = Piece { session, bar, carbon_wt_pct };
                line(kind, smith_number, piece, figures(&smith, piece).as_ref());
            }
        }
    }
}
