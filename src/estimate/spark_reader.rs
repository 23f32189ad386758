use crate::features::{FeatureName, SparkFeatures};
use crate::known::Personal;
use crate::tree::{Training, Tree};

/// What sparks are read with: a tree, and the rows that missing answers are filled from. A rig's tree needs none: what it
/// asks first is the carbon by all that was shown together.
#[derive(Debug, Clone, Copy)]
pub struct SparkReader<'a> {
    tree: &'a Tree,
    fills: Option<&'a Training>,
    personal: Option<&'a Personal>,
}

impl<'a> SparkReader<'a> {
    /// The tree of the published trend, with its rows.
    pub fn published(tree: &'a Tree, training: &'a Training) -> Self {
        Self { tree, fills: Some(training), personal: None }
    }

    /// The tree of a rig.
    pub(super) fn personal(personal: &'a Personal) -> Self {
        Self { tree: &personal.tree, fills: None, personal: Some(personal) }
    }

    /// Whether it reads by the known steels of a rig.
    pub(super) fn at_rig(&self) -> bool {
        self.personal.is_some()
    }

    pub(super) fn tree(&self) -> &'a Tree {
        self.tree
    }

    pub(super) fn fills(&self) -> Option<&'a Training> {
        self.fills
    }

    /// The columns of the tree.
    pub(super) fn columns(&self) -> Vec<FeatureName> {
        self.personal.map_or_else(|| FeatureName::TREE.to_vec(), Personal::columns)
    }

    /// What the tree could ask for and nobody told.
    pub(super) fn missing(&self, features: &SparkFeatures) -> Vec<FeatureName> {
        let asked = self.columns().into_iter().filter(|name| *name != FeatureName::TrendCarbon);
        asked.filter(|name| features.get(*name).is_none()).collect()
    }
}
