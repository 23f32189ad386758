//! What a photo of a spark stream shows.

mod arm;
mod bursts;
mod carriers;
mod certainty;
mod chain;
mod contact;
mod exposed;
mod fan;
mod fit;
mod hub;
mod join;
mod joint;
mod judge;
mod kernels;
mod light;
mod line;
mod look;
mod measure;
mod piece;
mod refusal;
mod resolved;
mod ridge;
mod scene;
mod seen;
mod sight;
mod stream;
mod stream_photo;
mod tiles;
mod track;
mod width;

pub use exposed::Exposed;
pub(super) use judge::RESOLVED;
pub use measure::{MEASURING, measure, sight};
pub use refusal::Refusal;
pub use sight::Sight;
pub use stream_photo::{Burst, Carrier, CarrierEnd, LeftOut, LightAt, Spot, Stream, StreamPhoto, WhyLeftOut};
