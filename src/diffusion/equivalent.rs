use super::Form;
use super::averaged::{DiffusivityTable, REFERENCE_WT};
use super::stretch::Stretch;
use crate::steel::PhaseLimits;

/// The top temperature is what this share of the time above A1 stays below (judgement): a single high
/// reading does not name it.
const TOP_SHARE: f64 = 0.95;

/// A temperature history as a steady soak: this long at this temperature carries carbon as far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Equivalent {
    /// The top temperature, K.
    pub kelvin: f64,
    /// Time at it, s.
    pub seconds: f64,
}

impl Equivalent {
    /// Diffusivity at the top temperature and the reference carbon, m²/s.
    pub fn diffusivity(&self, form: &Form) -> f64 {
        form.at(self.kelvin, REFERENCE_WT)
    }
}

/// ∫ D dt over D at the top temperature, both at 0.5 %C. A depth computed from it as k √t is within 1 % of the full
/// solution where the surface carbon is constant and the section thick (computed).
/// The legs are added up one by one. `None`: never above A1.
pub fn equivalent<'p>(
    form: &Form,
    phase: &PhaseLimits,
    legs: impl Iterator<Item = &'p [(f64, f64)]> + Clone,
) -> Option<Equivalent> {
    let a1 = phase.a1.value.kelvin();
    let highest = legs.clone().flatten().map(|p| p.1).fold(a1, f64::max);
    let table = DiffusivityTable::new(form, 1.0, (a1, highest), 2.0 * REFERENCE_WT);
    let stretches: Vec<Stretch> = legs.flat_map(|points| Stretch::of(points, a1, &table)).collect();
    let mut spells: Vec<(f64, f64)> =
        stretches.iter().flat_map(|s| &s.pieces).map(|p| (p.mean(), p.seconds)).collect();
    spells.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = spells.iter().map(|s| s.1).sum();
    let mut below = 0.0;
    let (kelvin, _) = *spells.iter().find(|s| {
        below += s.1;
        below >= TOP_SHARE * total
    })?;
    let progress: f64 = stretches.iter().map(|s| s.progress).sum();
    Some(Equivalent { kelvin, seconds: progress / form.at(kelvin, REFERENCE_WT) })
}
