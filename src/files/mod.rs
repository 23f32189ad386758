//! Everything that is read from or written to disk, and the only place that knows how it is spelt.

mod answer;
mod models;
mod prediction_twin;
mod profile_csv;
mod save;

pub use answer::Answer;
pub use models::{Models, ModelsError, UnknownName};
pub use profile_csv::profile_csv;
pub use save::save;
