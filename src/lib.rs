//! snapspark library.

pub mod diffusion;
pub mod files;
pub mod prediction;
pub mod soak;
pub mod sources;
pub mod steel;
pub mod units;
