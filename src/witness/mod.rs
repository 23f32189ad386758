//! What file, skin and magnet say about the coupon after the soak.

mod observation;

pub use observation::{FileKind, FileResult, FileTest, Magnet, Skin, WitnessObservation};
