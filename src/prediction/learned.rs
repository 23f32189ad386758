use super::marginal::Marginal;
use super::prior::Quantity;
use super::{History, Kept};
use crate::stats::JointNormal;

/// What earlier runs tell of some of the numbers that are not known of a run, on their own curves, all together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Learned {
    /// Place of each among the unknowns of the run.
    places: Vec<usize>,
    /// Where they should lie.
    scores: JointNormal,
    /// Root of their covariance.
    root: Vec<Vec<f64>>,
}

impl Learned {
    /// Of what is told in `history` as far as it is one of `kept` and not known of this run.
    pub(super) fn of(unknowns: &[(Quantity, Marginal)], history: &History, kept: &[Kept]) -> Self {
        let place = |kept: Kept| unknowns.iter().position(|(quantity, _)| quantity.kept() == Some(kept));
        let told = Kept::ALL.into_iter().enumerate().filter(|(_, k)| kept.contains(k));
        let (rows, places): (Vec<_>, Vec<_>) = told.filter_map(|(row, k)| Some((row, place(k)?))).unzip();
        let scores = history.scores.only(&rows);
        Self { places, root: scores.root(), scores }
    }

    /// Mean and standard deviation of the scores of the unknown at this place. `None`: nothing is told of it.
    pub(super) fn curve(&self, place: usize) -> Option<(f64, f64)> {
        let row = self.places.iter().position(|p| *p == place)?;
        Some((self.scores.mean[row], self.scores.covariance[row][row].max(0.0).sqrt()))
    }

    /// Values at a point of the unit cube, each with its place: one number after the other, where those before it leave it
    /// to lie. What a witness forbids moves those after it as well.
    pub(super) fn values(&self, unknowns: &[(Quantity, Marginal)], point: &[f64]) -> Vec<(usize, f64)> {
        let mut free: Vec<f64> = Vec::with_capacity(self.places.len());
        let mut values = Vec::with_capacity(self.places.len());
        for (row, place) in self.places.iter().enumerate() {
            let led: f64 = self.root[row].iter().zip(&free).map(|(root, free)| root * free).sum();
            let (mean, sd) = (self.scores.mean[row] + led, self.root[row][row]);
            let marginal = &unknowns[*place].1;
            let value = marginal.learned((mean, sd), point[*place]);
            free.push(if sd > 0.0 { (marginal.score(value) - mean) / sd } else { 0.0 });
            values.push((*place, value));
        }
        values
    }
}
