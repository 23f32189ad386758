//! What the sparks show: described in words, or measured on photos.

mod measured;
mod observation;
mod pooled;
mod told;
mod unusable;
mod wheel;

pub use measured::{
    Burst, Carrier, CarrierEnd, Exposed, LeftOut, LightAt, MEASURING, Refusal, Sight, Spot, Stream,
    StreamPhoto, WhyLeftOut, measure, sight,
};
pub use observation::{
    GroundDepth, LooksLike, OverTime, PhotoPaths, SparkObservation, SteelState, StreamObservation,
};
pub use pooled::{
    Frame, Grouping, LightFigure, PhotoConditions, PhotoNote, PhotoPiece, PhotoReading, Photographed,
    PhotographedSparks, Series, ShutterJudged, SparkContrast, StreamFigures, Trend, pool_photos,
};
pub use told::{Amount, Compared, FineSparking, Forking, Onset, PartOf, Reach, StreamColour, Told};
pub use unusable::{LookedAt, Unusable, UnusedPhoto};
pub use wheel::{SpeedJudged, SurfaceSpeeds, Wheel, WheelKind};
