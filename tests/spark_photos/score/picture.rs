//! The score of one picture.

use super::{Found, bursts, carriers};
use crate::support::draw_sparks::{Carrier, Truth};
use serde::Serialize;

/// Counts and errors of one picture; `None` where the picture cannot tell.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PictureScore {
    pub(crate) file: String,
    pub(crate) rig: String,
    pub(crate) carbon_wt_pct: Option<f64>,
    /// Carriers that can be told apart, and carriers found.
    pub(crate) resolvable: usize,
    pub(crate) found: usize,
    /// (found - resolvable) / resolvable
    pub(crate) count_error: Option<f64>,
    /// Resolvable carriers that were found, and found ones that are a drawn one.
    pub(crate) carriers_recalled: usize,
    pub(crate) carriers_right: usize,
    /// 95th percentiles of length, px.
    pub(crate) p95_px: Option<f64>,
    pub(crate) p95_found_px: Option<f64>,
    pub(crate) bursts_resolvable: usize,
    pub(crate) bursts_visible: usize,
    pub(crate) bursts_found: usize,
    pub(crate) bursts_recalled: usize,
    pub(crate) bursts_right: usize,
    /// Found bursts that were a crossing of two carriers.
    pub(crate) crossings: usize,
    /// Matched resolvable bursts, and those of them whose rays are right within one.
    pub(crate) rays_judged: usize,
    pub(crate) rays_right: usize,
    /// Of the same, those whose tier is right.
    pub(crate) tiers_right: usize,
    /// Share of carriers that burst.
    pub(crate) share_bursting: Option<f64>,
    pub(crate) share_bursting_found: Option<f64>,
    /// Bursts per carrier.
    pub(crate) bursts_per_carrier: Option<f64>,
    pub(crate) bursts_per_carrier_found: Option<f64>,
}

impl PictureScore {
    /// (found - drawn) / drawn of the 95th percentile.
    pub(crate) fn p95_error(&self) -> Option<f64> {
        Some((self.p95_found_px? - self.p95_px?) / self.p95_px?)
    }

    /// |found - drawn| of the share of carriers that burst.
    pub(crate) fn share_error(&self) -> Option<f64> {
        Some((self.share_bursting_found? - self.share_bursting?).abs())
    }
}

fn ratio(part: f64, whole: usize) -> Option<f64> {
    (whole > 0).then(|| part / whole as f64)
}

/// Scores what was found in one usable picture.
pub(crate) fn score_picture(truth: &Truth, found: &Found) -> PictureScore {
    let resolvable: Vec<&Carrier> = truth.resolvable().collect();
    let carrier_matches = carriers::matches(truth, &found.carriers);
    let burst_matches = bursts::matches(truth, &found.bursts);
    let lengths: Vec<(f64, bool)> = found.carriers.iter().map(|c| (c.length_px, c.cut_by_frame)).collect();
    let recalled: Vec<(usize, usize)> =
        burst_matches.iter().copied().filter(|m| truth.bursts[m.1].resolvable).collect();
    let rays_right =
        |m: &&(usize, usize)| found.bursts[m.0].rays.abs_diff(truth.bursts[m.1].rays_visible) <= 1;
    // a carrier bursts where a burst of it can be seen to happen
    let bursts_of = |c: &Carrier| {
        c.bursts.iter().filter(|b| truth.bursts[**b].visible && truth.bursts[**b].in_shutter).count()
    };
    let bursting = resolvable.iter().filter(|c| bursts_of(c) > 0).count();
    let bursting_found = found.carriers.iter().filter(|c| c.bursts > 0).count();
    let drawn_bursts: usize = resolvable.iter().map(|c| bursts_of(c)).sum();
    let found_bursts: usize = found.carriers.iter().map(|c| c.bursts).sum();
    let count = (resolvable.len(), found.carriers.len());
    PictureScore {
        file: truth.file.clone(),
        rig: truth.rig.clone(),
        carbon_wt_pct: truth.carbon_wt_pct,
        resolvable: count.0,
        found: count.1,
        count_error: ratio(count.1 as f64 - count.0 as f64, count.0),
        carriers_recalled: carrier_matches.iter().filter(|m| truth.carriers[m.1].resolvable).count(),
        carriers_right: carrier_matches.len(),
        p95_px: carriers::p95_drawn(&resolvable),
        p95_found_px: carriers::p95(&lengths),
        bursts_resolvable: truth.bursts.iter().filter(|b| b.resolvable).count(),
        bursts_visible: truth.bursts.iter().filter(|b| b.visible).count(),
        bursts_found: found.bursts.len(),
        bursts_recalled: recalled.len(),
        bursts_right: burst_matches.len(),
        crossings: bursts::at_crossings(truth, &found.bursts, &burst_matches),
        rays_judged: recalled.len(),
        rays_right: recalled.iter().filter(rays_right).count(),
        tiers_right: recalled.iter().filter(|m| found.bursts[m.0].tier == truth.bursts[m.1].tier).count(),
        share_bursting: ratio(bursting as f64, count.0),
        share_bursting_found: ratio(bursting_found as f64, count.1),
        bursts_per_carrier: ratio(drawn_bursts as f64, count.0),
        bursts_per_carrier_found: ratio(found_bursts as f64, count.1),
    }
}
