//! What was found on a photo of a fracture face, drawn over it.

mod border;
mod frame;
mod key;
mod mask;
mod scale_bar;
mod side_names;
#[cfg(test)]
mod tests;

pub(super) use key::FaceKey;
pub use mask::face_mask;

use super::Drawing;
use super::ground::{Look, ground};
use super::labels::Labels;
use super::legend::Legend;
use super::palette::INK;
use super::view;
use super::view::View;
use crate::fracture::{FacePhoto, FaceRefusal};
use crate::photo::Picture;

/// Draws outline, sides, border and what was not read over the photo, or the photo with the reason why it cannot be used.
/// What lies far from a face that was found is cut off; the rest is shrunk until its longest side has at most `longest` px,
/// and never enlarged. A legend stands below.
pub fn face_overlay(photo: &Picture, found: Result<&FacePhoto, &FaceRefusal>, longest: usize) -> Drawing {
    match found {
        Ok(face) => {
            let (photo, face) = frame::framed(photo, face);
            drawn(photo.as_ref(), &face, longest)
        }
        Err(why) => refused(photo, why, longest),
    }
}

/// Px of a drawing for one of the photo, and the drawing's size.
fn shrunk(photo: &Picture, longest: usize) -> (f64, [usize; 2]) {
    let scale = (longest.max(1) as f64 / photo.width().max(photo.height()) as f64).min(1.0);
    (scale, [photo.width(), photo.height()].map(|v| (v as f64 * scale).round().max(1.0) as usize))
}

fn refused(photo: &Picture, why: &FaceRefusal, longest: usize) -> Drawing {
    let (scale, [width, height]) = shrunk(photo, longest);
    let legend = Legend::refused(format!("Not measured: {why}."));
    let view = view(scale, width as f64, height as f64);
    let strip = legend.draw(width.max(legend.least_width(view.text).ceil() as usize), &view);
    ground(photo, width, height, strip.height(), Look::Plain).above(&strip, INK)
}

fn drawn(photo: &Picture, face: &FacePhoto, longest: usize) -> Drawing {
    let (scale, [width, height]) = shrunk(photo, longest);
    let view = view(scale, width as f64, height as f64);
    let legend = key::legend(face);
    let strip = legend.draw(width.max(legend.least_width(view.text).ceil() as usize), &view);
    let mut pane = ground(photo, width, height, strip.height(), Look::Muted);
    marks(&mut pane, &view, face);
    pane.above(&strip, INK)
}

fn marks(pane: &mut Drawing, view: &View, face: &FacePhoto) {
    border::draw(pane, view, face);
    let mut labels = Labels::new(border::covered(pane, view, face));
    scale_bar::draw(pane, view, face, &mut labels);
    side_names::draw(pane, view, face, &mut labels);
}
