use crate::fracture::{FaceNote, PooledNote};

/// What to know of a face from photos, in words.
pub(super) fn note(note: &PooledNote) -> String {
    match note {
        PooledNote::Seen(FaceNote::NoScale) => "No scale: depths are shares of the thickness. --thickness 3.2mm gives it, or \
                                                two points of a ruler beside the face (--scale x1,y1,x2,y2=10mm)."
            .into(),
        PooledNote::Seen(FaceNote::TakenForSquare) => {
            "Its width was not told: it is taken for square, as it nearly looks. --width says it for sure.".into()
        }
        PooledNote::Seen(FaceNote::WidthUnknown) => "Its width was not told, so a slant of the camera cannot be taken out of \
                                                     lengths along it: --width says it."
            .into(),
        PooledNote::Copy { photo, of } => {
            format!("{photo} shows the same picture as {of}: counted once. Copies tell nothing new.")
        }
        PooledNote::RimsDiffer { agreed, of } => format!(
            "Photos differ in how far round the rim runs: {agreed} of {of} say so. Look at the overlays, and take one more \
             with the light from another side."
        ),
        PooledNote::DepthsApart => {
            "The depths of two photos exclude each other: one of them is misread. Look at the overlays.".into()
        }
        PooledNote::OneDepth => "Only one of the photos gives a depth.".into(),
    }
}
