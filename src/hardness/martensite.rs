use super::lines::{between, interval, three};
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Hrc, Hv, Interval, Share};

/// Shares of martensite of the columns in the table of Hodge and Orehoski, in order.
pub const SHARES: [f64; 5] = [0.99, 0.95, 0.90, 0.80, 0.50];

/// Hardness as quenched by carbon and by the share that became martensite.
#[derive(Debug, Clone, PartialEq)]
pub struct Martensite {
    /// HRC of full martensite, polynomial in wt% C, lowest power first (ASTM A255-10).
    pub full: Sourced<[f64; 6]>,
    /// Carbon that the polynomial holds for, wt%.
    pub full_range: Sourced<Interval<CarbonPercent>>,
    /// Carbon at which the polynomial is left for the plateau, wt%.
    pub join: Sourced<CarbonPercent>,
    /// Carbon from which the plateau holds, wt%.
    pub plateau_from: Sourced<CarbonPercent>,
    /// HRC of martensite on the plateau.
    pub plateau: Sourced<Interval<Hrc>>,
    /// Doubt of every value below the plateau, HRC.
    pub spread: Sourced<Interval<f64>>,
    /// Rows of carbon, wt%, then HRC at each of [`SHARES`]; carbon rises.
    pub columns: Sourced<Vec<[f64; 6]>>,
    /// Further doubt above the last row, HRC, when there is less than 99 % martensite.
    pub beyond_columns: Sourced<Interval<f64>>,
    /// HV of ferrite that was left beside austenite.
    pub ferrite: Sourced<Interval<Hv>>,
}

impl Martensite {
    /// HRC of full martensite, without retained austenite.
    ///
    /// ASTM A255-10 from 0.10 to 0.69 %C, a plateau from 0.80 %C on, a straight line between: it
    /// never falls as carbon rises. `None` below 0.10 %C.
    pub fn full_hrc(&self, carbon: CarbonPercent) -> Option<Interval<Hrc>> {
        interval(self.full_numbers(carbon.wt_percent())?, Hrc::new)
    }

    /// HRC when `share` of what transforms is martensite and the rest is softer.
    ///
    /// Between the columns of Hodge and Orehoski and full martensite. Above their last row, 0.60 %C,
    /// the loss against full martensite is held. `None` below 0.10 %C and below half martensite.
    pub fn hrc(&self, carbon: CarbonPercent, share: Share) -> Option<Interval<Hrc>> {
        let c = carbon.wt_percent();
        let full = self.full_numbers(c)?;
        let last_row = self.columns.value.last()?[0];
        let loss = |share: f64| self.loss(c.min(last_row), share);
        let (lost, less) = (loss(share.fraction())?, share.fraction() < SHARES[0]);
        let beyond = &self.beyond_columns.value;
        let doubt = if c > last_row && less { three(beyond, |n| n) } else { [0.0; 3] };
        // no mixture is harder than the fullest of the table
        let least = if less { loss(SHARES[0])? } else { lost };
        interval([0, 1, 2].map(|i| full[i] - (lost - doubt[i]).max(least)), Hrc::new)
    }

    /// The carbon that is so hard at best with this share of martensite: the other way round. `None` below 0.10 %C, above
    /// the formula, where more carbon makes it hardly harder, and below half martensite.
    pub fn carbon(&self, hrc: Hrc, share: Share) -> Option<CarbonPercent> {
        let (mut low, mut high) = (self.full_range.value.low().wt_percent(), self.join.value.wt_percent());
        let hard = |wt| Some(self.hrc(CarbonPercent::new(wt).ok()?, share)?.best());
        if !(hard(low)? <= hrc && hrc <= hard(high)?) {
            return None;
        }
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if hard(middle)? < hrc { low = middle } else { high = middle }
        }
        CarbonPercent::new(f64::midpoint(low, high)).ok()
    }

    /// HRC that full martensite is harder than a mixture with `share` of it.
    fn loss(&self, c: f64, share: f64) -> Option<f64> {
        let full = self.full_numbers(c)?[1];
        let mut by_share = vec![(1.0, full)];
        for (i, column) in SHARES.iter().enumerate() {
            let points: Vec<_> = self.columns.value.iter().map(|row| (row[0], row[i + 1])).collect();
            // the table's 99 % column tops the formula by 0.02 HRC at 0.10 %C
            by_share.push((*column, between(&points, c)?.min(full)));
        }
        by_share.reverse();
        Some(full - between(&by_share, share)?)
    }

    fn full_numbers(&self, c: f64) -> Option<[f64; 3]> {
        let (least, join) = (self.full_range.value.low(), self.join.value.wt_percent());
        if c < least.wt_percent() {
            return None;
        }
        let spread = three(&self.spread.value, |n| n);
        let formula = |c: f64| {
            let best = self.full.value.iter().rev().fold(0.0, |sum, k| sum * c + k);
            spread.map(|s| best + s)
        };
        let plateau = three(&self.plateau.value, Hrc::points);
        let from = self.plateau_from.value.wt_percent();
        Some(if c <= join {
            formula(c)
        } else if c < from {
            let (start, t) = (formula(join), (c - join) / (from - join));
            [0, 1, 2].map(|i| start[i] * (1.0 - t) + plateau[i] * t)
        } else {
            plateau
        })
    }
}
