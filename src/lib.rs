//! snapspark library.

pub mod diffusion;
pub mod files;
pub mod fracture;
pub mod prediction;
pub mod soak;
pub mod sources;
pub mod spark;
pub mod steel;
pub mod units;
pub mod witness;
