use crate::fracture::FacePhoto;
use crate::photo::{Picture, Samples};
use std::borrow::Cow;

/// Ground that is left round a face, share of its longer extent (judgement: room for names and numbers).
const ROUND: f64 = 0.3;

/// The part of the photo that a face lies in, with the face as it lies there.
pub(super) fn framed<'p>(photo: &'p Picture, face: &FacePhoto) -> (Cow<'p, Picture>, FacePhoto) {
    let whole = [photo.width(), photo.height()];
    let Some([left, top, right, bottom]) = around(face, whole) else {
        return (Cow::Borrowed(photo), face.clone());
    };
    let cut = match photo.samples() {
        Samples::Eight(of) => Samples::Eight(part(of, photo, [left, top, right, bottom])),
        Samples::Sixteen(of) => Samples::Sixteen(part(of, photo, [left, top, right, bottom])),
    };
    match Picture::new(right - left, bottom - top, photo.channels(), cut) {
        Some(picture) => (Cow::Owned(picture), moved(face, [left as f64, top as f64])),
        None => (Cow::Borrowed(photo), face.clone()),
    }
}

/// Left, top, right, bottom around the face, px; `None`: it has no outline that lies in the photo.
fn around(face: &FacePhoto, whole: [usize; 2]) -> Option<[usize; 4]> {
    let ends = |k: usize| {
        let of = || face.outline.iter().map(|p| p[k]).filter(|v| v.is_finite());
        Some([of().reduce(f64::min)?, of().reduce(f64::max)?])
    };
    let [across, down] = [ends(0)?, ends(1)?];
    let room = ROUND * (across[1] - across[0]).max(down[1] - down[0]);
    let [[left, right], [top, bottom]] = [(across, whole[0]), (down, whole[1])].map(|([low, high], most)| {
        [(low - room).floor() as usize, ((high + room).ceil() as usize).min(most)]
    });
    (left < right && top < bottom).then_some([left, top, right, bottom])
}

fn part<T: Copy>(samples: &[T], photo: &Picture, [left, top, right, bottom]: [usize; 4]) -> Vec<T> {
    let count = photo.channels().count();
    let rows = samples.chunks_exact(photo.width() * count).take(bottom).skip(top);
    rows.flat_map(|row| &row[left * count..right * count]).copied().collect()
}

fn moved(face: &FacePhoto, [left, top]: [f64; 2]) -> FacePhoto {
    let mut face = face.clone();
    let shift = |p: &mut [f64; 2]| *p = [p[0] - left, p[1] - top];
    face.outline.iter_mut().for_each(shift);
    for point in face.sides.iter_mut().flat_map(|side| &mut side.border) {
        [&mut point.from, &mut point.low, &mut point.best, &mut point.high].into_iter().for_each(shift);
    }
    face
}
