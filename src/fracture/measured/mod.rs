//! One photo of a fracture face, measured.
//!
//! `find` looks for the face, `outlined` lays it flat and follows its rough outline, `texture` and `strip` describe
//! cells along each side, `regions` learns what case and core look like on this very face and where one turns into
//! the other, `border` being the chain that follows the edge along a side; `sides` sums up, `quality` refuses.

mod blur;
mod border;
mod find;
mod flattened;
mod homography;
mod layout;
mod outlined;
mod peel;
mod quality;
mod reading;
mod regions;
mod rim;
mod scale;
mod sides;
mod split;
mod strip;
mod summed;
mod texture;
mod transition;

pub use reading::measure_face;
