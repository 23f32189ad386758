//! Photos: from the bytes of a file to a picture, how it was exposed, and how large things are in it.
//!
//! [`decode`] is a function of bytes alone; `files` reads them. It tells the format by content, keeps to
//! [`Limits`], turns the picture as EXIF says, drops opacity over black, and notes what a reader of the
//! picture should know. [`Picture::linear`] gives linear light, row by row, shrunk by whole numbers, so that
//! no second full copy of a large picture is ever held.

pub mod circle;
mod decode;
mod error;
mod exposure;
mod format;
mod heic;
mod jpeg;
mod limits;
mod linear;
mod note;
mod opaque;
mod picture;
mod plane;
mod scale;
mod tiff;
mod turn;
mod unusable;

pub use decode::{Photo, decode};
pub use error::PhotoError;
pub use exposure::Exposure;
pub use format::{FileKind, Format};
pub use limits::Limits;
pub use linear::{Linear, Shrink};
pub use note::PhotoNote;
pub use picture::{Channels, Picture, Samples};
pub use plane::Plane;
pub use scale::{Scale, ScaleError, ScaleMarks};
pub use unusable::{Unusable, UnusedPhoto};
