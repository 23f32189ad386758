//! What the sparks show: described in words.

mod description;
mod told;
mod wheel;

pub use description::{GroundDepth, LooksLike, OverTime, SparkDescription, SteelState, StreamDescription};
pub use told::{Amount, Compared, FineSparking, Forking, Onset, PartOf, Reach, Told};
pub use wheel::{Wheel, WheelKind};
