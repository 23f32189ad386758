//! Everything that is read from or written to disk, and the only place that knows how it is spelt.

mod models;

pub use models::{Models, ModelsError, UnknownName};
