//! The tree of `src/tree/` against scikit-learn where small leaves are held back: accuracy and votes, by the same ten
//! folds. The tables are made by `tree_peers.py`, which says how.

use super::tree::{Form, data, values};
use crate::support::rows;
use serde::Deserialize;
use snapspark::tree::{Settings, Training, fit};
use std::fmt::Write;

/// How far below scikit-learn ours may be, in points of accuracy: in any row, and in the mean of all.
const POINTS: (f64, f64) = (3.0, 1.0);
/// How far class shares may be apart, absolute, mean over rows and classes: in any row, and in the mean of all.
const APART: (f64, f64) = (0.05, 0.03);

#[derive(Deserialize)]
struct Theirs {
    set: String,
    depth: usize,
    leaf: usize,
    /// In %, mean over nine seeds.
    accuracy: f64,
    /// How far the votes of two seeds are apart.
    apart: f64,
}

#[derive(Deserialize)]
struct TheirVotes {
    set: String,
    depth: usize,
    leaf: usize,
    fold: usize,
    votes: String,
}

/// Rows of a set that trees were asked about which had not seen their fold.
pub(super) struct HeldOut {
    pub(super) set: String,
    pub(super) depth: usize,
    pub(super) leaf: usize,
    pub(super) labels: Vec<usize>,
    folds: Vec<usize>,
    /// Class shares of each row by our trees.
    pub(super) ours: Vec<Vec<f64>>,
    /// By scikit-learn's, mean over nine seeds.
    theirs: Vec<Vec<f64>>,
    accuracy: f64,
    apart: f64,
}

impl HeldOut {
    /// Every set and setting of the table.
    pub(super) fn all() -> Vec<Self> {
        let votes: Vec<TheirVotes> = rows("tree_votes.csv");
        rows("tree_peers.csv").into_iter().map(|row| Self::of(row, &votes)).collect()
    }

    fn of(Theirs { set, depth, leaf, accuracy, apart }: Theirs, votes: &[TheirVotes]) -> Self {
        let here = votes.iter().filter(|v| v.set == set && v.depth == depth && v.leaf == leaf);
        let share = |text: &str| text.split(' ').map(|v| v.parse().unwrap()).collect();
        let (folds, theirs): (Vec<usize>, Vec<Vec<f64>>) = here.map(|v| (v.fold, share(&v.votes))).unzip();
        let data = data(&set, Form::Continuous);
        let labels = data.rows.iter().map(|row| row.label).collect();
        let ours = shares(&data, &folds, depth, leaf);
        Self { set, depth, leaf, labels, folds, ours, theirs, accuracy, apart }
    }

    /// Share of right answers by our trees, in %.
    fn right(&self) -> f64 {
        let answers = self.ours.iter().map(|shares| first_most(shares));
        let right = answers.zip(&self.labels).filter(|(answer, label)| answer == *label).count();
        100.0 * right as f64 / self.labels.len() as f64
    }

    /// How far our class shares are from scikit-learn's.
    fn votes_apart(&self) -> f64 {
        let pairs = self.ours.iter().flatten().zip(self.theirs.iter().flatten());
        let apart: f64 = pairs.clone().map(|(a, b)| (a - b).abs()).sum();
        apart / pairs.count() as f64
    }
}

fn first_most(shares: &[f64]) -> usize {
    (0..shares.len()).rev().max_by(|a, b| shares[*a].total_cmp(&shares[*b])).unwrap()
}

/// Class shares of each row, by a tree of the other folds.
fn shares(data: &Training, folds: &[usize], depth: usize, leaf: usize) -> Vec<Vec<f64>> {
    assert_eq!(folds.len(), data.rows.len());
    let mut found = vec![Vec::new(); folds.len()];
    for held_out in 0..10 {
        let seen = data.rows.iter().zip(folds).filter(|(_, fold)| **fold != held_out);
        let seen = Training { rows: seen.map(|(row, _)| row.clone()).collect(), ..data.clone() };
        let tree = fit(&seen, &Settings::exact(data.features.len(), depth, leaf)).unwrap();
        for (at, row) in data.rows.iter().enumerate().filter(|(at, _)| folds[*at] == held_out) {
            found[at] = tree.walk(&values(row)).unwrap().shares;
        }
    }
    found
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

#[test]
fn peers_agree_on_accuracy_and_votes() {
    let mut figures = "   set depth leaf scikit-learn  ours  votes apart  of two seeds\n".to_owned();
    let (mut below, mut apart) = (Vec::new(), Vec::new());
    for held_out in HeldOut::all() {
        let HeldOut { set, depth, leaf, accuracy, apart: of_seeds, .. } = &held_out;
        let (ours, votes) = (held_out.right(), held_out.votes_apart());
        writeln!(
            figures,
            "{set:>6} {depth:5} {leaf:4} {accuracy:12.2} {ours:5.2} {votes:12.4} {of_seeds:13.4}"
        )
        .unwrap();
        below.push(accuracy - ours);
        apart.push(votes);
    }
    writeln!(figures, "  mean, ours less theirs {:+12.2} {:12.4}", -mean(&below), mean(&apart)).unwrap();
    println!("{figures}");
    assert_eq!(below.len(), 6);
    assert!(below.iter().all(|points| *points <= POINTS.0) && mean(&below) <= POINTS.1, "{figures}");
    assert!(apart.iter().all(|votes| *votes <= APART.0) && mean(&apart) <= APART.1, "{figures}");
    insta::assert_snapshot!("tree_peers_figures", figures);
}

/// The control: one question instead of three, and the votes are too far apart on every set.
#[test]
fn peers_of_another_depth_would_fail() {
    for mut held_out in HeldOut::all().into_iter().filter(|h| h.depth == 3) {
        held_out.ours = shares(&data(&held_out.set, Form::Continuous), &held_out.folds, 1, held_out.leaf);
        assert!(held_out.votes_apart() > APART.0, "{}: {}", held_out.set, held_out.votes_apart());
    }
}
