//! What the sparks show: described in words, or measured on photos.

mod description;
mod measured;
mod told;
mod wheel;

pub use description::{GroundDepth, LooksLike, OverTime, SparkDescription, SteelState, StreamDescription};
pub use measured::{
    Burst, Carrier, CarrierEnd, Exposed, LeftOut, LightAt, Refusal, Spot, Stream, StreamPhoto, WhyLeftOut,
    measure,
};
pub use told::{Amount, Compared, FineSparking, Forking, Onset, PartOf, Reach, StreamColour, Told};
pub use wheel::{SpeedJudged, SurfaceSpeeds, Wheel, WheelKind};
