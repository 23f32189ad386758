use super::border::area;
use crate::fracture::{FacePhoto, SideName, SideSeen};
use crate::report::faces::{percent, side_name};
use crate::report::number::DEPTH;
use crate::report::overlay::drawing::Drawing;
use crate::report::overlay::labels::{Area, Labels};
use crate::report::overlay::palette::WHITE;
use crate::report::overlay::view::View;

/// Writes each side's name with its depth outside its middle.
pub(super) fn draw(on: &mut Drawing, view: &View, face: &FacePhoto, labels: &mut Labels) {
    for side in &face.sides {
        let words = format!("{}: {}", side_name(side.name), depth(face, side));
        labels.write(on, view.number, mark(view, face, side), WHITE, &words);
    }
}

fn depth(face: &FacePhoto, side: &SideSeen) -> String {
    match &side.case {
        Some(case) => {
            case.median_mm.as_ref().map_or_else(|| percent(&case.median), |mm| DEPTH.one(mm.best()))
        }
        None if side.unread.is_some() => "not read".into(),
        None if face.rim.has_edge() => "no rim".into(),
        None => "no border".into(),
    }
}

/// A spot on the middle of the side, by its border or, without one, by the outline.
fn mark(view: &View, face: &FacePhoto, side: &SideSeen) -> Area {
    let [left, top, right, bottom] = area(view, face);
    let (x, y) = (f64::midpoint(left, right), f64::midpoint(top, bottom));
    let place = match side.border.get(side.border.len() / 2) {
        Some(point) if side.name != SideName::Round => view.at(point.from),
        _ => match side.name {
            SideName::Top => [x, top],
            SideName::Right => [right, y],
            SideName::Bottom => [x, bottom],
            SideName::Left => [left, y],
            SideName::Round => [right, top],
        },
    };
    let half = view.number * 0.5;
    [place[0] - half, place[1] - half, place[0] + half, place[1] + half]
}
