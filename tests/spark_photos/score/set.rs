//! The score of a set of pictures. A refused usable picture stands in every figure as wrong.

use super::PictureScore;
use super::quantile::{quantile, spearman};
use crate::support::draw_sparks::Truth;
use snapspark::units::Interval;
use std::collections::BTreeMap;

/// Carriers from, to: pictures in which their count and the 95th percentile are judged.
const CARRIERS: (usize, usize) = (10, 80);
/// Bursts resolvable in a picture, by bins.
pub(crate) const BURST_BINS: [(usize, usize); 3] = [(1, 14), (15, 29), (30, usize::MAX)];

/// Scores of answered pictures, and what refused ones held.
#[derive(Clone, Debug, Default)]
pub(crate) struct SetScore {
    pub(crate) pictures: Vec<PictureScore>,
    /// Resolvable carriers and bursts of refused usable pictures.
    pub(crate) refused: Vec<(usize, usize)>,
    /// The number of carriers that the answer to each picture states, with its range, and those that stand apart.
    pub(crate) told: Vec<(Interval<f64>, usize)>,
}

/// Recall and precision of bursts in pictures of one bin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BurstFigures {
    pub(crate) pictures: usize,
    pub(crate) recall: Option<f64>,
    pub(crate) precision: Option<f64>,
}

fn ratio(part: usize, whole: usize) -> Option<f64> {
    (whole > 0).then(|| part as f64 / whole as f64)
}

impl SetScore {
    /// A usable picture that was refused.
    pub(crate) fn refuse(&mut self, truth: &Truth) {
        let bursts = truth.bursts.iter().filter(|b| b.resolvable).count();
        self.refused.push((truth.resolvable().count(), bursts));
    }

    /// Median error of the stated number of carriers, and how often its range holds the truth, where counts count.
    pub(crate) fn told(&self) -> (Option<f64>, Option<f64>) {
        let told: Vec<_> = self.told.iter().filter(|(_, n)| Self::judged(*n)).collect();
        let error = |range: &Interval<f64>, n: usize| (range.best() / n as f64 - 1.0).abs();
        let mut errors: Vec<f64> = told.iter().map(|(range, n)| error(range, *n)).collect();
        errors.extend(self.refused.iter().filter(|r| Self::judged(r.0)).map(|_| 1.0));
        let holds = |range: &Interval<f64>, n: usize| (range.low()..=range.high()).contains(&(n as f64));
        let held = told.iter().filter(|(range, n)| holds(range, *n)).count();
        (quantile(&errors, 0.5), ratio(held, told.len()))
    }

    /// Share of usable pictures that got an answer.
    pub(crate) fn answered(&self) -> Option<f64> {
        ratio(self.pictures.len(), self.pictures.len() + self.refused.len())
    }

    fn judged(carriers: usize) -> bool {
        (CARRIERS.0..=CARRIERS.1).contains(&carriers)
    }

    /// Median |count error| where 10 to 80 carriers are resolvable; a refusal is an error of 1.
    pub(crate) fn count_error(&self) -> Option<f64> {
        let answered = self.pictures.iter().filter(|p| Self::judged(p.resolvable));
        let mut errors: Vec<f64> = answered.filter_map(|p| Some(p.count_error?.abs())).collect();
        errors.extend(self.refused.iter().filter(|r| Self::judged(r.0)).map(|_| 1.0));
        quantile(&errors, 0.5)
    }

    /// Median |error| of the 95th percentile of length, same pictures; found none where there is one is 1.
    pub(crate) fn p95_error(&self) -> Option<f64> {
        let answered = self.pictures.iter().filter(|p| Self::judged(p.resolvable) && p.p95_px.is_some());
        let mut errors: Vec<f64> = answered.map(|p| p.p95_error().map_or(1.0, f64::abs)).collect();
        errors.extend(self.refused.iter().filter(|r| Self::judged(r.0)).map(|_| 1.0));
        quantile(&errors, 0.5)
    }

    /// Carriers matched one-to-one: recall over resolvable ones, precision.
    pub(crate) fn carriers(&self) -> (Option<f64>, Option<f64>) {
        let sum = |f: fn(&PictureScore) -> usize| self.pictures.iter().map(f).sum::<usize>();
        let missed: usize = self.refused.iter().map(|r| r.0).sum();
        let recall = ratio(sum(|p| p.carriers_recalled), sum(|p| p.resolvable) + missed);
        (recall, ratio(sum(|p| p.carriers_right), sum(|p| p.found)))
    }

    /// Bursts over all pictures whose resolvable bursts lie in a bin; `(0, usize::MAX)` is all.
    pub(crate) fn bursts(&self, (low, high): (usize, usize)) -> BurstFigures {
        let inside = |n: usize| (low..=high).contains(&n);
        let chosen: Vec<&PictureScore> =
            self.pictures.iter().filter(|p| inside(p.bursts_resolvable)).collect();
        let refused: Vec<usize> = self.refused.iter().map(|r| r.1).filter(|n| inside(*n)).collect();
        let sum = |f: fn(&PictureScore) -> usize| chosen.iter().map(|p| f(p)).sum::<usize>();
        let there = sum(|p| p.bursts_resolvable) + refused.iter().sum::<usize>();
        BurstFigures {
            pictures: chosen.len() + refused.len(),
            recall: ratio(sum(|p| p.bursts_recalled), there),
            precision: ratio(sum(|p| p.bursts_right), sum(|p| p.bursts_found)),
        }
    }

    /// Share of found bursts that were a crossing.
    pub(crate) fn crossings(&self) -> Option<f64> {
        let sum = |f: fn(&PictureScore) -> usize| self.pictures.iter().map(f).sum::<usize>();
        ratio(sum(|p| p.crossings), sum(|p| p.bursts_found))
    }

    /// Share of matched resolvable bursts whose rays are right within one.
    pub(crate) fn rays(&self) -> Option<f64> {
        let sum = |f: fn(&PictureScore) -> usize| self.pictures.iter().map(f).sum::<usize>();
        ratio(sum(|p| p.rays_right), sum(|p| p.rays_judged))
    }

    /// Share of matched resolvable bursts whose tier is right.
    pub(crate) fn tiers(&self) -> Option<f64> {
        let sum = |f: fn(&PictureScore) -> usize| self.pictures.iter().map(f).sum::<usize>();
        ratio(sum(|p| p.tiers_right), sum(|p| p.rays_judged))
    }

    /// Median and 90th percentile of |error| of the share that bursts, where 10 or more are resolvable.
    pub(crate) fn share_bursting(&self) -> Option<(f64, f64)> {
        let judged = self.pictures.iter().filter(|p| p.resolvable >= CARRIERS.0);
        let mut errors: Vec<f64> = judged.map(|p| p.share_error().unwrap_or(1.0)).collect();
        errors.extend(self.refused.iter().filter(|r| r.0 >= CARRIERS.0).map(|_| 1.0));
        Some((quantile(&errors, 0.5)?, quantile(&errors, 0.9)?))
    }

    /// Rank correlation of bursts per carrier found with carbon, and of the drawn ones, by rig.
    pub(crate) fn carbon_ranks(&self) -> BTreeMap<String, (Option<f64>, Option<f64>)> {
        let mut rigs: BTreeMap<String, Vec<&PictureScore>> = BTreeMap::new();
        for picture in &self.pictures {
            rigs.entry(picture.rig.clone()).or_default().push(picture);
        }
        let ranks = |of: &[&PictureScore], value: fn(&PictureScore) -> Option<f64>| {
            let pairs: Vec<(f64, f64)> =
                of.iter().filter_map(|p| Some((p.carbon_wt_pct?, value(p)?))).collect();
            spearman(&pairs)
        };
        rigs.into_iter()
            .map(|(rig, of)| {
                let found = ranks(&of, |p| p.bursts_per_carrier_found);
                (rig, (found, ranks(&of, |p| p.bursts_per_carrier)))
            })
            .collect()
    }

    /// All figures, one a line.
    pub(crate) fn summary(&self) -> String {
        let show = |x: Option<f64>| x.map_or_else(|| "-".to_owned(), |v| format!("{v:.3}"));
        let mut lines = vec![
            format!("answered {} of {}", self.pictures.len(), self.pictures.len() + self.refused.len()),
            format!("carriers: median count error {}", show(self.count_error())),
            format!(
                "carriers as told: median error {} range holds {}",
                show(self.told().0),
                show(self.told().1)
            ),
            format!("carriers: recall {} precision {}", show(self.carriers().0), show(self.carriers().1)),
            format!("length: median error of the 95th percentile {}", show(self.p95_error())),
        ];
        for (low, high) in BURST_BINS.into_iter().chain([(0, usize::MAX)]) {
            let b = self.bursts((low, high));
            let to = if high == usize::MAX { "more".to_owned() } else { high.to_string() };
            lines.push(format!(
                "bursts {low} to {to}: {} pictures, recall {} precision {}",
                b.pictures,
                show(b.recall),
                show(b.precision)
            ));
        }
        let share = self.share_bursting();
        lines.push(format!("crossings counted as bursts {}", show(self.crossings())));
        lines.push(format!("rays within one {}", show(self.rays())));
        lines.push(format!("tier right {}", show(self.tiers())));
        lines.push(format!(
            "share that bursts: median error {} 90 % {}",
            show(share.map(|s| s.0)),
            show(share.map(|s| s.1))
        ));
        for (rig, (found, drawn)) in self.carbon_ranks() {
            lines.push(format!(
                "rank correlation with carbon, {rig}: {} (drawn {})",
                show(found),
                show(drawn)
            ));
        }
        lines.join("\n")
    }
}
