//! One photo of a fracture face, measured.
//!
//! `sight` is what the network says of a photo or of a face laid flat. `find` looks for the face, `ends` tells where it
//! ends, `outlined` lays it flat and `located` says where it lies or why nowhere, `texture` and `strip` describe cells along each side, `relative` tells them against the middle of this very face and `regions` where case turns into
//! core, `border` being the chain that follows an edge along a side; `sides` sums up, `rims` tells how far round the rim
//! runs, `quality` refuses. `grain` tells the grain of the case from its `variogram`, by a `mosaic` of facets. `FaceModel` is what was learned for that, `shown` what it was learned from.

mod blur;
mod border;
mod ends;
mod face_model;
mod find;
mod flattened;
mod grain;
mod homography;
mod layout;
mod located;
mod mosaic;
mod outlined;
mod quality;
mod reading;
mod regions;
mod relative;
mod rim;
mod rims;
mod scale;
mod shown;
mod sides;
mod sight;
mod strip;
mod striped;
mod summed;
mod texture;
mod transition;
mod variogram;
mod warmth;

pub use face_model::FaceModel;
pub use reading::measure_face;
pub use shown::{ShownCell, ShownRim, shown_patches, shown_rim};
