//! Carriers, traced one by one.

use super::UNSURE;
use super::drawing::{Drawing, Point};
use super::palette::{Colour, PALE_BLUE, SKY_BLUE, VERMILLION};
use super::pen::{Pen, distance};
use super::view::View;
use crate::spark::{Carrier, CarrierEnd, Spot, StreamPhoto};

/// Lightness by turns, so that neighbours can be told apart.
pub(super) const BY_TURNS: [Colour; 2] = [SKY_BLUE, PALE_BLUE];

/// Draws every carrier, then every end that is no end.
pub(super) fn draw(on: &mut Drawing, view: &View, found: &StreamPhoto) {
    let aside = found.line_width.max(0.0) * view.scale / 2.0;
    let traced: Vec<(&Carrier, Vec<Point>)> =
        round(found).into_iter().map(|c| (c, beside(view, &view.path(&c.path), aside))).collect();
    for (turn, colour) in BY_TURNS.into_iter().enumerate() {
        for unsure in [false, true] {
            let paths: Vec<Vec<Point>> = traced
                .iter()
                .skip(turn)
                .step_by(2)
                .filter(|(c, _)| (c.certainty < UNSURE) == unsure)
                .map(|(_, path)| path.clone())
                .collect();
            Pen::new(colour, view.line()).dashed(unsure).draw(on, &paths);
        }
    }
    for (carrier, path) in &traced {
        let outward = path.iter().copied();
        mark(on, view, carrier.end, &outward.clone().rev().collect::<Vec<_>>());
        mark(on, view, carrier.start, &outward.collect::<Vec<_>>());
    }
}

/// The carriers in the order in which they lie round the contact.
fn round(found: &StreamPhoto) -> Vec<&Carrier> {
    let [x, y] = found.stream.contact;
    let angle = |c: &Carrier| {
        let [mx, my] = c.path.get(c.path.len() / 2).copied().unwrap_or([x, y]);
        libm::atan2(my - y, mx - x)
    };
    let mut order: Vec<(f64, &Carrier)> = found.carriers.iter().map(|c| (angle(c), c)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    order.into_iter().map(|(_, carrier)| carrier).collect()
}

/// A line along one side of a streak of half width `aside`, px, so that the streak stays to be seen.
pub(super) fn beside(view: &View, path: &[Point], aside: f64) -> Vec<Point> {
    let away = aside + Pen::new(SKY_BLUE, view.line()).reach();
    // which way the streak goes is told by points a letter apart: the line must not shake where they do
    (0..path.len())
        .map(|i| {
            let at = path[i];
            let before = path[..i].iter().rev().find(|p| distance(**p, at) >= view.text / 2.0);
            let after = path[i..].iter().find(|p| distance(**p, at) >= view.text / 2.0);
            let ends = [path.first(), path.last()];
            let [[ax, ay], [bx, by]] =
                [before.or(ends[0]), after.or(ends[1])].map(|p| p.copied().unwrap_or(at));
            let long = distance([ax, ay], [bx, by]);
            let side = if long > 0.0 { [(by - ay) / long, (ax - bx) / long] } else { [0.0, -1.0] };
            [at[0] + side[0] * away, at[1] + side[1] * away]
        })
        .collect()
}

/// Draws the mark of an end that is no end; `inward` goes from there along the line.
pub(super) fn mark(on: &mut Drawing, view: &View, end: CarrierEnd, inward: &[Spot]) {
    let Some(&tip) = inward.first() else { return };
    let ahead = inward.iter().find(|p| distance(**p, tip) > view.line());
    let back = ahead.map_or([0.0, 0.0], |p| {
        let long = distance(*p, tip);
        [(p[0] - tip[0]) / long, (p[1] - tip[1]) / long]
    });
    let pen = Pen::new(VERMILLION, view.line() * 1.2);
    match end {
        CarrierEnd::Cut => {
            // inside the picture, though the carrier reaches its edge
            let limit = [on.width() as f64, on.height() as f64].map(|v| (v - pen.reach()).max(pen.reach()));
            let at = [0, 1].map(|k| tip[k].clamp(pen.reach(), limit[k]));
            let half = view.text * 0.35;
            let bar = [1.0, -1.0].map(|s| [at[0] - back[1] * s * half, at[1] + back[0] * s * half]);
            pen.draw(on, &[bar.to_vec()]);
        }
        CarrierEnd::Hidden => {
            for step in 0..3 {
                let by = view.line() * (1.0 + 2.6 * f64::from(step));
                pen.disc(on, [tip[0] - back[0] * by, tip[1] - back[1] * by], view.line() * 0.8);
            }
        }
        CarrierEnd::Free | CarrierEnd::AtWheel | CarrierEnd::Burst => {}
    }
}
