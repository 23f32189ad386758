use super::args::TrainArgs;
use super::{Answer, train_known};
use crate::files::{self, SHIPPED_FACE_TREE, SHIPPED_SPARK_TREE, face_parts, face_tree, spark_tree};
use crate::tree::Tree;

/// A file of `models/` as it follows from its rows.
struct Fitted {
    /// What it holds.
    what: String,
    text: String,
    /// The file that ships.
    shipped: &'static str,
    /// Its name in `models/`.
    file: &'static str,
    /// The rows, in `training-data/`.
    rows: &'static str,
}

/// `snapspark train`: fits the trees again from the training data that ships, and either compares them
/// with the ones that ship or writes them.
pub(super) fn train(args: &TrainArgs) -> Result<Answer, String> {
    if let Some(set) = &args.set {
        return train_known::train(args, set);
    }
    let mut said = String::new();
    for fitted in fit_all()? {
        said += &match &args.out {
            Some(folder) => fitted.write(folder)?,
            None => fitted.compare()?,
        };
    }
    Ok(Answer::done(said))
}

fn fit_all() -> Result<Vec<Fitted>, String> {
    let wrong = |e: &dyn std::error::Error| format!("error: training-data/{e}");
    let (tree, text) = spark_tree().map_err(|e| wrong(&e))?;
    let (file, rows) = ("spark-bands.toml", "spark_rows.csv");
    let spark = Fitted { what: what(&tree), text, shipped: SHIPPED_SPARK_TREE, file, rows };
    let (file, rows) = ("fracture-depth.toml", "fracture_rows.csv");
    let (tree, text) = face_tree().map_err(|e| format!("error: training-data/{rows}: {e}"))?;
    let face = Fitted { what: what(&tree), text, shipped: SHIPPED_FACE_TREE, file, rows };
    let parts = face_parts().map_err(|e| wrong(&e))?.into_iter().map(|part| Fitted {
        what: part.what,
        text: part.text,
        shipped: part.shipped,
        file: part.file,
        rows: part.rows,
    });
    Ok([spark, face].into_iter().chain(parts).collect())
}

fn what(tree: &Tree) -> String {
    let leaves = tree.root().all().iter().filter(|n| n.depth() == 0).count();
    format!("{} features, {} bands, {leaves} leaves", tree.features().len(), tree.classes())
}

impl Fitted {
    fn write(&self, folder: &std::path::Path) -> Result<String, String> {
        let path = folder.join(self.file);
        files::save(&path, self.text.as_bytes()).map_err(|e| {
            let path = path.display();
            format!("error: {path}: the model cannot be written: {e}\n help: check that the folder exists")
        })?;
        Ok(format!("{}: {}\n", path.display(), self.what))
    }

    fn compare(&self) -> Result<String, String> {
        let Self { file, rows, .. } = self;
        if self.text == self.shipped {
            return Ok(format!("models/{file} follows from training-data/{rows}: {}\n", self.what));
        }
        Err(format!(
            "error: models/{file} does not follow from training-data/{rows}\n \
             help: `snapspark train --out models` writes it anew; say so in the changelog"
        ))
    }
}
