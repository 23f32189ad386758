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
mod meeting;
mod net;
mod patch;
mod piece;

mod refusal;
mod resolved;
mod ridge;
mod scene;
mod shown;
mod stream;
mod stream_photo;
mod tiles;
mod track;
mod width;

pub use exposed::Exposed;
pub use measure::{MEASURING, measure, shown_places};
pub use net::{BurstNet, Layer};
pub use refusal::Refusal;
pub use shown::ShownPlace;
pub use stream_photo::{Burst, Carrier, CarrierEnd, LeftOut, LightAt, Spot, Stream, StreamPhoto, WhyLeftOut};
