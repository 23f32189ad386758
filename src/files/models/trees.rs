use super::ModelsError;
use super::value::At;
use crate::features::FeatureName;
use crate::files::tree_toml::read_tree;
use crate::steel::CarbonBand;
use crate::tree::Tree;

const FILE: &str = "spark-bands.toml";

/// Reads `spark-bands.toml`: a tree of the features and bands that this program knows.
pub(super) fn spark(text: &str) -> Result<Tree, ModelsError> {
    let tree =
        read_tree(text).map_err(|problem| ModelsError::Tree { file: FILE, problem: Box::new(problem) })?;
    let columns: Vec<&str> = FeatureName::TREE.iter().map(|n| n.column()).collect();
    let at = |field| At { file: FILE, entry: "tree", field };
    if tree.features() != columns {
        return Err(ModelsError::value(at("features"), tree.features().join(", "), columns.join(", ")));
    }
    let bands = CarbonBand::ALL.len();
    if tree.classes() != bands {
        return Err(ModelsError::value(at("classes"), tree.classes().to_string(), bands.to_string()));
    }
    Ok(tree)
}
