//! What a fit and a tree refuse, and in which words.

use super::{exact, training};
use crate::tree::{Node, Settings, Training, Tree, fit};

fn good() -> Training {
    training(&[(&[1.0, 5.0], 0), (&[2.0, 6.0], 1), (&[3.0, 7.0], 2)])
}

fn refused(change: impl FnOnce(&mut Training, &mut Settings)) -> String {
    let mut training = good();
    let mut settings = exact(&training, 3);
    change(&mut training, &mut settings);
    fit(&training, &settings).unwrap_err().to_string()
}

#[test]
fn rows_that_cannot_be_learned_from() {
    assert_eq!(refused(|t, _| t.rows.clear()), "no training rows; allowed: rows of at least two classes");
    let one = "every training row is of class 0; allowed: rows of at least two classes";
    assert_eq!(refused(|t, _| t.rows.truncate(1)), one);
    assert_eq!(refused(|t, _| t.rows.iter_mut().for_each(|r| r.label = 0)), one);
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let wanted = format!("row 2: `f1` is {bad}; allowed: a finite number");
        assert_eq!(refused(|t, _| t.rows[1].values[1] = bad), wanted);
    }
    let width = "row 3: values are 1; allowed: one for each of the 2 features";
    assert_eq!(refused(|t, _| t.rows[2].values.truncate(1)), width);
    assert_eq!(refused(|t, _| t.rows[0].label = 3), "row 1: label is 3; allowed: 0 to 2");
    for bad in [0.0, -1.0, 1001.0, f64::NAN, f64::INFINITY] {
        let wanted = format!("row 1: weight is {bad}; allowed: 0.001 to 1000");
        assert_eq!(refused(|t, _| t.rows[0].weight = bad), wanted);
    }
}

#[test]
fn names_and_classes_that_cannot_be() {
    let names =
        |got: &str| format!("features: {got}; allowed: 1 to 256 names, each there once and none empty");
    assert_eq!(refused(|t, _| t.features.clear()), names("0 of them"));
    assert_eq!(refused(|t, _| t.features[1] = "f0".into()), names("`f0` twice"));
    assert_eq!(refused(|t, _| t.features[1] = " ".into()), names("an empty name"));
    assert_eq!(refused(|t, _| t.classes = 1), "1 classes; allowed: 2 to 16");
    assert_eq!(refused(|t, _| t.classes = usize::MAX), format!("{} classes; allowed: 2 to 16", usize::MAX));
}

#[test]
fn settings_that_cannot_be() {
    assert_eq!(refused(|_, s| s.max_depth = 0), "max_depth is 0; allowed: 1 to 6");
    assert_eq!(refused(|_, s| s.max_depth = 7), "max_depth is 7; allowed: 1 to 6");
    assert_eq!(refused(|_, s| s.min_leaf = 0), "min_leaf is 0; allowed: 1 row or more");
    assert_eq!(refused(|_, s| s.draws = 0), "draws is 0; allowed: 1 to 64");
    assert_eq!(refused(|_, s| s.draws = 65), "draws is 65; allowed: 1 to 64");
    let dither = "dither is 1 numbers; allowed: one for each of the 2 features";
    assert_eq!(refused(|_, s| s.dither.truncate(1)), dither);
    for bad in [-0.1, f64::NAN, f64::INFINITY] {
        let wanted = format!("dither is {bad}; allowed: finite numbers from 0 up");
        assert_eq!(refused(|_, s| s.dither[1] = bad), wanted);
    }
    let many = refused(|t, s| {
        t.rows = t.rows.iter().cloned().cycle().take(20_000).collect();
        (s.draws, s.dither) = (64, vec![0.0, 1.0]);
    });
    assert_eq!(many, "20000 rows with 64 draws each; allowed: 1048576 draws in all");
}

/// Ranges that reach beyond the numbers there are do no harm.
#[test]
fn the_widest_values_and_ranges_are_fitted() {
    let mut rows = good();
    rows.rows[0].values[0] = f64::MIN;
    rows.rows[2].values[0] = f64::MAX;
    let settings = Settings { dither: vec![f64::MAX, 0.0], draws: 3, ..exact(&rows, 3) };
    let tree = fit(&rows, &settings).unwrap();
    assert_eq!(tree.walk(&[Some(f64::MAX), Some(7.0)]).unwrap().answer(), 2);
}

#[test]
fn nodes_that_make_no_tree() {
    let leaf = |votes: &[f64]| Box::new(Node::Leaf { votes: votes.to_vec() });
    let split = |feature, threshold, below: Box<Node>| Node::Split {
        feature,
        threshold,
        below,
        above: leaf(&[0.0, 1.0]),
        votes: vec![1.0, 1.0],
    };
    let refused = |root: Node| Tree::new(vec!["a".into()], 2, root).unwrap_err().to_string();
    assert_eq!(refused(split(1, 0.0, leaf(&[1.0, 0.0]))), "node 1: feature number is 1; allowed: 0 to 0");
    let nan = split(0, f64::NAN, leaf(&[1.0, 0.0]));
    assert_eq!(refused(nan), "node 1: threshold is NaN; allowed: a finite number");
    let under = "node 1: votes hold 1; allowed: 2, the sum of the two nodes under it";
    assert_eq!(refused(split(0, 0.0, leaf(&[2.0, 0.0]))), under);
    let empty = "node 2: votes hold 0 in all; allowed: a finite sum above 0: no leaf is empty";
    assert_eq!(refused(split(0, 0.0, leaf(&[0.0, 0.0]))), empty);
    let many = "node 2: votes hold inf in all; allowed: a finite sum above 0: no leaf is empty";
    assert_eq!(refused(split(0, 0.0, leaf(&[f64::MAX, f64::MAX]))), many);
    let width = "node 1: votes hold 3 numbers; allowed: one for each of 2 classes";
    assert_eq!(refused(*leaf(&[1.0, 1.0, 1.0])), width);
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        let wanted = format!("node 1: votes hold {bad}; allowed: finite numbers from 0 up");
        assert_eq!(refused(*leaf(&[5.0, bad])), wanted);
    }
    let mut deep = *leaf(&[1.0, 0.0]);
    for above in 1..8 {
        let votes = vec![1.0, f64::from(above)];
        deep = Node::Split {
            feature: 0,
            threshold: 0.0,
            below: Box::new(deep),
            above: leaf(&[0.0, 1.0]),
            votes,
        };
    }
    assert_eq!(refused(deep), "node 8 is 7 questions from the first node; allowed: at most 6");
}
