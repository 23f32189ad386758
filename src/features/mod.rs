//! What an observation comes down to: named optional numbers, each with its range and its origin.

mod face_seen;
mod face_words;
mod feature_name;
mod fracture;
mod settled;
mod spark;
mod words;

pub use face_words::{FaceReading, FaceTexture, RimClass};
pub use feature_name::FeatureName;
pub use fracture::{
    BlankFeatures, BlankRim, FaceColumn, FractureFeatures, HardeningHeat, Tempered, together,
};
pub use spark::{Feature, Origin, SparkFeatures};
pub use words::{Range, RicherStock, SparkWords};

/// Version of the features: raised when one changes its meaning, so that trees and stored records
/// made with another one are noticed.
pub const FEATURE_VERSION: u32 = 1;
