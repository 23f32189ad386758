//! What was found in a photo, drawn over it.

mod bursts;
mod carriers;
mod contact;
mod drawing;
mod face;
mod ground;
mod labels;
mod left_out;
mod legend;
mod lettering;
mod palette;
mod pen;
mod stencil;
#[cfg(test)]
mod tests;
mod view;

pub use drawing::Drawing;
pub use face::{face_mask, face_overlay};

use crate::photo::Picture;
use crate::spark::{Refusal, StreamPhoto};
use bursts::Ring;
use contact::Contact;
use ground::{Look, ground};
use labels::Labels;
use legend::Legend;
use palette::INK;
use view::View;

/// What is less certain than this is drawn dashed: rather not than so. 0 to 1.
const UNSURE: f64 = 0.5;

/// Longest side of the photo in a drawing, px, if nobody asks for another: a phone shows it whole, and marks of
/// neighbours stay apart. Judgement.
pub const LONGEST_SIDE: usize = 1600;

/// Draws what was found over the photo, or the photo with the reason why it cannot be used. The photo is shrunk
/// until its longest side has at most `longest` px, and never enlarged; a legend stands below it.
pub fn overlay(photo: &Picture, found: Result<&StreamPhoto, &Refusal>, longest: usize) -> Drawing {
    let scale = (longest.max(1) as f64 / photo.width().max(photo.height()) as f64).min(1.0);
    let [width, height] =
        [photo.width(), photo.height()].map(|v| (v as f64 * scale).round().max(1.0) as usize);
    let legend = match found {
        Ok(found) => Legend::of(found, in_view(photo, found)),
        Err(why) => Legend::refused(format!("Not measured: {why}.")),
    };
    let view = view(scale, width as f64, height as f64);
    let strip = legend.draw(width.max(legend.least_width(view.text).ceil() as usize), &view);
    let look = if found.is_ok() { Look::Muted } else { Look::Plain };
    let mut pane = ground(photo, width, height, strip.height(), look);
    if let Ok(found) = found {
        draw(&mut pane, &view, found);
    }
    pane.above(&strip, INK)
}

/// Draws the marks.
fn draw(pane: &mut Drawing, view: &View, found: &StreamPhoto) {
    left_out::draw(pane, view, &found.left_out);
    carriers::draw(pane, view, found);
    let rings: Vec<Ring> = found.bursts.iter().filter_map(|b| Ring::of(view, b)).collect();
    let contact = Contact::of(pane, view, &found.stream);
    let mut marks: Vec<labels::Area> = rings.iter().map(|r| r.area(view)).collect();
    marks.extend(contact.iter().flat_map(|c| [c.area(view), c.arrow_area(view)]));
    let mut labels = Labels::new(marks);
    for ring in &rings {
        ring.draw(pane, view);
    }
    if let Some(contact) = contact {
        contact.draw(pane, view, &mut labels);
    }
    bursts::count(pane, view, &mut labels, &rings);
}

/// Whether the contact lies in the photo.
fn in_view(photo: &Picture, found: &StreamPhoto) -> bool {
    let room = [photo.width(), photo.height()];
    (0..2).all(|k| (0.0..=room[k] as f64).contains(&found.stream.contact[k]))
}

/// How a photo is drawn that has `width` by `height` px in the drawing. Letters are a fortieth of the width high, for
/// a phone held upright, and numbers beside bursts a fiftieth, to leave room for sparks; both are at least a
/// forty-fifth of the photo's height, for one held flat, and 11 px.
fn view(scale: f64, width: f64, height: f64) -> View {
    let least = (height / 45.0).max(11.0);
    View { scale, text: least.max(width / 40.0), number: least.max(width / 50.0) }
}
