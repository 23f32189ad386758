//! Every split that was taken against an exact search written apart from the engine.

use super::whole;
use crate::tree::{Node, Row, Settings, Training, exact, fit};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::SeedableRng;

/// What `f32` sums may lose of a gain.
const GAIN: f64 = 3e-6;

/// Forty rows of four features: two in few levels with many ties, two in many.
fn drawn(generator: &mut Pcg64Mcg, classes: usize, weighted: bool) -> Training {
    let row = |generator: &mut Pcg64Mcg| {
        let values: Vec<f64> = [3, 5, 12, 1000].map(|end| whole(generator, end) as f64).into();
        let noise = whole(generator, 6) as f64;
        let label = ((values[1] * 2.0 + values[2] + noise) / 26.0 * classes as f64) as usize;
        let weight = if weighted { 1.0 + whole(generator, 4) as f64 / 2.0 } else { 1.0 };
        Row { values, label: label.min(classes - 1), weight }
    };
    let rows = (0..40).map(|_| row(generator)).collect();
    Training { features: ["a", "b", "c", "d"].map(str::to_owned).into(), classes, rows }
}

/// For every node where there was something to gain: the gain that was taken and the best there was.
fn gains(node: &Node, rows: &[&Row], left: usize, min_leaf: usize, found: &mut Vec<(f64, f64)>) {
    let mut votes = vec![0.0; node.votes().len()];
    for row in rows {
        votes[row.label] += row.weight;
    }
    assert_eq!(node.votes(), votes, "votes are the rows that came here");
    let best = exact::best(rows, min_leaf).map_or(0.0, |(_, _, gain)| gain);
    match node {
        Node::Leaf { .. } if left == 0 => {}
        Node::Leaf { .. } => found.push((0.0, best)),
        Node::Split { feature, threshold, below, above, .. } => {
            found.push((exact::gain(rows, *feature, *threshold), best));
            let (under, over) = exact::part(rows, *feature, *threshold);
            assert!(under.len() >= min_leaf && over.len() >= min_leaf);
            gains(below, &under, left - 1, min_leaf, found);
            gains(above, &over, left - 1, min_leaf, found);
        }
    }
}

fn all_gains(classes: usize, sets: u64) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    for seed in 0..sets {
        let mut generator = Pcg64Mcg::seed_from_u64(seed);
        let training = drawn(&mut generator, classes, seed % 2 == 1);
        if training.rows.iter().all(|row| row.label == training.rows[0].label) {
            continue;
        }
        let (depth, min_leaf) =
            (1 + whole(&mut generator, 6) as usize, 1 + whole(&mut generator, 4) as usize);
        let settings = Settings::exact(4, depth, min_leaf);
        let tree = fit(&training, &settings).unwrap();
        assert_eq!(fit(&training, &settings).unwrap(), tree, "a second fit");
        let rows: Vec<&Row> = training.rows.iter().collect();
        gains(tree.root(), &rows, depth, min_leaf, &mut found);
    }
    found
}

#[test]
fn with_two_classes_every_split_is_the_best_there_is() {
    let found = all_gains(2, 300);
    assert!(found.iter().filter(|(got, _)| *got > 0.0).count() > 1000);
    for (got, best) in found {
        assert!((got - best).abs() <= GAIN, "gain {got}, best {best}");
    }
}

/// The engine is asked about two classes at a time, so the best cut for all classes can be missed.
#[test]
fn with_more_classes_nearly_every_split_is_the_best_there_is() {
    for classes in [3, 4, 6] {
        let found = all_gains(classes, 200);
        let best = found.iter().filter(|(got, best)| (got - best).abs() <= GAIN).count();
        let lost: f64 = found.iter().map(|(got, best)| best - got).sum();
        let all: f64 = found.iter().map(|(_, best)| best).sum();
        assert!(best as f64 >= 0.98 * found.len() as f64, "{classes} classes: {best} of {}", found.len());
        assert!(lost <= 0.001 * all, "{classes} classes: {lost} of {all}");
    }
}
