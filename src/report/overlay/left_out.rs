//! Patches of the photo that were not read.

use super::drawing::Drawing;
use super::palette::WHITE;
use super::view::View;
use crate::spark::{LeftOut, WhyLeftOut};

/// How strongly hatching and outline cover the photo, share. Judgement: seen, and seen through.
pub(super) const COVER: f64 = 0.45;

/// Hatches the patches; where they touch, patches of one kind become one.
pub(super) fn draw(on: &mut Drawing, view: &View, patches: &[LeftOut]) {
    let scaled: Vec<LeftOut> = patches
        .iter()
        .map(|p| LeftOut { patch: p.patch.map(|v| v * view.scale), why: p.why })
        .filter(|p| p.patch.iter().all(|v| v.is_finite()))
        .collect();
    for why in [WhyLeftOut::Dense, WhyLeftOut::Blown, WhyLeftOut::Clutter] {
        let of_kind: Vec<[f64; 4]> = scaled.iter().filter(|p| p.why == why).map(|p| p.patch).collect();
        if !of_kind.is_empty() {
            hatch(on, view, &of_kind, why);
        }
    }
}

/// Hatches one kind, row by row.
pub(super) fn hatch(on: &mut Drawing, view: &View, patches: &[[f64; 4]], why: WhyLeftOut) {
    let (width, height) = (on.width(), on.height());
    let inside = |y: usize| {
        let mut row = vec![false; width];
        for patch in patches.iter().filter(|p| (p[1].round() as usize..p[3].round() as usize).contains(&y)) {
            let [left, right] = [patch[0], patch[2]].map(|v| (v.round() as usize).min(width));
            row[left.min(right)..right].fill(true);
        }
        row
    };
    let (spacing, line) = (view.text * 0.7, (view.line() * 0.6).max(1.0));
    let outline = line.ceil() as usize;
    // the rows above, this one, and below, as far as the outline is wide
    let mut near: Vec<Vec<bool>> = (0..outline).map(|_| vec![false; width]).collect();
    near.extend((0..=outline).map(&inside));
    for y in 0..height {
        let here = &near[outline];
        for x in (0..width).filter(|x| here[*x]) {
            let edge = !(near[0][x] && near[2 * outline][x])
                || x.checked_sub(outline).is_some_and(|left| !here[left])
                || here.get(x + outline).is_some_and(|right| !right);
            if edge || on_line(x as f64, y as f64, spacing, line, why) {
                on.mix(x, y, WHITE, COVER);
            }
        }
        near.remove(0);
        near.push(if y + outline + 1 < height { inside(y + outline + 1) } else { vec![false; width] });
    }
}

/// Whether a pixel is on a line of the hatching: dense light slants, blown-out light crosses, other things dot.
pub(super) fn on_line(x: f64, y: f64, spacing: f64, line: f64, why: WhyLeftOut) -> bool {
    let slanted = |v: f64| v.rem_euclid(spacing * std::f64::consts::SQRT_2) < line * std::f64::consts::SQRT_2;
    match why {
        WhyLeftOut::Dense => slanted(x + y),
        WhyLeftOut::Blown => slanted(x + y) || slanted(x - y),
        WhyLeftOut::Clutter => {
            // every other row half a step aside
            let row = (y / spacing).floor();
            let aside = if row % 2.0 == 0.0 { 0.0 } else { spacing / 2.0 };
            let middle = |v: f64| v.rem_euclid(spacing) - spacing / 2.0;
            libm::hypot(middle(x + aside), middle(y)) < line * 1.5
        }
    }
}
