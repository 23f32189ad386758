use super::face_model::FaceModel;
use super::layout::Layout;
use super::located::{located, small};
use super::outlined::Outlined;
use super::quality::Quality;
use super::regions::Regions;
use super::rims::Rims;
use super::sides::SideCase;
use super::sight::Sight;
use super::strip::Strip;
use super::summed::summed;
use super::texture::Texture;
use crate::fracture::{FaceKnown, FacePhoto, FaceRefusal};
use crate::photo::Picture;
use crate::stats::quantile;

/// Cells across the smaller extent of a face: along a side and inward (judgement).
const CELLS: [f64; 2] = [60.0, 250.0];
/// The least size of a cell, px.
const LEAST_CELL: [f64; 2] = [3.0, 1.0];

/// Everything that was worked out on the way.
pub(super) struct Inner {
    pub(super) seen: Outlined,
    pub(super) strips: Vec<Strip>,
    pub(super) regions: Option<Regions>,
    pub(super) cases: Vec<SideCase>,
    pub(super) quality: Quality,
}

/// Measures the fracture face on a photo, with what was learned of such faces.
pub fn measure_face(
    picture: &Picture,
    known: &FaceKnown,
    model: &FaceModel,
) -> Result<FacePhoto, FaceRefusal> {
    let inner = inner(picture, known, model)?;
    if let Some(refusal) = inner.refusal() {
        return Err(refusal);
    }
    let face = summed(&inner, known, model);
    let deepest =
        face.sides.iter().filter_map(|s| s.case.as_ref()).map(|c| c.median.best()).fold(0.0, f64::max);
    let deep = deepest * face.thickness_px;
    if deep > 0.0 && deep < LEAST_DEEP_PX {
        return Err(FaceRefusal::PixelTooLarge { deep, needed: LEAST_DEEP_PX });
    }
    Ok(face)
}

/// Least depth of a rim that is measured, px (judgement).
const LEAST_DEEP_PX: f64 = 4.0;

impl Inner {
    /// What is told of how far round the rim runs; `None` if nothing of the face is seen.
    pub(super) fn rims(&self) -> Option<Rims> {
        Some(Rims::of(&self.strips, self.regions.as_ref()?, &self.cases, &self.quality, &self.seen.layout))
    }

    /// Why the face cannot be read, if so.
    pub(super) fn refusal(&self) -> Option<FaceRefusal> {
        small(&self.seen.layout).or_else(|| self.quality.refusal())
    }
}

pub(super) fn inner(picture: &Picture, known: &FaceKnown, model: &FaceModel) -> Result<Inner, FaceRefusal> {
    let seen = located(picture, known, model)?;
    let (texture, strips) = cells(&seen, &Sight::of_flat(&seen.face, &model.net));
    let regions = Regions::of(&strips, &seen.layout, model);
    let quality = Quality::of(picture, &seen, &texture);
    let cases = regions.as_ref().map(|r| cases(&strips, r, &seen.layout)).unwrap_or_default();
    Ok(Inner { seen, strips, regions, cases, quality })
}

/// Texture of the face, and its cells side by side.
pub(super) fn cells(seen: &Outlined, sight: &Sight) -> (Texture, Vec<Strip>) {
    let texture = Texture::of(&seen.face, &seen.rim.inner);
    let across = seen.layout.thickness();
    let cell: [f64; 2] = std::array::from_fn(|i| (across / CELLS[i]).max(LEAST_CELL[i]));
    let strips = (0..seen.layout.sides()).map(|s| Strip::of(s, seen, &texture, sight, cell)).collect();
    (texture, strips)
}

fn cases(strips: &[Strip], regions: &Regions, layout: &Layout) -> Vec<SideCase> {
    // a first look at how deep the case is, for how far corners reach
    let deep = |s: &Strip, b: &super::border::Border| {
        quantile((0..s.columns).map(|c| b.quantile(c, 0.5) * s.cell[1]).collect(), 0.5)
    };
    let depth = strips.iter().zip(&regions.borders).map(|(s, b)| deep(s, b)).fold(0.0, f64::max);
    strips.iter().zip(&regions.borders).map(|(s, b)| SideCase::of(s, b, layout, depth)).collect()
}
