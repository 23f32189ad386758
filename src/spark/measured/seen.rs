use super::fit::distance;
use super::line::Line;
use super::sight::{HALVED, Sight, Sights};
use super::stream_photo::Spot;
use crate::net::{Planes, UNet};
use crate::photo::Plane;
use std::collections::HashMap;

/// Side of the squares that are looked at one by one, places: what lies in memory at once.
const SQUARE: usize = 384;
/// Places around a square that are seen with it: as far as the network sees (33), up to whole [`HALVED`].
const AROUND: usize = 40;
/// A square is looked at where lines are, and so far around them, places: rays too short to be traced lie near (judgement).
const NEAR: usize = 24;
/// Bursts are at least so far apart, px of the plane (judgement).
const APART: f64 = 7.0;
/// Logarithm of the most rays that are told: an answer to pixels unlike all others stays a number (judgement: 33).
const MOST_RAYS: f64 = 3.5;

/// A burst that the network sees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SeenBurst {
    /// Its middle, px of the plane.
    pub(super) at: Spot,
    /// Log odds that the network gives it.
    pub(super) odds: f64,
    /// Number of its rays.
    pub(super) rays: f64,
}

/// What a network says of each [`Sight::STRIDE`] by [`Sight::STRIDE`] places.
struct Heat {
    odds: Plane,
    rays: Plane,
}

/// Log odds of what was not looked at.
const NOTHING: f32 = -30.0;

/// The bursts with at least these log odds, the surest first.
pub(super) fn seen_bursts(net: &UNet, sights: &Sights<'_>, lines: &[Line], least: f64) -> Vec<SeenBurst> {
    let heat = heat(net, sights, lines);
    let (odds, width, corner) = (&heat.odds, heat.odds.width, sights.corner());
    let mut peaks: Vec<usize> = (0..odds.values.len())
        .filter(|i| f64::from(odds.values[*i]) >= least && is_peak(odds, i % width, i / width))
        .collect();
    peaks.sort_by(|a, b| odds.values[*b].total_cmp(&odds.values[*a]).then(a.cmp(b)));
    let mut near: HashMap<(i64, i64), Vec<Spot>> = HashMap::new();
    let mut seen = Vec::new();
    for i in peaks {
        let (x, y) = (i % width, i / width);
        let off = top(odds, x, y);
        let at = [x, y].map(|v| v as f64 + 0.5);
        let at = [0, 1].map(|k| corner[k] + Sight::STRIDE as f64 * (at[k] + off[k]) * sights.pitch());
        let (column, row) = ((at[0] / APART) as i64, (at[1] / APART) as i64);
        let mut around = (column - 1..=column + 1).flat_map(|c| (row - 1..=row + 1).map(move |r| (c, r)));
        if around.any(|cell| near.get(&cell).is_some_and(|n| n.iter().any(|p| distance(*p, at) < APART))) {
            continue;
        }
        near.entry((column, row)).or_default().push(at);
        let rays = libm::exp(f64::from(heat.rays.values[i]).clamp(0.0, MOST_RAYS));
        seen.push(SeenBurst { at, odds: f64::from(odds.values[i]), rays });
    }
    seen
}

fn is_peak(odds: &Plane, x: usize, y: usize) -> bool {
    let here = odds.row(y)[x];
    let columns = x.saturating_sub(1)..(x + 2).min(odds.width);
    (y.saturating_sub(1)..(y + 2).min(odds.height))
        .all(|y| odds.row(y)[columns.clone()].iter().all(|v| *v <= here))
}

/// Where the highest place around a peak lies, from its middle: a parabola through three values each way.
fn top(odds: &Plane, x: usize, y: usize) -> [f64; 2] {
    let off = |before: Option<f32>, here: f32, after: Option<f32>| {
        let (Some(before), Some(after)) = (before, after) else { return 0.0 };
        let bend = f64::from(before) - 2.0 * f64::from(here) + f64::from(after);
        if bend < 0.0 { (0.5 * f64::from(before - after) / bend).clamp(-0.5, 0.5) } else { 0.0 }
    };
    let row = odds.row(y);
    let value = |row: Option<usize>| row.filter(|y| *y < odds.height).map(|y| odds.row(y)[x]);
    [
        off(x.checked_sub(1).map(|x| row[x]), row[x], row.get(x + 1).copied()),
        off(value(y.checked_sub(1)), row[x], value(Some(y + 1))),
    ]
}

fn heat(net: &UNet, sights: &Sights<'_>, lines: &[Line]) -> Heat {
    let [width, height] = sights.size();
    let [columns, rows] = [width, height].map(|v| v.div_ceil(Sight::STRIDE));
    let mut heat = Heat { odds: Plane::new(columns, rows), rays: Plane::new(columns, rows) };
    heat.odds.values.fill(NOTHING);
    for [left, top, right, bottom] in lit(sights, lines) {
        let before = |v: usize| v.saturating_sub(AROUND) / HALVED * HALVED;
        let from = [before(left), before(top)];
        let after = |v: usize, all: usize| (v + AROUND).next_multiple_of(HALVED).min(all);
        let to = [after(right, width), after(bottom, height)];
        let said = said(net, &sights.part(from, [to[0] - from[0], to[1] - from[1]]).told());
        let [first, above] = [left, top].map(|v| v / Sight::STRIDE);
        let [last, below] = [right, bottom].map(|v| v.div_ceil(Sight::STRIDE));
        let [column, begin] = from.map(|v| v / Sight::STRIDE);
        for row in above..below {
            for (plane, k) in [(&mut heat.odds, 0), (&mut heat.rays, 1)] {
                let said = &said.plane(k)[(row - begin) * said.width..][..said.width];
                plane.values[row * columns..][first..last]
                    .copy_from_slice(&said[first - column..][..last - first]);
            }
        }
    }
    heat
}

/// What a network says of a part of a photo, and of the same in a mirror: the mean, so that what is found does not hang on
/// which way the stream goes.
fn said(net: &UNet, told: &Planes) -> Planes {
    let mut mirrored = told.mirrored();
    mirrored.plane_mut(Sight::IN_X).iter_mut().for_each(|v| *v = -*v);
    let mut said = net.over(told);
    for (v, other) in said.values.iter_mut().zip(net.over(&mirrored).mirrored().values) {
        *v = f32::midpoint(*v, other);
    }
    said
}

/// The part of each square around which lines are: left, upper, right, lower edge, places.
fn lit(sights: &Sights<'_>, lines: &[Line]) -> Vec<[usize; 4]> {
    let (size, corner) = (sights.size(), sights.corner());
    let columns = size[0].div_ceil(SQUARE);
    let mut parts: Vec<Option<[usize; 4]>> = vec![None; columns * size[1].div_ceil(SQUARE)];
    for p in lines.iter().flat_map(|l| &l.piece.points) {
        let at = [0, 1].map(|k| ((p[k] - corner[k]) / sights.pitch()) as usize);
        let [x, y] = [0, 1].map(|k| at[k].saturating_sub(NEAR)..(at[k] + NEAR + 1).min(size[k]));
        for row in y.start / SQUARE..y.end.div_ceil(SQUARE) {
            for column in x.start / SQUARE..x.end.div_ceil(SQUARE) {
                let inside = |v: &std::ops::Range<usize>, i: usize| {
                    (v.start.max(i * SQUARE), v.end.min((i + 1) * SQUARE))
                };
                let ((left, right), (top, bottom)) = (inside(&x, column), inside(&y, row));
                let part = parts[row * columns + column].get_or_insert([left, top, right, bottom]);
                *part = [part[0].min(left), part[1].min(top), part[2].max(right), part[3].max(bottom)];
            }
        }
    }
    parts.into_iter().flatten().collect()
}
