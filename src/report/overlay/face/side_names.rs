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
        let mark = mark(on, view, face, side);
        labels.write(on, view.number, mark, WHITE, &words);
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

/// A spot outside the middle of the side; above or below a round face, where there is more room.
fn mark(on: &Drawing, view: &View, face: &FacePhoto, side: &SideSeen) -> Area {
    let [left, top, right, bottom] = area(view, face);
    let middle = [f64::midpoint(left, right), f64::midpoint(top, bottom)];
    let by_name = match side.name {
        SideName::Right => [right, middle[1]],
        SideName::Left => [left, middle[1]],
        SideName::Bottom => [middle[0], bottom],
        SideName::Round if on.height() as f64 - bottom > top => [middle[0], bottom],
        SideName::Top | SideName::Round => [middle[0], top],
    };
    let halfway = side.border.get(side.border.len() / 2).filter(|_| side.name != SideName::Round);
    let edge = halfway.map_or(by_name, |point| view.at(point.from));
    let half = view.number * 0.1;
    let away = distance(middle, edge).max(1.0);
    let spot = between(middle, edge, (away + 3.0 * half) / away);
    [spot[0] - half, spot[1] - half, spot[0] + half, spot[1] + half]
}
