//! Where the face lies: told by whoever took the photo, or found; and why nowhere.

use super::face_model::FaceModel;
use super::find::quadrangle::quadrangle;
use super::find::shape::{Shape, ellipse_of};
use super::find::{Found, find};
use super::flattened::Flattened;
use super::layout::{Layout, MARGIN};
use super::outlined::{Ended, LONGEST, Outlined, laid};
use super::quality::Quality;
use super::rim::{Rim, STEP, ideal};
use super::sight::Sight;
use super::texture::Texture;
use crate::fracture::{FaceKnown, FaceRefusal};
use crate::photo::Picture;

/// Least natural logarithm of the odds that cells lie on the face, inside over outside its outline (judgement, on drawn
/// development faces).
const PLAIN: f64 = 2.0;
/// Least share of the area of one face that another has (judgement).
const OF_A_SIZE: f64 = 0.25;
/// Mean chance of face from which on a patch that is not taken is said to be a spoiled one (judgement).
const LIKELY: f64 = 0.5;
/// How well a patch must fit the form of a face.
const FITS: f64 = 0.9;
/// Most of the outline that may lie on the edge of the picture, and how near counts as on it: share of the picture's
/// smaller side (judgements).
const MOST_CUT: f64 = 0.10;
const EDGE: f64 = 0.01;
/// Least thickness of a face in the photo, px (judgement).
const LEAST_ACROSS_PX: f64 = 60.0;

/// The face laid flat within its outline, as told or as found.
pub(super) fn located(
    picture: &Picture,
    known: &FaceKnown,
    model: &FaceModel,
) -> Result<Outlined, FaceRefusal> {
    if known.outline.is_empty() {
        return sought(picture, model);
    }
    let bad = |why| FaceRefusal::BadOutline { why };
    let shape = told_shape(&known.outline).ok_or_else(|| bad("its points do not go round an area"))?;
    let layout = laid(&shape, LONGEST, MARGIN).ok_or_else(|| bad("three of its corners lie on a line"))?;
    let rim = Rim::of(ideal(&layout), &layout);
    Ok(Outlined { face: Flattened::of(picture, &layout), rim, layout })
}

fn sought(picture: &Picture, model: &FaceModel) -> Result<Outlined, FaceRefusal> {
    let found = find(&Sight::of_photo(picture, &model.net));
    let fitting: Vec<&Found> = found.iter().filter(|f| f.overlap >= FITS).collect();
    let Some(first) = fitting.first() else {
        let overlap = found.iter().map(|f| f.overlap).fold(0.0, f64::max);
        return Err(FaceRefusal::NoFace { overlap: 100.0 * overlap, needed: 100.0 * FITS });
    };
    let mut ended: Vec<Ended> =
        fitting.iter().filter_map(|f| Ended::first(picture, &f.shape, &model.net)).collect();
    ended.sort_by(|a, b| b.plain.total_cmp(&a.plain));
    let plain = ended.first().map_or(0.0, |best| best.plain);
    ended.retain(|e| e.plain >= PLAIN);
    let seen = ended.first().and_then(|best| Outlined::of(picture, best, &model.net));
    let Some(seen) = seen else {
        // what made a face hard to see says more than that it could not be seen
        let spoiled = (first.chance >= LIKELY).then(|| spoiled(picture, &first.shape)).flatten();
        return Err(
            spoiled.unwrap_or(FaceRefusal::Blended { times: libm::exp(plain), needed: libm::exp(PLAIN) })
        );
    };
    let faces = faces(&ended);
    if faces > 1 {
        return Err(FaceRefusal::Several { faces });
    }
    cut(picture, &seen.layout).map_or(Ok(seen), Err)
}

/// How many of these lie apart and are of a size with the first.
fn faces(ended: &[Ended]) -> usize {
    let mut apart: Vec<&Shape> = Vec::new();
    for shape in ended.iter().map(|e| &e.shape) {
        if apart.iter().all(|other| other.apart(shape) && shape.area() > OF_A_SIZE * other.area()) {
            apart.push(shape);
        }
    }
    apart.len()
}

/// What spoils the likeliest patch for a face, whatever it is: stripes and rust of what is no face say nothing.
fn spoiled(picture: &Picture, shape: &Shape) -> Option<FaceRefusal> {
    let layout = laid(shape, LONGEST, MARGIN)?;
    if let Some(refusal) = cut(picture, &layout) {
        return Some(refusal);
    }
    let seen = Outlined::stepped(picture, layout);
    let texture = Texture::of(&seen.face, &seen.rim.inner);
    let of_any = |refusal: &FaceRefusal| {
        use FaceRefusal::{Oxidised, Scaled, Tooled};
        !matches!(refusal, Oxidised { .. } | Scaled { .. } | Tooled { .. })
    };
    small(&layout).or_else(|| Quality::of(picture, &seen, &texture).refusal().filter(of_any))
}

/// Whether there are too few pixels across it.
pub(super) fn small(layout: &Layout) -> Option<FaceRefusal> {
    let across = layout.thickness() / layout.px_of_photo();
    (across < LEAST_ACROSS_PX).then_some(FaceRefusal::TooSmall { across, needed: LEAST_ACROSS_PX })
}

/// Whether the face leaves the picture.
fn cut(picture: &Picture, layout: &Layout) -> Option<FaceRefusal> {
    let [w, h] = [picture.width(), picture.height()].map(|v| v as f64);
    let near = EDGE * w.min(h);
    let (mut on, mut all) = (0.0, 0.0_f64);
    for side in 0..layout.sides() {
        for i in 0..(layout.length(side) / STEP) as usize {
            let [x, y] = layout.to_photo.map(layout.place(side, (i as f64 + 0.5) * STEP, 0.0));
            all += 1.0;
            if x < near || y < near || x > w - near || y > h - near {
                on += 1.0;
            }
        }
    }
    let share = on / all.max(1.0);
    (share > MOST_CUT).then_some(FaceRefusal::CutByFrame { share: 100.0 * share, allowed: 100.0 * MOST_CUT })
}

/// Four corners, or the form that fits more points better.
pub(super) fn told_shape(points: &[[f64; 2]]) -> Option<Shape> {
    if let Ok(corners) = <[[f64; 2]; 4]>::try_from(points) {
        let turned = super::find::shape::cross(corners[0], corners[1], corners[2]) < 0.0;
        let [a, b, c, d] = corners;
        return Some(Shape::Four(if turned { [a, d, c, b] } else { corners }));
    }
    if points.len() < 4 {
        return None;
    }
    let round = ellipse_of(points);
    // a rectangle's corners lie farther out than its ellipse, and its sides' middles farther in
    let off = |shape: &Shape| points.iter().map(|p| shape.off(*p)).sum::<f64>();
    Some(match quadrangle(points) {
        Some(four) if off(&four) < off(&round) => four,
        _ => round,
    })
}
