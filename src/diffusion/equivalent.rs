use super::Form;
use super::averaged::{DiffusivityTable, REFERENCE_WT};
use super::stretch::Stretch;
use crate::steel::PhaseLimits;

/// A temperature history as a steady soak: this long at this temperature carries carbon as far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Equivalent {
    /// The top temperature, K: what 95 % of the time above A1 stays below, so that a single
    /// high reading does not name it.
    pub kelvin: f64,
    /// Time at it, s.
    pub seconds: f64,
}

/// ∫ D dt over D at the top temperature, both at 0.5 %C. A depth computed from it as k √t is within 1 % of the full
/// solution where the surface carbon is constant and the section thick (computed).
/// `None`: never above A1.
pub fn equivalent(form: &Form, phase: &PhaseLimits, points: &[(f64, f64)]) -> Option<Equivalent> {
    let a1 = phase.a1.value.kelvin();
    let highest = points.iter().map(|p| p.1).fold(a1, f64::max);
    let table = DiffusivityTable::new(form, 1.0, (a1, highest), 2.0 * REFERENCE_WT);
    let stretches = Stretch::of(points, a1, &table);
    let mut spells: Vec<(f64, f64)> =
        stretches.iter().flat_map(|s| &s.pieces).map(|p| (p.mean(), p.seconds)).collect();
    spells.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = spells.iter().map(|s| s.1).sum();
    let mut below = 0.0;
    let (kelvin, _) = *spells.iter().find(|s| {
        below += s.1;
        below >= 0.95 * total
    })?;
    let progress: f64 = stretches.iter().map(|s| s.progress).sum();
    Some(Equivalent { kelvin, seconds: progress / form.at(kelvin, REFERENCE_WT) })
}
