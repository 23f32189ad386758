use super::border::area;
use crate::fracture::FacePhoto;
use crate::report::overlay::drawing::Drawing;
use crate::report::overlay::labels::{Area, Labels};
use crate::report::overlay::palette::{INK, WHITE};
use crate::report::overlay::pen::Pen;
use crate::report::overlay::view::View;

/// Lengths that a bar may have, mm.
const LENGTHS: [f64; 8] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0];
/// A bar is no longer than this share of the drawing's width (judgement).
const LONGEST: f64 = 0.3;

/// Draws a bar of a round length in the corner that is farthest from the face, where the scale is known.
pub(super) fn draw(on: &mut Drawing, view: &View, face: &FacePhoto, labels: &mut Labels) {
    let Some(scale) = face.px_per_mm else { return };
    let px = |mm: f64| mm * scale.best() * view.scale;
    let room = [on.width() as f64, on.height() as f64];
    let fits = |mm: &&f64| px(**mm) <= LONGEST * room[0];
    let Some(mm) = LENGTHS.iter().rev().find(fits) else { return };
    let (long, margin) = (px(*mm), view.text * 0.6);
    let plate = [long + 2.0 * margin, view.text * 1.1];
    let [left, top] = corner(room, plate, area(view, face));
    on.fill_rectangle([left, top, left + plate[0], top + plate[1]], INK);
    let (y, tick) = (top + plate[1] / 2.0, view.text * 0.3);
    let (a, b) = (left + margin, left + margin + long);
    let ends = [a, b].map(|x| vec![[x, y - tick], [x, y + tick]]);
    Pen::new(WHITE, view.line()).draw(on, &[vec![[a, y], [b, y]], ends[0].clone(), ends[1].clone()]);
    let mark = [left, top, left + plate[0], top + plate[1]];
    labels.write(on, view.number, mark, WHITE, &format!("{mm} mm"));
}

/// Top left corner of a plate in one of the drawing's corners: the one that covers least of the face.
fn corner(room: [f64; 2], plate: [f64; 2], face: Area) -> [f64; 2] {
    let [right, bottom] = [0, 1].map(|k| (room[k] - plate[k]).max(0.0));
    let covers = |at: &[f64; 2]| {
        let side = |k: usize| ((at[k] + plate[k]).min(face[k + 2]) - at[k].max(face[k])).max(0.0);
        side(0) * side(1)
    };
    let corners = [[0.0, bottom], [right, bottom], [0.0, 0.0], [right, 0.0]];
    corners.into_iter().min_by(|a, b| covers(a).total_cmp(&covers(b))).unwrap_or_default()
}
