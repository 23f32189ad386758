//! What the fracture face shows: described in words, or measured on photos.

mod description;
mod face_photo;
mod face_refusal;
mod measured;

pub use description::{
    Broken, FaceDescription, FractureDescription, QuenchHeat, Quenching, Rim, RimDepth, Tempering, Texture,
};
pub use face_photo::{
    BorderPoint, FaceForm, FaceKnown, FaceNote, FacePhoto, SeenRim, SeenTexture, SideDepth, SideName,
    SideSeen, SideUnread,
};
pub use face_refusal::FaceRefusal;
pub use measured::measure_face;
