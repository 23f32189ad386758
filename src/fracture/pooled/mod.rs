//! What several photos of one face say together: the light turned, and the face of the other half.

mod face_frame;
mod looked_at;
mod photographed_face;
mod pooled_note;
mod shown_face;

pub use face_frame::FaceFrame;
pub use looked_at::{LookedAtFaces, UnusableFace, UnusedFace};
pub use photographed_face::{PhotographedFace, pool_faces};
pub use pooled_note::PooledNote;
pub use shown_face::ShownFace;
