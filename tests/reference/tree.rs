//! The tree of `src/tree/` against scikit-learn: the same rows, the same folds, the same depths.

use serde::de::DeserializeOwned;
use snapspark::tree::{Row, Settings, Training, Tree, fit};
use std::collections::BTreeMap;

/// How far below scikit-learn ours may be, in points of accuracy.
const POINTS: f64 = 1.5;

/// How the values of a data set are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Continuous,
    Ord5,
}

fn rows<T: DeserializeOwned>(text: &str) -> Vec<T> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.expect("a row of a reference table")).collect()
}

fn data(set: &str, form: Form) -> Training {
    let text = match set {
        "iris" => include_str!("tree_iris.csv"),
        "wine" => include_str!("tree_wine.csv"),
        "cancer" => include_str!("tree_cancer.csv"),
        other => panic!("no such set: {other}"),
    };
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    let features: Vec<String> = header.iter().skip(1).take(header.len() - 2).map(str::to_owned).collect();
    let row = |record: csv::StringRecord| {
        let label = record[0].parse().unwrap();
        let values = match form {
            Form::Continuous => (1..=features.len()).map(|i| record[i].parse().unwrap()).collect(),
            Form::Ord5 => digits(&record[features.len() + 1]).map(|d| d as f64).collect(),
        };
        Row { values, label, weight: 1.0 }
    };
    let rows: Vec<Row> = reader.records().map(|record| row(record.unwrap())).collect();
    let classes = rows.iter().map(|row| row.label).max().unwrap() + 1;
    Training { features, classes, rows }
}

fn digits(text: &str) -> impl Iterator<Item = usize> {
    text.bytes().map(|b| usize::from(b - b'0'))
}

/// The folds of a set: for each repeat the fold of each row.
fn folds(set: &str) -> Vec<Vec<usize>> {
    let all = rows::<(String, usize, String)>(include_str!("tree_folds.csv"));
    all.into_iter().filter(|(name, _, _)| name == set).map(|(_, _, folds)| digits(&folds).collect()).collect()
}

fn answer(tree: &Tree, row: &Row) -> usize {
    let values: Vec<Option<f64>> = row.values.iter().copied().map(Some).collect();
    tree.walk(&values).unwrap().answer()
}

/// Share of right answers in %, every row asked of trees that have not seen it.
fn accuracy(data: &Training, folds: &[Vec<usize>], settings: &Settings) -> f64 {
    let mut right = 0;
    for fold in folds {
        assert_eq!(fold.len(), data.rows.len());
        for held_out in 0..5 {
            let part = |out: bool| {
                let rows = data.rows.iter().zip(fold).filter(move |(_, f)| (**f == held_out) == out);
                rows.map(|(row, _)| row)
            };
            let seen = Training { rows: part(false).cloned().collect(), ..data.clone() };
            let tree = fit(&seen, settings).unwrap();
            right += part(true).filter(|row| answer(&tree, row) == row.label).count();
        }
    }
    100.0 * right as f64 / (data.rows.len() * folds.len()) as f64
}

#[test]
fn as_accurate_as_scikit_learn() {
    let mut tried = BTreeMap::<String, usize>::new();
    for (set, form, depth, theirs, _, _) in
        rows::<(String, String, usize, f64, f64, f64)>(include_str!("tree_sklearn.csv"))
    {
        let form = if form == "ord5" { Form::Ord5 } else { Form::Continuous };
        let data = data(&set, form);
        let start = std::time::Instant::now();
        let ours = accuracy(&data, &folds(&set), &Settings::exact(data.features.len(), depth, 1));
        eprintln!("{set} {form:?} {depth}: {ours:.2} against {theirs} {:?}", start.elapsed());
        assert!(ours >= theirs - POINTS, "{set} {form:?} depth {depth}: {ours:.2}, scikit-learn {theirs}");
        *tried.entry(set).or_default() += 1;
    }
    let wanted = ["cancer", "iris", "wine"].map(|set| (set.to_owned(), 4));
    assert_eq!(tried, BTreeMap::from(wanted));
}
