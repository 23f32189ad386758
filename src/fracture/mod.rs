//! What the fracture face shows: described in words, or measured on photos.

mod description;
mod face_outline;
mod face_photo;
mod face_refusal;
mod grain;
mod measured;
mod pooled;

pub use description::{
    Broken, FaceDescription, FractureDescription, QuenchHeat, Quenching, Rim, RimDepth, Tempering, Texture,
};
pub use face_outline::{FaceOutline, OutlineError};
pub use face_photo::{
    BorderPoint, FaceForm, FaceKnown, FaceNote, FacePhoto, SeenRim, SeenTexture, SideDepth, SideName,
    SideSeen, SideUnread,
};
pub use face_refusal::FaceRefusal;
pub use grain::{SeenGrain, grain_diameter, grain_number};
pub use measured::{FaceModel, ShownCell, ShownRim, measure_face, shown_patches, shown_rim};
pub use pooled::{
    FaceFrame, LookedAtFaces, PhotographedFace, PooledNote, ShownFace, UnusableFace, UnusedFace, pool_faces,
};
