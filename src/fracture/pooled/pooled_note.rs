use crate::fracture::FaceNote;

/// What to know of a face from photos.
#[derive(Debug, Clone, PartialEq)]
pub enum PooledNote {
    /// Of one photo or more.
    Seen(FaceNote),
    /// A photo shows the same picture as one before it and was not counted again.
    Copy {
        /// Its name.
        photo: String,
        /// The one that was counted.
        of: String,
    },
    /// Photos differ in how far round the rim runs.
    RimsDiffer {
        /// Photos that say what the face is said to show.
        agreed: usize,
        /// Photos in all.
        of: usize,
    },
    /// The ranges of two photos' depths exclude each other.
    DepthsApart,
    /// One photo of several gives a depth.
    OneDepth,
}
