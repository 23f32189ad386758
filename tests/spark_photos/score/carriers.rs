//! Carriers found against carriers drawn.

use super::FoundCarrier;
use super::matching::{bounds, fine, meet, one_to_one, share_near};
use super::quantile::{kaplan_meier, quantile};
use crate::support::draw_sparks::{Carrier, Truth};

/// Truth carriers count for precision from this visible length on, px; points of paths are compared every
/// so many px; and within this distance, px, or the width of a line if that is more. Rules of this score.
const VISIBLE_PX: f64 = 12.0;
const STEP_PX: f64 = 3.0;
const NEAR_PX: f64 = 4.0;
/// Share of the found path that must lie on the drawn one, and of the drawn one's visible length that the
/// found one must cover.
const ON_IT: f64 = 0.6;
const COVERED: f64 = 0.3;
/// From this share of cut carriers on lengths are estimated with censoring.
const MANY_CUT: f64 = 0.2;

/// One-to-one matches (found, drawn), longest overlap first.
pub(crate) fn matches(truth: &Truth, found: &[FoundCarrier]) -> Vec<(usize, usize)> {
    let near = NEAR_PX.max(truth.line_width_px.unwrap_or(0.0));
    let drawn: Vec<_> = truth.carriers.iter().map(|c| fine(&c.path, STEP_PX)).collect();
    let mut candidates = Vec::new();
    for (f, carrier) in found.iter().enumerate() {
        let path = fine(&carrier.path, STEP_PX);
        let around = bounds(&path, near);
        for (t, other) in drawn.iter().enumerate() {
            let wanted = truth.carriers[t].visible_px;
            if wanted < VISIBLE_PX || !meet(around, bounds(other, 0.0)) {
                continue;
            }
            let on_it = share_near(&path, other, near);
            let covered = share_near(other, &path, near) * length(&truth.carriers[t].path);
            if on_it >= ON_IT && covered >= COVERED * wanted {
                candidates.push((on_it * covered, f, t));
            }
        }
    }
    one_to_one(candidates)
}

fn length(path: &[[f64; 2]]) -> f64 {
    path.windows(2).map(|p| (p[1][0] - p[0][0]).hypot(p[1][1] - p[0][1])).sum()
}

/// 95th percentile of lengths (px, cut by the frame): plain where few are cut, else Kaplan-Meier.
pub(crate) fn p95(lengths: &[(f64, bool)]) -> Option<f64> {
    let cut = lengths.iter().filter(|l| l.1).count() as f64;
    if cut < MANY_CUT * lengths.len() as f64 {
        let all: Vec<f64> = lengths.iter().map(|l| l.0).collect();
        return quantile(&all, 0.95);
    }
    kaplan_meier(lengths, 0.95)
}

/// The truth's: whole lengths where few are cut (they are known), seen lengths as censored where many are.
pub(crate) fn p95_drawn(carriers: &[&Carrier]) -> Option<f64> {
    let cut = carriers.iter().filter(|c| c.cut_by_frame).count() as f64;
    let few = cut < MANY_CUT * carriers.len() as f64;
    let lengths: Vec<(f64, bool)> = carriers
        .iter()
        .map(|c| if few { (c.whole_length_px, false) } else { (c.length_px, c.cut_by_frame) })
        .collect();
    p95(&lengths)
}
