//! Everything that is read from or written to disk, and the only place that knows how it is spelt.

mod answer;
mod check_twin;
mod estimate_twin;
mod finish_twin;
mod fracture_rows;
pub mod log_csv;
mod models;
mod observed;
mod photo_files;
mod photo_note_twin;
mod photos_twin;
mod prediction_twin;
pub mod problem;
mod profile_csv;
pub mod run_sheet;
mod save;
mod save_picture;
mod spark_photos;
mod training;
mod tree_toml;
mod words;

pub use answer::Answer;
pub use fracture_rows::{FractureRowsError, face_tree, fracture_settings, fracture_training};
pub use models::{Models, ModelsError, SHIPPED_FACE_TREE, SHIPPED_SPARK_TREE, UnknownName};
pub use observed::{ObserveError, Observed};
pub use photo_files::{PhotoFiles, PhotoProgress, photo_warnings, read_photo};
pub use problem::{Problem, ProblemList};
pub use profile_csv::profile_csv;
pub use run_sheet::RunSheet;
pub use save::{same_file, save, set_aside};
pub use save_picture::save_picture;
pub use spark_photos::{Look, Looked, look_at_photos, name_photos};
pub use training::{TrainError, spark_rows, spark_settings, spark_tree};
pub use tree_toml::{TreeFileError, read_tree, write_tree};
