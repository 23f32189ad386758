//! What a photo of a spark stream shows.

mod exposed;
mod refusal;
mod stream_photo;

pub use exposed::Exposed;
pub use refusal::Refusal;
pub use stream_photo::{Burst, Carrier, CarrierEnd, LeftOut, LightAt, Spot, Stream, StreamPhoto, WhyLeftOut};
