//! Drawn smiths: what their photos give as figures, one line a piece.

use crate::support::draw_sparks::{Piece, Smith};
use crate::support::models;
use snapspark::photo::{Limits, decode};
use snapspark::spark::{Exposed, Frame, PhotoConditions, PhotographedSparks, Series, measure, pool_photos};
use snapspark::units::{Depth, Interval, Time};

fn number(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

fn frames(smith: &Smith, piece: Piece, photos: u64) -> Vec<Vec<Frame>> {
    let mut touches = Vec::new();
    for k in 0..photos {
        let picture = smith.photo(piece, k);
        let photo = decode(&picture.bytes, &Limits::default()).unwrap();
        let e = &photo.exposure;
        let exposed = Exposed {
            seconds: e.time.map(Time::seconds),
            focal_mm: e.focal_length.map(Depth::millimetres),
            ..Exposed::default()
        };
        if let Ok(found) = measure(&photo.picture, exposed) {
            touches.push(vec![Frame::new(format!("{k}"), found, None)]);
        }
    }
    touches
}

fn put(out: &mut String, range: Option<&Interval<f64>>) {
    match range {
        Some(r) => out.extend([r.low(), r.best(), r.high()].map(|v| format!(",{v:.5}"))),
        None => *out += ",,,",
    }
}

fn line(p: &PhotographedSparks) -> String {
    let mut out = String::new();
    let c = &p.coupon.pooled;
    for r in [
        &c.share_in_flight,
        &c.share_bursting,
        &c.rays,
        &c.tiers,
        &c.onset,
        &c.bursts_per_px,
        &c.bursts_per_carrier,
        &c.secondary_share,
        &c.length,
        &c.stream_length,
        &c.flight,
        &c.carriers,
        &c.bursts,
        &p.says.contrast.bursts,
        &p.says.contrast.carriers,
        &p.says.contrast.length,
        &p.says.contrast.bursts_per_length,
    ] {
        put(&mut out, r.as_ref());
    }
    out
}

#[test]
#[ignore = "hours"]
fn dump_smiths() {
    let grades = [(0.15, 0.20), (0.28, 0.34), (0.43, 0.50), (0.55, 0.65), (0.75, 0.88), (0.90, 1.03)];
    let (first, count) = (number("FIRST", 1000), number("COUNT", 1));
    for n in first..first + count {
        let smith = Smith::number(n);
        let mut chance = crate::support::streams::Chance::new(n);
        let stock = 0.10 + 0.12 * chance.unit();
        // four of the grades
        let mut left: Vec<usize> = (0..grades.len()).collect();
        let known: Vec<f64> = (0..4)
            .map(|_| {
                let (low, high) = grades[left.remove((chance.unit() * left.len() as f64) as usize)];
                low + (high - low) * chance.unit()
            })
            .collect();
        for session in 0..5_u64 {
            let base = Piece { session, bar: 0, carbon_wt_pct: stock };
            let reference = frames(&smith, base, 3);
            let mut pieces: Vec<(String, Piece)> = vec![("stock".into(), base)];
            if session < 3 {
                pieces.extend(
                    known.iter().enumerate().map(|(i, c)| {
                        ("known".into(), Piece { session, bar: 1 + i as u64, carbon_wt_pct: *c })
                    }),
                );
            } else {
                pieces.extend((0..4).map(|i| {
                    let c = 0.03 + 1.12 * chance.unit();
                    ("coupon".into(), Piece { session, bar: 10 + i, carbon_wt_pct: c })
                }));
            }
            for (kind, piece) in pieces {
                let own = if kind == "stock" { reference.clone() } else { frames(&smith, piece, 3) };
                let series = |touches: Vec<Vec<Frame>>| Series { touches, inward: false };
                let pooled = pool_photos(
                    series(own),
                    series(reference.clone()),
                    &PhotoConditions::default(),
                    &models().photo_reading,
                );
                let head = format!("{n},{session},{kind},{},{:.4}", piece.bar, piece.carbon_wt_pct);
                match pooled {
                    Some(p) => println!("ROW {head},{}{}", p.coupon.pooled.photos, line(&p)),
                    None => println!("ROW {head},0"),
                }
            }
        }
    }
}
