use crate::stats::conformal_level;
use crate::steel::CarbonBand;

/// What is said with this confidence, at most: nine in ten.
pub const STATED: f64 = 0.9;

/// How answers came out on known steels whose day had been left out of the fit, one entry a steel and day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scores {
    /// Share of votes that the set of bands had to hold to take in the true one, 0 to 1.
    pub bands: Vec<f64>,
    /// Part of the chance that the middle of the carbon had to hold to take in the whole label, 0 to 1: a range that is
    /// stated is no narrower than the labels that it was learned from.
    pub carbon: Vec<f64>,
    /// Right bands.
    pub right: usize,
}

impl Scores {
    /// Steels and days that were judged.
    pub fn judged(&self) -> usize {
        self.bands.len()
    }

    /// Share of votes that a set of bands must hold to be right as often as is stated. `None`: too few were judged.
    pub fn votes_stated(&self) -> Option<f64> {
        conformal_level(&self.bands, STATED)
    }

    /// Part of the chance that a range of carbon must hold.
    pub fn carbon_stated(&self) -> Option<f64> {
        conformal_level(&self.carbon, STATED)
    }
}

/// Neighbouring bands about the one with most votes that hold a share of them; they grow to the side with more.
pub fn bands_with(votes: &[f64; 6], share: f64) -> (CarbonBand, CarbonBand) {
    grow(votes, |held, _, _| held >= share)
}

/// Share of the votes that the set of [`bands_with`] must hold to take in a band: less than all that it then holds, more
/// than what it held before.
pub fn votes_to(votes: &[f64; 6], band: CarbonBand) -> f64 {
    let mut before = 0.0;
    grow(votes, |held, low, high| {
        let inside = low <= band.index() && band.index() <= high;
        if !inside {
            before = held;
        }
        inside
    });
    // the set stops at what it held before; anything more makes it grow once more
    if before > 0.0 { before + f64::EPSILON } else { 0.0 }
}

fn grow(votes: &[f64; 6], mut enough: impl FnMut(f64, usize, usize) -> bool) -> (CarbonBand, CarbonBand) {
    let mut low = 0;
    for at in 1..votes.len() {
        if votes[at] > votes[low] {
            low = at;
        }
    }
    let mut high = low;
    let mut held = votes[low];
    while !enough(held, low, high) && (low > 0 || high < 5) {
        let below = if low > 0 { votes[low - 1] } else { -1.0 };
        let above = if high < 5 { votes[high + 1] } else { -1.0 };
        if below >= above {
            low -= 1;
            held += votes[low];
        } else {
            high += 1;
            held += votes[high];
        }
    }
    (CarbonBand::ALL[low], CarbonBand::ALL[high])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_set_with_a_band_is_the_one_that_its_score_asks_for() {
        let votes = [0.05, 0.1, 0.5, 0.25, 0.07, 0.03];
        for band in CarbonBand::ALL {
            let score = votes_to(&votes, band);
            let (low, high) = bands_with(&votes, score);
            assert!(low <= band && band <= high, "{band:?}");
            if score > 0.0 {
                let (low, high) = bands_with(&votes, score - 1e-9);
                assert!(band < low || high < band, "{band:?}");
            }
        }
        assert_eq!(votes_to(&votes, CarbonBand::From025), 0.0);
        assert_eq!(bands_with(&votes, 1.1), (CarbonBand::UpTo010, CarbonBand::From085));
    }
}
