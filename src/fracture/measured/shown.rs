//! What photos of faces show, to learn from: the same numbers that are read later on.

use super::face_model::FaceModel;
use super::layout::MARGIN;
use super::located::told_shape;
use super::outlined::{LONGEST, Outlined, laid};
use super::reading::{cells, inner};
use super::relative::relative;
use super::sight::Sight;
use crate::fracture::FaceKnown;
use crate::net::UNet;
use crate::photo::Picture;

/// A cell of a face, or a side.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownCell {
    /// Its middle in the photo, px.
    pub at: [f64; 2],
    /// Numbers in the order of the columns of [`FaceModel`].
    pub values: Vec<f64>,
}

/// Cells of a face whose outline is known: its corners, or points around a round one, px.
pub fn shown_patches(picture: &Picture, outline: &[[f64; 2]], net: &UNet) -> Vec<ShownCell> {
    let seen = told_shape(outline)
        .and_then(|shape| laid(&shape, LONGEST, MARGIN))
        .map(|layout| Outlined::stepped(picture, layout));
    let Some(seen) = seen else { return Vec::new() };
    let strips = cells(&seen, &Sight::of_flat(&seen.face, net)).1;
    let Some(told) = relative(&strips, &seen.layout) else { return Vec::new() };
    let mut out = Vec::new();
    for (strip, told) in strips.iter().zip(&told) {
        for column in 0..strip.columns {
            for row in 0..strip.rows {
                if let Some(cell) = strip.at(column, row) {
                    let at = seen.layout.to_photo.map(cell.at.map(f64::from));
                    out.push(ShownCell { at, values: told.values(column, row).to_vec() });
                }
            }
        }
    }
    out
}

/// What is told of a whole face.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownRim {
    /// Numbers in the order of [`FaceModel::rim_columns`].
    pub face: Vec<f64>,
    /// The middle of each side in the photo, px, and numbers in the order of [`FaceModel::side_columns`].
    pub sides: Vec<ShownCell>,
}

/// What is told of a whole face, borders by the model; `None` if no face is found or nothing of it is seen.
pub fn shown_rim(picture: &Picture, known: &FaceKnown, model: &FaceModel) -> Option<ShownRim> {
    let inner = inner(picture, known, model).ok()?;
    let rims = inner.rims()?;
    let layout = &inner.seen.layout;
    let at = |side: usize| layout.to_photo.map(layout.place(side, layout.length(side) / 2.0, 0.0));
    let sides = rims.sides.into_iter().enumerate();
    Some(ShownRim {
        face: rims.face,
        sides: sides.map(|(k, values)| ShownCell { at: at(k), values }).collect(),
    })
}
