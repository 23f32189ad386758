use super::coded::{Coded, Drawn, Split};
use super::draws::Draws;
use super::{FitError, Node, Row, Settings, Side, Training, Tree};

/// Fits a tree: linfa-trees finds each split, from the rows of its node alone, and everything that is
/// stored or said comes from the rows themselves.
///
/// The same rows in any order give the same tree, bit for bit.
pub fn fit(training: &Training, settings: &Settings) -> Result<Tree, FitError> {
    training.check(settings)?;
    let rows = training.in_order();
    let draws = Draws::new(&rows, settings);
    let drawn: Vec<Drawn<'_>> =
        rows.iter().zip(&draws.of_row).map(|(row, of)| (row, of.as_slice())).collect();
    training.tree(grow(&drawn, training.classes, settings, 0)?)
}

fn grow(rows: &[Drawn<'_>], classes: usize, settings: &Settings, depth: usize) -> Result<Node, FitError> {
    let votes = votes(rows, classes);
    let split = if depth < settings.max_depth { Coded::new(rows, settings.min_leaf).split()? } else { None };
    let Some(Split { feature, threshold }) = split else { return Ok(Node::Leaf { votes }) };
    let (below, above): (Vec<_>, Vec<_>) =
        rows.iter().partition(|(row, _)| Side::of(row.values[feature], threshold) == Side::Below);
    let under = |rows: &[Drawn<'_>]| grow(rows, classes, settings, depth + 1).map(Box::new);
    Ok(Node::Split { feature, threshold, below: under(&below)?, above: under(&above)?, votes })
}

fn votes(rows: &[Drawn<'_>], classes: usize) -> Vec<f64> {
    let mut votes = vec![0.0; classes];
    for (Row { label, weight, .. }, _) in rows {
        votes[*label] += weight;
    }
    votes
}
