//! What a photo of a spark stream shows.

mod burst;
mod chain;
mod contact;
pub mod debug;
mod exposed;
mod flank;
mod hub;
mod join;
mod piece;
mod plane;
mod ridge;
mod tiles;
mod refusal;
mod stream_photo;

pub use exposed::Exposed;
pub use refusal::Refusal;
pub use stream_photo::{Burst, Carrier, CarrierEnd, LeftOut, LightAt, Spot, Stream, StreamPhoto, WhyLeftOut};
