use super::Answer;
use super::args::TrainArgs;
use crate::files::{self, SHIPPED_SPARK_TREE, spark_tree};

/// `snapspark train`: fits the trees again from the training data that ships, and either compares them
/// with the ones that ship or writes them.
pub(super) fn train(args: &TrainArgs) -> Result<Answer, String> {
    let (tree, text) = spark_tree().map_err(|e| format!("error: training-data/{e}"))?;
    let leaves = tree.root().all().iter().filter(|n| n.depth() == 0).count();
    let what = format!("{} features, {} bands, {leaves} leaves", tree.features().len(), tree.classes());
    let text = match &args.out {
        Some(folder) => {
            let path = folder.join("spark-bands.toml");
            files::save(&path, text.as_bytes()).map_err(|e| {
                let path = path.display();
                format!("error: {path}: the tree cannot be written: {e}\n help: check that the folder exists")
            })?;
            format!("{}: {what}\n", path.display())
        }
        None if text == SHIPPED_SPARK_TREE => {
            format!("models/spark-bands.toml follows from training-data/spark_rows.csv: {what}\n")
        }
        None => {
            return Err(
                "error: models/spark-bands.toml does not follow from training-data/spark_rows.csv\n \
                        help: `snapspark train --out models` writes it anew; say so in the changelog"
                    .into(),
            );
        }
    };
    Ok(Answer { text, remarks: String::new() })
}
