use super::border::area;
use crate::fracture::{FacePhoto, SideName, SideSeen};
use crate::report::faces::{percent, side_name};
use crate::report::number::DEPTH;
use crate::report::overlay::drawing::Drawing;
use crate::report::overlay::labels::{Area, Labels};
use crate::report::overlay::palette::WHITE;
use crate::report::overlay::pen::{between, distance};
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

/// A spot outside the middle of the side, or up and to the right of a round face.
fn mark(view: &View, face: &FacePhoto, side: &SideSeen) -> Area {
    let [left, top, right, bottom] = area(view, face);
    let middle = [f64::midpoint(left, right), f64::midpoint(top, bottom)];
    let share = if side.name == SideName::Round { 0.875 } else { 0.5 };
    let at = (side.border.len() as f64 * share) as usize;
    let edge = side.border.get(at).map_or(
        match side.name {
            SideName::Top => [middle[0], top],
            SideName::Right => [right, middle[1]],
            SideName::Bottom => [middle[0], bottom],
            SideName::Left => [left, middle[1]],
            SideName::Round => [right, top],
        },
        |point| view.at(point.from),
    );
    let half = view.number * 0.1;
    let away = distance(middle, edge).max(1.0);
    let spot = between(middle, edge, (away + 3.0 * half) / away);
    [spot[0] - half, spot[1] - half, spot[0] + half, spot[1] + half]
}
