//! A fitted tree as TOML that a person can read: what it is, then its nodes, each before those under it.

use super::problem::shown;
use crate::tree::{Node, Tree, TreeError};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The kind of file, its first line.
const FORMAT: &str = "snapspark tree";
/// The version that is written, and the only one that is read.
const VERSION: i64 = 1;
/// As many as a tree of full depth has.
const MOST_NODES: usize = (1 << (Tree::MOST_DEPTH + 1)) - 1;

/// What is wrong with the file of a tree. Nodes are counted from 1.
#[derive(Debug, Error)]
pub enum TreeFileError {
    /// Not the TOML that the file must be: the problem names line, field and what is allowed.
    #[error("{0}")]
    Form(#[from] Box<toml::de::Error>),
    /// Another kind of file.
    #[error("format is `{got}`; allowed: `{FORMAT}`")]
    Format {
        /// What it says.
        got: String,
    },
    /// Another version.
    #[error("version is {got}; allowed: {VERSION}")]
    Version {
        /// What it says.
        got: i64,
    },
    /// Too many nodes, or none.
    #[error("{got} nodes; allowed: 1 to {MOST_NODES}")]
    Count {
        /// How many.
        got: usize,
    },
    /// Something in a node.
    #[error("node {node}: {got}; allowed: {allowed}")]
    Node {
        /// Its number.
        node: usize,
        /// What is there.
        got: String,
        /// What may be there.
        allowed: String,
    },
    /// Nodes that make no tree.
    #[error(transparent)]
    Tree(#[from] TreeError),
    /// A tree that TOML cannot hold.
    #[error("the tree cannot be written: {0}")]
    Write(#[from] toml::ser::Error),
}

/// What every version begins with.
#[derive(Deserialize)]
struct Head {
    format: String,
    version: i64,
}

/// Twin of [`Tree`].
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    format: String,
    version: i64,
    classes: usize,
    features: Vec<String>,
    #[serde(default)]
    node: Vec<NodeTwin>,
}

/// Twin of [`Node`]: a question if it names a feature, else an answer.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct NodeTwin {
    number: usize,
    votes: Vec<f64>,
    feature: Option<String>,
    threshold: Option<f64>,
    below: Option<usize>,
    above: Option<usize>,
}

/// The file of a tree.
pub fn write_tree(tree: &Tree) -> Result<String, TreeFileError> {
    let mut nodes = Vec::new();
    flatten(tree.root(), tree.features(), &mut nodes);
    let twin = FileTwin {
        format: FORMAT.to_owned(),
        version: VERSION,
        classes: tree.classes(),
        features: tree.features().to_vec(),
        node: nodes,
    };
    Ok(toml::to_string(&twin)?)
}

fn flatten(node: &Node, features: &[String], nodes: &mut Vec<NodeTwin>) {
    let at = nodes.len();
    let votes = node.votes().to_vec();
    nodes.push(NodeTwin { number: at + 1, votes, feature: None, threshold: None, below: None, above: None });
    if let Node::Split { feature, threshold, below, above, .. } = node {
        nodes[at].feature = features.get(*feature).cloned();
        nodes[at].threshold = Some(*threshold);
        nodes[at].below = Some(nodes.len() + 1);
        flatten(below, features, nodes);
        nodes[at].above = Some(nodes.len() + 1);
        flatten(above, features, nodes);
    }
}

/// The tree of a file. Whatever is in the text, the answer is a whole tree or says what is wrong.
pub fn read_tree(text: &str) -> Result<Tree, TreeFileError> {
    let head: Head = toml::from_str(text).map_err(Box::new)?;
    if head.format != FORMAT {
        return Err(TreeFileError::Format { got: shown(&head.format) });
    }
    if head.version != VERSION {
        return Err(TreeFileError::Version { got: head.version });
    }
    let file: FileTwin = toml::from_str(text).map_err(Box::new)?;
    if !(1..=MOST_NODES).contains(&file.node.len()) {
        return Err(TreeFileError::Count { got: file.node.len() });
    }
    let mut reader = Reader { features: &file.features, nodes: &file.node, next: 0 };
    let root = reader.node()?;
    if reader.next < file.node.len() {
        let got = "no question leads to it".to_owned();
        return Err(wrong(reader.next + 1, got, format!("{} nodes", reader.next)));
    }
    Ok(Tree::new(file.features, file.classes, root)?)
}

/// Takes the nodes one after the other, so that it ends whatever they say.
struct Reader<'a> {
    features: &'a [String],
    nodes: &'a [NodeTwin],
    next: usize,
}

impl Reader<'_> {
    fn node(&mut self) -> Result<Node, TreeFileError> {
        let number = self.next + 1;
        let Some(twin) = self.nodes.get(self.next) else {
            return Err(wrong(
                number,
                "not there".to_owned(),
                "every node that a question leads to".to_owned(),
            ));
        };
        if twin.number != number {
            return Err(wrong(
                number,
                format!("number is {}", twin.number),
                format!("{number}, its place in the file"),
            ));
        }
        self.next += 1;
        let votes = twin.votes.clone();
        match (&twin.feature, twin.threshold, twin.below, twin.above) {
            (None, None, None, None) => Ok(Node::Leaf { votes }),
            (Some(feature), Some(threshold), Some(below), Some(above)) => {
                let feature = self.feature(number, feature)?;
                let below = Box::new(self.under(number, "below", below)?);
                let above = Box::new(self.under(number, "above", above)?);
                Ok(Node::Split { feature, threshold, below, above, votes })
            }
            _ => {
                let got = "some of feature, threshold, below and above".to_owned();
                Err(wrong(number, got, "all of them for a question, none for an answer".to_owned()))
            }
        }
    }

    fn under(&mut self, number: usize, field: &str, said: usize) -> Result<Node, TreeFileError> {
        let place = self.next + 1;
        if said != place {
            return Err(wrong(
                number,
                format!("{field} is {said}"),
                format!("{place}, the next node in the file"),
            ));
        }
        self.node()
    }

    fn names(&self) -> String {
        self.features.iter().map(|name| format!("`{}`", shown(name))).collect::<Vec<_>>().join(", ")
    }

    fn feature(&self, number: usize, name: &str) -> Result<usize, TreeFileError> {
        self.features
            .iter()
            .position(|f| f == name)
            .ok_or_else(|| wrong(number, format!("feature is `{}`", shown(name)), self.names()))
    }
}

fn wrong(node: usize, got: String, allowed: String) -> TreeFileError {
    TreeFileError::Node { node, got, allowed }
}

#[cfg(test)]
mod tests;
