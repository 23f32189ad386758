use super::named_photos::named_photos;
use crate::fracture::{
    FaceDescription, FaceFrame, FaceKnown, FacePhoto, FractureDescription, LookedAtFaces, UnusableFace,
    UnusedFace, pool_faces,
};
use std::path::Path;

/// One photo of a face as it was looked at.
#[derive(Debug)]
pub struct LookedFace {
    /// What it shows.
    pub photo: FacePhoto,
    /// What is odd about its file.
    pub remarks: Vec<String>,
}

/// Looks at one photo with what is known of its face: reads, decodes, measures. Whatever it holds of the picture it lets
/// go.
pub type LookFace<'l> = &'l mut dyn FnMut(&Path, &FaceKnown) -> Result<LookedFace, UnusableFace>;

/// Puts the photos themselves in the place of folders and patterns among the paths of coupon and blank, which start at
/// `folder`; gives those that mean none.
pub fn name_face_photos(told: &mut FractureDescription, folder: &Path) -> Vec<UnusedFace> {
    let mut unused = Vec::new();
    for face in std::iter::once(&mut told.coupon).chain(&mut told.blank) {
        face.photos = named_photos(&face.photos, folder, &mut unused);
    }
    unused
}

/// Looks at the photos of coupon and blank, one at a time, and puts together what each face shows; paths are taken from
/// `folder`. Marks and outline that are known are of the coupon's first photo, thickness and width of every face. `None`:
/// there is no photo.
pub fn look_at_faces(
    told: &FractureDescription,
    folder: &Path,
    known: &FaceKnown,
    look: LookFace<'_>,
) -> Option<LookedAtFaces> {
    told.photos().next()?;
    let mut seen = LookedAtFaces::default();
    let sizes = FaceKnown { marks: None, outline: Vec::new(), ..known.clone() };
    let mut frames = |face: &FaceDescription, first: &FaceKnown| -> Vec<FaceFrame> {
        let all = std::iter::once(first).chain(std::iter::repeat(&sizes));
        let mut frames = Vec::new();
        for (path, known) in face.photos.iter().zip(all) {
            match look(&folder.join(path), known) {
                Ok(LookedFace { photo, remarks }) => {
                    seen.remarks.extend(remarks.into_iter().map(|remark| (path.clone(), remark)));
                    frames.push(FaceFrame { name: path.clone(), photo });
                }
                Err(why) => seen.unused.push(UnusedFace { name: path.clone(), why }),
            }
        }
        frames
    };
    let coupon = frames(&told.coupon, known);
    let blank = told.blank.as_ref().map(|blank| frames(blank, &sizes)).unwrap_or_default();
    (seen.coupon, seen.blank) = (pool_faces(coupon), pool_faces(blank));
    Some(seen)
}
