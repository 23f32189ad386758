use super::*;
use proptest::prelude::*;
use std::fmt::Write;

const TREE: &str = r#"format = "snapspark tree"
version = 1
classes = 2
features = ["carrier length", "bursts"]

[[node]]
number = 1
votes = [3.0, 3.5]
feature = "carrier length"
threshold = 2.5
below = 2
above = 5

[[node]]
number = 2
votes = [3.0, 0.5]
feature = "bursts"
threshold = 0.1
below = 3
above = 4

[[node]]
number = 3
votes = [3.0, 0.0]

[[node]]
number = 4
votes = [0.0, 0.5]

[[node]]
number = 5
votes = [0.0, 3.0]
"#;

fn leaf(votes: [f64; 2]) -> Node {
    Node::Leaf { votes: votes.to_vec() }
}

fn tree() -> Tree {
    let under = Node::Split {
        feature: 1,
        threshold: 0.1,
        below: leaf([3.0, 0.0]).into(),
        above: leaf([0.0, 0.5]).into(),
        votes: vec![3.0, 0.5],
    };
    let root = Node::Split {
        feature: 0,
        threshold: 2.5,
        below: Box::new(under),
        above: leaf([0.0, 3.0]).into(),
        votes: vec![3.0, 3.5],
    };
    Tree::new(vec!["carrier length".into(), "bursts".into()], 2, root).unwrap()
}

#[test]
fn a_tree_is_written_as_it_is_read() {
    assert_eq!(write_tree(&tree()).unwrap(), TREE);
    assert_eq!(read_tree(TREE).unwrap(), tree());
}

#[test]
fn no_bit_is_lost() {
    let odd = [0.1 + 0.2, f64::MIN_POSITIVE, 1.0 / 3.0, -1e300, f64::from_bits(1), 1e15 + 0.125];
    for threshold in odd {
        let votes = [1.0 / 3.0, 0.1];
        let root = Node::Split {
            feature: 0,
            threshold,
            below: leaf([votes[0], 0.0]).into(),
            above: leaf([0.0, votes[1]]).into(),
            votes: votes.to_vec(),
        };
        let tree = Tree::new(vec!["ü \"x\" # y\n".into()], 2, root).unwrap();
        assert_eq!(read_tree(&write_tree(&tree).unwrap()).unwrap(), tree);
    }
}

/// The message for the file with one thing in it changed.
fn refused(from: &str, to: &str) -> String {
    assert_eq!(TREE.matches(from).count(), 1, "{from} is there once");
    read_tree(&TREE.replace(from, to)).expect_err(to).to_string()
}

#[test]
fn another_kind_or_version_is_named_before_anything_else() {
    let kind = "format is `snapspark run`; allowed: `snapspark tree`";
    assert_eq!(refused("snapspark tree", "snapspark run"), kind);
    let newer = TREE.replace("version = 1", "version = 2").replace("classes = 2", "bands = 2");
    assert_eq!(read_tree(&newer).unwrap_err().to_string(), "version is 2; allowed: 1");
    assert!(refused("format = \"snapspark tree\"\n", "").contains("missing field `format`"));
}

#[test]
fn what_is_not_in_the_form_is_named_with_its_line() {
    assert!(refused("classes = 2", "classes = -2").contains("line 3"));
    assert!(refused("classes = 2", "clases = 2").contains("unknown field `clases`"));
    assert!(refused("votes = [3.0, 0.0]", "votes = [3.0, \"x\"]").contains("line 24"));
    assert!(refused("below = 3", "left = 3").contains("unknown field `left`"));
    assert!(read_tree("\u{0}").unwrap_err().to_string().contains("line 1"));
    assert!(read_tree("").unwrap_err().to_string().contains("missing field `format`"));
}

#[test]
fn nodes_that_lead_astray() {
    assert_eq!(
        refused("below = 2", "below = 1"),
        "node 1: below is 1; allowed: 2, the next node in the file"
    );
    assert_eq!(
        refused("above = 5", "above = 2"),
        "node 1: above is 2; allowed: 5, the next node in the file"
    );
    assert_eq!(
        refused("above = 4", "above = 99"),
        "node 2: above is 99; allowed: 4, the next node in the file"
    );
    assert_eq!(refused("number = 4", "number = 3"), "node 4: number is 3; allowed: 4, its place in the file");
    let last = "\n[[node]]\nnumber = 5\nvotes = [0.0, 3.0]\n";
    assert_eq!(refused(last, ""), "node 5: not there; allowed: every node that a question leads to");
    let more = format!("{last}{}", last.replace('5', "6"));
    assert_eq!(refused(last, &more), "node 6: no question leads to it; allowed: 5 nodes");
    let feature = "node 2: feature is `rays`; allowed: `carrier length`, `bursts`";
    assert_eq!(refused("feature = \"bursts\"", "feature = \"rays\""), feature);
    let half = "node 2: some of feature, threshold, below and above; allowed: all of them for a question, none \
                for an answer";
    assert_eq!(refused("threshold = 0.1\n", ""), half);
}

#[test]
fn numbers_that_cannot_be() {
    let threshold = |got: &str| format!("node 2: threshold is {got}; allowed: a finite number");
    assert_eq!(refused("threshold = 0.1", "threshold = nan"), threshold("NaN"));
    assert_eq!(refused("threshold = 0.1", "threshold = -inf"), threshold("-inf"));
    let votes = |got: &str| format!("node 3: votes hold {got}; allowed: finite numbers from 0 up");
    assert_eq!(refused("[3.0, 0.0]", "[3.0, nan]"), votes("NaN"));
    assert_eq!(refused("[3.0, 0.0]", "[3.0, -1.0]"), votes("-1"));
    let width = "node 3: votes hold 1 numbers; allowed: one for each of 2 classes";
    assert_eq!(refused("[3.0, 0.0]", "[3.0]"), width);
    let sum = "node 2: votes hold 3; allowed: 4, the sum of the two nodes under it";
    assert_eq!(refused("[3.0, 0.0]", "[4.0, 0.0]"), sum);
    let empty = "node 3: votes hold 0 in all; allowed: a finite sum above 0: no leaf is empty";
    assert_eq!(refused("[3.0, 0.0]", "[0.0, 0.0]"), empty);
    assert_eq!(refused("classes = 2", "classes = 1"), "1 classes; allowed: 2 to 16");
    let names = "features: `bursts` twice; allowed: 1 to 256 names, each there once and none empty";
    assert_eq!(refused("\"bursts\"]", "\"bursts\", \"bursts\"]"), names);
}

#[test]
fn too_many_nodes_or_none() {
    let head = &TREE[..TREE.find("[[node]]").unwrap()];
    assert_eq!(read_tree(head).unwrap_err().to_string(), "0 nodes; allowed: 1 to 127");
    let many = "[[node]]\nnumber = 1\nvotes = [1.0, 1.0]\n".repeat(128);
    let message = read_tree(&format!("{head}{many}")).unwrap_err().to_string();
    assert_eq!(message, "128 nodes; allowed: 1 to 127");
    // a chain of questions, as long as the file allows
    let mut chain = head.to_owned();
    for at in 0..63 {
        let (one, two) = (2 * at + 1, 2 * at + 2);
        let (left, other) = (f64::from(64 - at), f64::from(two));
        write!(
            chain,
            "[[node]]\nnumber = {one}\nvotes = [{left:?}, 0.0]\nfeature = \"bursts\"\nthreshold = {other:?}\n\
             below = {two}\nabove = {}\n[[node]]\nnumber = {two}\nvotes = [1.0, 0.0]\n",
            two + 1
        )
        .unwrap();
    }
    chain += "[[node]]\nnumber = 127\nvotes = [1.0, 0.0]\n";
    let message = read_tree(&chain).unwrap_err().to_string();
    assert_eq!(message, "node 14 is 7 questions from the first node; allowed: at most 6");
}

const BITS: [&str; 12] =
    ["", "9", "-", ".", "\"", "\n", "nan", "[", "]", "1e999", "\n[[node]]\n", "18446744073709551616"];

proptest! {
    /// Whatever is done to the file, it is refused in words or gives a tree that can be walked.
    #[test]
    fn a_damaged_file_never_breaks_the_reader(
        changes in proptest::collection::vec((0..TREE.len(), 0..12_usize, 0..BITS.len()), 1..5)
    ) {
        let mut text = TREE.to_owned();
        for (at, cut, bit) in changes {
            let at = at.min(text.len());
            let end = (at + cut).min(text.len());
            text.replace_range(at..end, BITS[bit]);
        }
        match read_tree(&text) {
            Ok(tree) => {
                let walk = tree.walk(&vec![None; tree.features().len()]).unwrap();
                prop_assert!((walk.shares.iter().sum::<f64>() - 1.0).abs() < 1e-9);
                prop_assert!(walk.answer() < tree.classes());
                prop_assert_eq!(read_tree(&write_tree(&tree).unwrap()).unwrap(), tree);
            }
            Err(problem) => prop_assert!(!problem.to_string().is_empty()),
        }
    }
}
