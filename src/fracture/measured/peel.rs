use super::regions::{Regions, searched};
use super::strip::Strip;

/// How often something is peeled off at most.
const ROUNDS: usize = 3;
/// A band thinner than this share of the way to the middle is the edge itself.
const THIN: f64 = 0.025;
/// A band is striped if its slopes point one way by more than this (0: any way, 1: one way).
const STRIPED: f64 = 0.62;
/// A band this much darker than the rest (natural logarithm) is a wall or a shadow.
const DARK: f64 = -1.1;
/// Rows that are no band.
const BARE: f64 = 2.0;
/// Share of a side's columns that a band must cover to be judged.
const COVERS: f64 = 0.15;

/// A side on which a band was taken off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Peeled {
    /// Only the edge.
    Edge,
    /// A notch or a lip, striped or smooth: the side cannot be read.
    Band,
    /// A wall seen at a slant, or a shadow beside the face: far darker than the face.
    Wall,
}

/// What was peeled off each side.
pub(super) struct Off {
    pub(super) what: Vec<Option<Peeled>>,
    /// How deep, px of the flat picture, column by column; empty where nothing was.
    pub(super) deep: Vec<Vec<f64>>,
}

impl Off {
    /// Whether a side cannot be read for what was peeled off it.
    pub(super) fn unread(&self, side: usize) -> bool {
        matches!(self.what.get(side), Some(Some(Peeled::Band | Peeled::Wall)))
    }
}

/// Looks for case and core, and takes off what is neither: the edge itself, the ground faces of a notch, a smooth lip,
/// a wall of the coupon that is seen at a slant.
pub(super) fn peeled(strips: &mut [Strip]) -> (Option<Regions>, Off) {
    let mut off = Off { what: vec![None; strips.len()], deep: vec![Vec::new(); strips.len()] };
    let mut regions = searched(strips);
    for _ in 0..ROUNDS {
        let Some(found) = &regions else { break };
        let mut again = false;
        for (side, strip) in strips.iter_mut().enumerate() {
            let Some(what) = junk(strip, found, side) else { continue };
            let rows: Vec<usize> = (0..strip.columns)
                .map(|c| found.borders[side].quantile(c, 0.9).ceil() as usize + 2)
                .collect();
            for (column, rows) in rows.iter().enumerate() {
                for row in 0..(*rows).min(strip.rows) {
                    strip.cells[column * strip.rows + row] = None;
                }
            }
            if off.what[side].is_none_or(|w| w == Peeled::Edge) {
                off.what[side] = Some(what);
                off.deep[side] = (0..strip.columns)
                    .map(|c| found.borders[side].quantile(c, 0.5) * strip.cell[1])
                    .collect();
            }
            again = true;
        }
        if !again {
            break;
        }
        regions = searched(strips);
    }
    (regions, off)
}

/// What a side's case is, if it is none.
fn junk(strip: &Strip, regions: &Regions, side: usize) -> Option<Peeled> {
    let border = &regions.borders[side];
    let deep: Vec<f64> = (0..strip.columns).map(|c| border.quantile(c, 0.5)).collect();
    let mut slopes = [0.0_f64; 3];
    let mut light = [[0.0_f64; 2]; 2];
    let mut covered = 0;
    for (column, deep) in deep.iter().enumerate() {
        let mut any = false;
        for row in 0..strip.rows {
            let Some(cell) = strip.at(column, row) else { continue };
            let k = usize::from(row as f64 + 0.5 > *deep);
            light[k][0] += 1.0;
            light[k][1] += f64::from(cell.features[0]);
            if k == 0 {
                any = true;
                for (s, v) in slopes.iter_mut().zip(cell.slopes) {
                    *s += f64::from(v);
                }
            }
        }
        covered += usize::from(any && *deep > BARE);
    }
    if (covered as f64) < COVERS * strip.columns as f64 || light[0][0] < 1.0 {
        return None;
    }
    let middle = super::sides::quantile(deep.into_iter().filter(|d| *d > BARE).collect(), 0.5);
    let total = slopes[0] + slopes[2];
    let one_way = if total > 0.0 { libm::hypot(slopes[0] - slopes[2], 2.0 * slopes[1]) / total } else { 0.0 };
    let darker = light[0][1] / light[0][0] - light[1][1] / light[1][0].max(1.0);
    if darker < DARK {
        return Some(Peeled::Wall);
    }
    if middle < THIN * strip.rows as f64 {
        return Some(Peeled::Edge);
    }
    (one_way > STRIPED).then_some(Peeled::Band)
}
