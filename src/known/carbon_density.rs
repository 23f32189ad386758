use crate::steel::CarbonBand;
use crate::units::{CarbonPercent, Interval};

/// Step of the carbon contents that are weighed, wt%.
const STEP: f64 = 0.01;
/// How many: 0.005 to 1.295 wt%. Sparks tell nothing of more (they saturate near 0.85).
const NUMBER: usize = 130;

/// Chance of each carbon content, before anything else is known of it all alike.
#[derive(Debug, Clone, PartialEq)]
pub struct CarbonDensity {
    /// Chance of each step, together 1.
    chance: Vec<f64>,
}

impl CarbonDensity {
    /// How many carbon contents are weighed.
    pub(super) const STEPS: usize = NUMBER;

    /// The carbon content of a step, wt%.
    pub(super) fn carbon(step: usize) -> f64 {
        middle(step)
    }

    /// By the logarithm of a likelihood at each step.
    pub(super) fn by(likelihood: impl Fn(usize) -> f64) -> Self {
        let logs: Vec<f64> = (0..NUMBER).map(likelihood).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - most)).collect();
        let total: f64 = weights.iter().sum();
        let even = 1.0 / NUMBER as f64;
        let share = |w: f64| if total.is_finite() && total > 0.0 { w / total } else { even };
        Self { chance: weights.into_iter().map(share).collect() }
    }

    /// Mean, wt%.
    pub fn mean(&self) -> f64 {
        self.chance.iter().enumerate().map(|(i, p)| p * middle(i)).sum()
    }

    /// Mean within the likeliest band, wt%.
    pub fn likeliest(&self) -> f64 {
        let bands = self.bands();
        let band = (0..bands.len()).fold(0, |best, at| if bands[at] > bands[best] { at } else { best });
        let inside = self.chance.iter().enumerate().filter(|(i, _)| band_of(*i) == Some(band));
        inside.map(|(i, p)| p * middle(i)).sum::<f64>() / bands[band].max(f64::MIN_POSITIVE)
    }

    /// Chance of less, at a carbon content, wt%.
    pub fn below(&self, wt: f64) -> f64 {
        let steps = (wt / STEP).clamp(0.0, NUMBER as f64);
        let whole = steps as usize;
        let part = self.chance.get(whole).map_or(0.0, |p| p * (steps - whole as f64));
        (self.chance.iter().take(whole).sum::<f64>() + part).clamp(0.0, 1.0)
    }

    /// The carbon content, wt%, that this chance lies below.
    pub fn quantile(&self, chance: f64) -> f64 {
        let mut left = chance.clamp(0.0, 1.0);
        for (i, p) in self.chance.iter().enumerate() {
            if left <= *p {
                let part = if *p > 0.0 { left / p } else { 0.0 };
                return STEP * (i as f64 + part);
            }
            left -= p;
        }
        STEP * NUMBER as f64
    }

    /// The middle part that holds this chance, wt%.
    pub fn middle_part(&self, chance: f64) -> Option<Interval<f64>> {
        let half = 0.5 * chance.clamp(0.0, 1.0);
        Interval::new(self.quantile(0.5 - half), self.quantile(0.5), self.quantile(0.5 + half))
    }

    /// How much of the chance the least middle part holds that reaches a carbon content, 0 to 1.
    pub fn reach_of(&self, wt: f64) -> f64 {
        (2.0 * self.below(wt) - 1.0).abs()
    }

    /// Chance of each band, in the order of [`CarbonBand::ALL`].
    pub fn bands(&self) -> [f64; 6] {
        let mut bands = [0.0; 6];
        for (i, p) in self.chance.iter().enumerate() {
            if let Some(band) = band_of(i) {
                bands[band] += p;
            }
        }
        bands
    }
}

/// The band that a step lies in.
fn band_of(i: usize) -> Option<usize> {
    CarbonPercent::new(middle(i)).ok().map(|carbon| CarbonBand::of(carbon).index())
}

fn middle(i: usize) -> f64 {
    STEP * (i as f64 + 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A normal curve in the middle of the range: its mean and quantiles are those of any table of it.
    #[test]
    fn a_normal_curve_keeps_its_quantiles() {
        let density = CarbonDensity::by(|step| -0.5 * ((middle(step) - 0.6) / 0.1_f64).powi(2));
        assert!((density.mean() - 0.6).abs() < 1e-3);
        assert!((density.quantile(0.95) - 0.7645).abs() < 2e-3);
        assert!((density.below(0.5) - 0.1587).abs() < 2e-3);
        assert!((density.reach_of(0.7) - 0.6827).abs() < 4e-3);
        let part = density.middle_part(0.9).unwrap();
        assert!((part.high() - part.low() - 2.0 * 0.1645).abs() < 4e-3);
        assert!((density.bands().iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_known_is_all_alike() {
        let density = CarbonDensity::by(|_| f64::NEG_INFINITY);
        assert!((density.below(0.65) - 0.5).abs() < 1e-9);
        assert_eq!(density.quantile(1.0), 1.3);
    }
}
