use crate::fracture::{BorderPoint, FacePhoto, SideSeen, SideUnread};
use crate::report::overlay::drawing::{Drawing, Point};
use crate::report::overlay::labels::Area;
use crate::report::overlay::left_out::{COVER, on_line};
use crate::report::overlay::palette::{Colour, PURPLE, SKY_BLUE, WHITE, YELLOW};
use crate::report::overlay::pen::Pen;
use crate::report::overlay::stencil::Stencil;
use crate::report::overlay::view::View;
use crate::spark::WhyLeftOut;

/// The outline.
pub(super) const OUTLINE: Colour = SKY_BLUE;
/// The border along a side.
pub(super) const BORDER: Colour = YELLOW;
/// The border in a corner, which is no part of a side's depth.
pub(super) const CORNER: Colour = PURPLE;
/// How strongly the band covers the photo, share. Judgement: seen, and seen through.
pub(super) const BAND: f64 = 0.35;

/// What of a side's border is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stretch {
    /// Along the side, read.
    Side,
    /// In a corner, read.
    Corner,
    /// Not read.
    Unread,
}

/// What each point of a side is; empty if nothing is drawn along it: a side without a rim.
pub(super) fn stretches(face: &FacePhoto, side: &SideSeen) -> Vec<Stretch> {
    if side.case.is_none() && side.unread.is_none() || !face.rim.has_edge() {
        return Vec::new();
    }
    let stretch = |(point, corner): (&BorderPoint, bool)| match (point.read && side.unread.is_none(), corner)
    {
        (false, _) => Stretch::Unread,
        (true, true) => Stretch::Corner,
        (true, false) => Stretch::Side,
    };
    side.border.iter().zip(face.corners(side)).map(stretch).collect()
}

/// Runs of one kind along a side: from the first point to one past the last.
fn runs(stretches: &[Stretch]) -> Vec<(Stretch, usize, usize)> {
    let mut runs: Vec<(Stretch, usize, usize)> = Vec::new();
    for (i, stretch) in stretches.iter().enumerate() {
        match runs.last_mut() {
            Some((kind, _, end)) if kind == stretch => *end = i + 1,
            _ => runs.push((*stretch, i, i + 1)),
        }
    }
    runs
}

/// Draws outline, bands, hatching and borders.
pub(super) fn draw(on: &mut Drawing, view: &View, face: &FacePhoto) {
    let (width, height) = (on.width(), on.height());
    let sides: Vec<(&SideSeen, Vec<(Stretch, usize, usize)>)> =
        face.sides.iter().map(|side| (side, runs(&stretches(face, side)))).collect();
    for kind in [Stretch::Unread, Stretch::Corner, Stretch::Side] {
        let mut area = Stencil::new(width, height);
        for (side, runs) in &sides {
            for (_, first, end) in runs.iter().filter(|run| run.0 == kind) {
                // as far as the next point, so that runs meet
                for pair in side.border[*first..(end + 1).min(side.border.len())].windows(2) {
                    area.add(&quad(view, side, pair, kind));
                }
            }
        }
        match kind {
            Stretch::Unread => hatch(on, view, &area),
            Stretch::Corner => area.paint(on, CORNER, BAND, |_, _| true),
            Stretch::Side => area.paint(on, BORDER, BAND, |_, _| true),
        }
    }
    let mut outline = view.path(&face.outline);
    outline.extend(outline.first().copied());
    Pen::new(OUTLINE, view.line()).draw(on, &[outline]);
    for (kind, colour) in [(Stretch::Corner, CORNER), (Stretch::Side, BORDER)] {
        let line = |side: &SideSeen, first: usize, end: usize| {
            let best: Vec<Point> =
                side.border[first..(end + 1).min(side.border.len())].iter().map(|p| p.best).collect();
            view.path(&best)
        };
        let lines: Vec<Vec<Point>> = sides
            .iter()
            .flat_map(|(side, runs)| {
                runs.iter().filter(|run| run.0 == kind).map(|(_, a, b)| line(side, *a, *b))
            })
            .collect();
        Pen::new(colour, view.line()).dashed(kind == Stretch::Corner).draw(on, &lines);
    }
}

/// The band between two points; where nothing was read, all that a border may lie in.
fn quad(view: &View, side: &SideSeen, pair: &[BorderPoint], kind: Stretch) -> Vec<Point> {
    // along a side with a notch or a lip nothing inward of its edge is known to be that
    let inner = |p: &BorderPoint| if side.unread == Some(SideUnread::Band) { p.best } else { p.high };
    let ends = |p: &BorderPoint| if kind == Stretch::Unread { [p.from, inner(p)] } else { [p.low, p.high] };
    let [[a, b], [c, d]] = [&pair[0], &pair[1]].map(ends);
    [a, b, d, c].map(|p| view.at(p)).to_vec()
}

/// Hatches what was not read.
pub(super) fn hatch(on: &mut Drawing, view: &View, area: &Stencil) {
    let (spacing, line) = (view.text * 0.7, (view.line() * 0.6).max(1.0));
    area.paint(on, WHITE, COVER, |x, y| on_line(x as f64, y as f64, spacing, line, WhyLeftOut::Dense));
}

/// Where the face lies in the drawing.
pub(super) fn area(view: &View, face: &FacePhoto) -> Area {
    let path = view.path(&face.outline);
    let [low, high] =
        [f64::min, f64::max].map(|f| [0, 1].map(|k| path.iter().map(|p| p[k]).reduce(f).unwrap_or(0.0)));
    [low[0], low[1], high[0], high[1]]
}
