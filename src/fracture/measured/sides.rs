use super::border::Border;
use super::layout::Layout;
use super::strip::Strip;
use crate::fracture::FacePhoto;
use crate::stats::quantile;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::SeedableRng;

/// A case shallower than this share of the thickness is the edge itself (judgement).
pub(super) const LEAST: f64 = 0.014;
/// Borders drawn to see how sure a side's median is.
const DRAWS: usize = 64;
const SEED: u64 = 0x5eed_face;
/// A column's border is read if nine in ten of its chances lie within this share of its depth, or this many rows
/// (judgement).
const CLEAR: f64 = 0.3;
const CLEAR_ROWS: f64 = 4.0;

/// The case along one side, px of the flat picture.
#[derive(Debug, Clone)]
pub(super) struct SideCase {
    pub(super) side: usize,
    /// Median over the side's columns without its corners: low, best, high; nine in ten by the drawn borders.
    pub(super) median: [f64; 3],
    /// Tenth and nine tenths of the columns.
    pub(super) spread: [f64; 2],
    /// Share of the columns with a border that can be read.
    pub(super) readable: f64,
    /// Share of the columns with a case deeper than [`LEAST`] of the thickness.
    pub(super) cased: f64,
}

impl SideCase {
    pub(super) fn of(strip: &Strip, border: &Border, layout: &Layout, depth_guess: f64) -> Self {
        let across = layout.thickness();
        let columns = middle(strip, layout, depth_guess);
        let row = strip.cell[1];
        // where the side has no case there is no depth
        let all = columns.len().max(1) as f64;
        let deep = |c: &usize| border.quantile(*c, 0.5) * row > LEAST * across;
        let cased = columns.iter().filter(|c| deep(c)).count() as f64 / all;
        let columns: Vec<usize> =
            if cased > 0.0 { columns.into_iter().filter(|c| deep(c)).collect() } else { columns };
        let medians: Vec<f64> = columns.iter().map(|c| border.quantile(*c, 0.5)).collect();
        let mut dice = Pcg64Mcg::seed_from_u64(SEED ^ strip.side as u64);
        let mut drawn: Vec<f64> = (0..DRAWS)
            .map(|_| {
                let path = border.drawn(&mut dice);
                let of_columns: Vec<f64> = columns.iter().map(|c| path[*c] as f64).collect();
                quantile(of_columns, 0.5)
            })
            .collect();
        drawn.sort_by(f64::total_cmp);
        let at = |q: f64| drawn[((DRAWS - 1) as f64 * q).round() as usize];
        let best = quantile(medians.clone(), 0.5);
        let wide = |c: &usize| border.quantile(*c, 0.95) - border.quantile(*c, 0.05);
        let share = |of: &dyn Fn(&usize) -> bool| {
            columns.iter().filter(|c| of(c)).count() as f64 / columns.len().max(1) as f64
        };
        Self {
            side: strip.side,
            median: [at(0.05).min(best) * row, best * row, at(0.95).max(best) * row],
            spread: [quantile(medians.clone(), 0.1) * row, quantile(medians.clone(), 0.9) * row],
            readable: share(&|c| wide(c) < (CLEAR * border.quantile(*c, 0.5)).max(CLEAR_ROWS)),
            cased,
        }
    }
}

/// Columns of a side away from its corners.
fn middle(strip: &Strip, layout: &Layout, depth: f64) -> Vec<usize> {
    if layout.sides() == 1 {
        return (0..strip.columns).collect();
    }
    let length = layout.length(strip.side);
    let away = (FacePhoto::CORNER * depth).min(length * (1.0 - FacePhoto::MIDDLE) / 2.0);
    (0..strip.columns)
        .filter(|c| {
            let along = (*c as f64 + 0.5) * strip.cell[0];
            along > away && along < length - away
        })
        .collect()
}
