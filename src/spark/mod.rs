//! What the sparks show: described in words.

mod description;
mod told;
mod wheel;

pub use description::{GroundDepth, LooksLike, OverTime, SparkDescription, SteelState, StreamDescription};
pub use told::{Amount, Compared, FineSparking, Forking, Onset, PartOf, Reach, StreamColour, Told};
pub use wheel::{SpeedJudged, SurfaceSpeeds, Wheel, WheelKind};
