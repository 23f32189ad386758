use super::Node;
use thiserror::Error;

/// A fitted tree: an answer among ordered classes `0..classes` from named numbers.
///
/// Whatever holds it has passed the checks of [`Tree::new`].
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    features: Vec<String>,
    classes: usize,
    root: Node,
}

/// Why nodes do not make a tree. Nodes are counted from 1 as [`Node::all`] lists them.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TreeError {
    /// Names of the features.
    #[error("features: {got}; allowed: 1 to {most} names, each there once and none empty", most = Tree::MOST_FEATURES)]
    Features {
        /// What is wrong.
        got: String,
    },
    /// Number of classes.
    #[error("{got} classes; allowed: 2 to {most}", most = Tree::MOST_CLASSES)]
    Classes {
        /// How many.
        got: usize,
    },
    /// A way to a leaf that is too long.
    #[error("node {node} is {got} questions from the first node; allowed: at most {most}", most = Tree::MOST_DEPTH)]
    Depth {
        /// Its number.
        node: usize,
        /// Questions on the way to it.
        got: usize,
    },
    /// Something in a node.
    #[error("node {node}: {field} {got}; allowed: {allowed}")]
    Node {
        /// Its number.
        node: usize,
        /// What in it.
        field: &'static str,
        /// What it is.
        got: String,
        /// What it may be.
        allowed: String,
    },
}

impl Tree {
    /// Most questions on the way to a leaf.
    pub const MOST_DEPTH: usize = 6;
    /// Most classes.
    pub const MOST_CLASSES: usize = 16;
    /// Most features.
    pub const MOST_FEATURES: usize = 256;
    /// Of its votes, how far the sums under a node may lie from its own: sums in another order.
    const VOTES_RELATIVE: f64 = 1e-9;

    /// A tree of these nodes, if they make one.
    pub fn new(features: Vec<String>, classes: usize, root: Node) -> Result<Self, TreeError> {
        check_names(&features, classes)?;
        Check { features: features.len(), classes, node: 0 }.node(&root, 0)?;
        Ok(Self { features, classes, root })
    }

    /// Names of the features, in the order of the values.
    pub fn features(&self) -> &[String] {
        &self.features
    }

    /// Number of classes.
    pub fn classes(&self) -> usize {
        self.classes
    }

    /// The first node.
    pub fn root(&self) -> &Node {
        &self.root
    }
}

/// Checks what a tree and its training rows have in common.
pub(super) fn check_names(features: &[String], classes: usize) -> Result<(), TreeError> {
    let wrong = |got: String| Err(TreeError::Features { got });
    if features.is_empty() || features.len() > Tree::MOST_FEATURES {
        return wrong(format!("{} of them", features.len()));
    }
    if features.iter().any(|name| name.trim().is_empty()) {
        return wrong("an empty name".to_owned());
    }
    let twice = features.iter().enumerate().find(|(i, name)| features[..*i].contains(name));
    if let Some((_, name)) = twice {
        return wrong(format!("`{name}` twice"));
    }
    if !(2..=Tree::MOST_CLASSES).contains(&classes) {
        return Err(TreeError::Classes { got: classes });
    }
    Ok(())
}

/// A walk over all nodes that stops at the first fault.
struct Check {
    features: usize,
    classes: usize,
    node: usize,
}

impl Check {
    fn node(&mut self, node: &Node, depth: usize) -> Result<(), TreeError> {
        self.node += 1;
        let at = self.node;
        if depth > Tree::MOST_DEPTH {
            return Err(TreeError::Depth { node: at, got: depth });
        }
        self.votes(node.votes())?;
        let Node::Split { feature, threshold, below, above, votes } = node else { return Ok(()) };
        if *feature >= self.features {
            let (got, most) = (feature.to_string(), self.features - 1);
            return Err(wrong(at, "feature number is", got, format!("0 to {most}")));
        }
        if !threshold.is_finite() {
            return Err(wrong(at, "threshold is", threshold.to_string(), "a finite number".to_owned()));
        }
        self.node(below, depth + 1)?;
        self.node(above, depth + 1)?;
        let slack = Tree::VOTES_RELATIVE * node.weight();
        for ((own, b), a) in votes.iter().zip(below.votes()).zip(above.votes()) {
            if (own - (a + b)).abs() > slack {
                let allowed = format!("{}, the sum of the two nodes under it", a + b);
                return Err(wrong(at, "votes hold", own.to_string(), allowed));
            }
        }
        Ok(())
    }

    fn votes(&self, votes: &[f64]) -> Result<(), TreeError> {
        let wrong = |got: String, allowed: &str| Err(wrong(self.node, "votes hold", got, allowed.to_owned()));
        if votes.len() != self.classes {
            return wrong(
                format!("{} numbers", votes.len()),
                &format!("one for each of {} classes", self.classes),
            );
        }
        if let Some(vote) = votes.iter().find(|v| !v.is_finite() || **v < 0.0) {
            return wrong(vote.to_string(), "finite numbers from 0 up");
        }
        let sum = votes.iter().sum::<f64>();
        if sum <= 0.0 || !sum.is_finite() {
            return wrong(format!("{sum} in all"), "a finite sum above 0: no leaf is empty");
        }
        Ok(())
    }
}

fn wrong(node: usize, field: &'static str, got: String, allowed: String) -> TreeError {
    TreeError::Node { node, field, got, allowed }
}
