//! snapspark library.

pub mod diffusion;
pub mod files;
pub mod prediction;
pub mod report;
pub mod soak;
pub mod transport;
pub mod sources;
pub mod steel;
pub mod units;
