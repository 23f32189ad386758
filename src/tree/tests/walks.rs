//! Walks through a tree made by hand.

use crate::tree::{Node, Side, Step, Tree, Turn, WalkError};

fn leaf(votes: [f64; 3]) -> Node {
    Node::Leaf { votes: votes.to_vec() }
}

/// length < 2.5 ? (bursts < 10 ? 3:1:0 : 0:1:1) : 0:0:4
fn tree() -> Tree {
    let under = Node::Split {
        feature: 1,
        threshold: 10.0,
        below: leaf([3.0, 1.0, 0.0]).into(),
        above: leaf([0.0, 1.0, 1.0]).into(),
        votes: vec![3.0, 2.0, 1.0],
    };
    let root = Node::Split {
        feature: 0,
        threshold: 2.5,
        below: Box::new(under),
        above: leaf([0.0, 0.0, 4.0]).into(),
        votes: vec![3.0, 2.0, 5.0],
    };
    Tree::new(vec!["length".into(), "bursts".into()], 3, root).unwrap()
}

fn step(feature: usize, threshold: f64, part: f64, turn: Turn) -> Step {
    Step { feature, threshold, part, turn }
}

fn near(got: &[f64], wanted: [f64; 3]) {
    assert!(got.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-15), "{got:?}, wanted {wanted:?}");
}

#[test]
fn a_whole_set_of_values_goes_one_way() {
    let walk = tree().walk(&[Some(1.0), Some(3.0)]).unwrap();
    assert_eq!(walk.shares, [0.75, 0.25, 0.0]);
    assert_eq!(walk.answer(), 0);
    let to = |value| Turn::To { value, side: Side::Below };
    assert_eq!(walk.steps, [step(0, 2.5, 1.0, to(1.0)), step(1, 10.0, 1.0, to(3.0))]);
}

#[test]
fn a_value_at_the_threshold_goes_above() {
    let walk = tree().walk(&[Some(2.5), Some(0.0)]).unwrap();
    assert_eq!(walk.shares, [0.0, 0.0, 1.0]);
    assert_eq!(walk.steps, [step(0, 2.5, 1.0, Turn::To { value: 2.5, side: Side::Above })]);
    assert_eq!(tree().walk(&[Some(2.5_f64.next_down()), Some(0.0)]).unwrap().answer(), 0);
}

#[test]
fn a_tie_goes_to_the_lower_class() {
    let walk = tree().walk(&[Some(1.0), Some(10.0)]).unwrap();
    assert_eq!(walk.shares, [0.0, 0.5, 0.5]);
    assert_eq!(walk.answer(), 1);
}

/// Length missing: 6 of 10 votes below, 4 above. Bursts 20 then give 0:1/2:1/2 below and 0:0:1 above:
/// 0, 0.6/2, 0.6/2 + 0.4.
#[test]
fn a_missing_value_goes_both_ways_by_votes() {
    let walk = tree().walk(&[None, Some(20.0)]).unwrap();
    near(&walk.shares, [0.0, 0.3, 0.7]);
    let above = Turn::To { value: 20.0, side: Side::Above };
    let both = Turn::Both { below: 0.6 };
    assert_eq!(walk.steps, [step(0, 2.5, 1.0, both), step(1, 10.0, 0.6, above)]);
}

/// Nothing known: every leaf by its votes, so the shares are those of the first node.
#[test]
fn with_nothing_known_the_shares_are_those_of_all_rows() {
    let walk = tree().walk(&[None, None]).unwrap();
    near(&walk.shares, [0.3, 0.2, 0.5]);
    assert_eq!(walk.steps.len(), 2);
    assert_eq!(walk.steps[1], step(1, 10.0, 0.6, Turn::Both { below: 4.0 / 6.0 }));
}

#[test]
fn a_missing_value_that_no_question_asks_for_changes_nothing() {
    let tree = tree();
    assert_eq!(tree.walk(&[Some(3.0), None]).unwrap(), tree.walk(&[Some(3.0), Some(1.0)]).unwrap());
}

#[test]
fn values_that_cannot_be_asked() {
    let tree = tree();
    let width = WalkError::Width { got: 1, allowed: 2 };
    assert_eq!(tree.walk(&[None]), Err(width));
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let message = tree.walk(&[Some(1.0), Some(bad)]).unwrap_err().to_string();
        assert_eq!(message, format!("`bursts` is {bad}; allowed: a finite number, or missing"));
    }
}

#[test]
fn the_leaf_of_whole_values_is_that_of_their_way() {
    let tree = tree();
    for a in [-1.0, 0.5, 1.0, 3.0] {
        for b in [-1.0, 0.5, 2.0, 9.0] {
            let values: Vec<f64> = [a, b].into_iter().cycle().take(tree.features().len()).collect();
            let asked: Vec<Option<f64>> = values.iter().copied().map(Some).collect();
            let votes = tree.leaf(&values);
            let shares: Vec<f64> = votes.iter().map(|v| v / votes.iter().sum::<f64>()).collect();
            assert_eq!(tree.walk(&asked).unwrap().shares, shares);
        }
    }
}
