use crate::fracture::{BorderPoint, FaceForm, FacePhoto, SideSeen, SideUnread};
use crate::report::overlay::drawing::{Drawing, Point};
use crate::report::overlay::labels::Area;
use crate::report::overlay::left_out::{COVER, on_line};
use crate::report::overlay::palette::{Colour, INK, PURPLE, SKY_BLUE, WHITE, YELLOW};
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
/// Width of the border over that of the outline (judgement: it is what is looked for).
const WIDER: f64 = 1.4;
/// How strongly the band covers the photo, share. Judgement: seen, and seen through.
pub(super) const BAND: f64 = 0.35;

/// What of a side's border is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stretch {
    /// Along the side, read.
    Side,
    /// In a corner, read.
    Corner,
    /// So near the end of a side that the rim of the next lies over it: it is told there, and not drawn twice.
    Over,
    /// Not read.
    Unread,
}

/// The border of a side with what each point of it is; that of a round face is closed.
pub(super) struct Traced {
    pub(super) border: Vec<BorderPoint>,
    pub(super) stretches: Vec<Stretch>,
    /// Why none of it was read.
    unread: Option<SideUnread>,
}

impl Traced {
    /// Nothing of a side without a rim.
    pub(super) fn of(face: &FacePhoto, side: &SideSeen) -> Self {
        let none = Self { border: Vec::new(), stretches: Vec::new(), unread: None };
        if side.case.is_none() && side.unread.is_none() || !face.rim.has_edge() {
            return none;
        }
        let along = side.along();
        let long = along.last().copied().unwrap_or(0.0);
        let depth = face.depth().map_or(0.0, |(share, _)| share.best() * face.thickness_px);
        let stretch = |((point, corner), along): ((&BorderPoint, bool), f64)| match (
            point.read && side.unread.is_none(),
            corner,
        ) {
            (false, _) => Stretch::Unread,
            (true, true) if along.min(long - along) < depth => Stretch::Over,
            (true, true) => Stretch::Corner,
            (true, false) => Stretch::Side,
        };
        let mut traced = Self {
            stretches: side.border.iter().zip(face.corners(side)).zip(along).map(stretch).collect(),
            border: side.border.clone(),
            unread: side.unread,
        };
        if face.form == FaceForm::Round {
            traced.border.extend(side.border.first());
            traced.stretches.extend(traced.stretches.first().copied());
        }
        traced
    }

    /// Runs of one kind: each from its first point to the first of the next.
    fn runs(&self, wanted: Stretch) -> Vec<&[BorderPoint]> {
        let mut runs = Vec::new();
        let mut first = 0;
        for end in 1..=self.stretches.len() {
            if self.stretches.get(end) != Some(&self.stretches[first]) {
                if self.stretches[first] == wanted {
                    runs.push(&self.border[first..(end + 1).min(self.border.len())]);
                }
                first = end;
            }
        }
        runs
    }
}

/// Draws outline, bands, hatching and borders.
pub(super) fn draw(on: &mut Drawing, view: &View, face: &FacePhoto) {
    let sides: Vec<Traced> = face.sides.iter().map(|side| Traced::of(face, side)).collect();
    for kind in [Stretch::Unread, Stretch::Corner, Stretch::Side] {
        let mut area = Stencil::new(on.width(), on.height());
        for side in &sides {
            for pair in side.runs(kind).iter().flat_map(|run| run.windows(2)) {
                area.add(&quad(view, side, pair, kind));
            }
        }
        match kind {
            Stretch::Unread => hatch(on, view, &area),
            Stretch::Side => area.paint(on, BORDER, BAND, |_, _| true),
            Stretch::Corner | Stretch::Over => area.paint(on, CORNER, BAND, |_, _| true),
        }
    }
    let mut outline = view.path(&face.outline);
    outline.extend(outline.first().copied());
    Pen::new(OUTLINE, view.line()).draw(on, &[outline]);
    for (kind, colour) in [(Stretch::Corner, CORNER), (Stretch::Side, BORDER)] {
        let line = |run: &&[BorderPoint]| view.path(&run.iter().map(|p| p.best).collect::<Vec<_>>());
        let lines: Vec<Vec<Point>> =
            sides.iter().flat_map(|side| side.runs(kind).iter().map(line).collect::<Vec<_>>()).collect();
        Pen::new(colour, view.line() * WIDER).dashed(kind == Stretch::Corner).draw(on, &lines);
    }
}

/// The band between two points; where nothing was read, all that a border may lie in.
fn quad(view: &View, side: &Traced, pair: &[BorderPoint], kind: Stretch) -> Vec<Point> {
    // past its most likely place a border is hatched only where the whole side is too faint: in a corner it may lie
    // anywhere, over the next side as well
    let inner = |p: &BorderPoint| if side.unread == Some(SideUnread::Faint) { p.high } else { p.best };
    let ends = |p: &BorderPoint| if kind == Stretch::Unread { [p.from, inner(p)] } else { [p.low, p.high] };
    let [[a, b], [c, d]] = [&pair[0], &pair[1]].map(ends);
    [a, b, d, c].map(|p| view.at(p)).to_vec()
}

/// Hatches what was not read: darker first, for lines to show on a bright rim.
pub(super) fn hatch(on: &mut Drawing, view: &View, area: &Stencil) {
    let (spacing, line) = (view.text * 0.45, view.line());
    area.paint(on, INK, COVER, |_, _| true);
    area.paint(on, WHITE, 2.0 * COVER, |x, y| on_line(x as f64, y as f64, spacing, line, WhyLeftOut::Dense));
}

/// Where the face lies in the drawing.
pub(super) fn area(view: &View, face: &FacePhoto) -> Area {
    let path = view.path(&face.outline);
    let [low, high] =
        [f64::min, f64::max].map(|f| [0, 1].map(|k| path.iter().map(|p| p[k]).reduce(f).unwrap_or(0.0)));
    [low[0], low[1], high[0], high[1]]
}

/// Squares that the face covers, for words to keep clear of it.
pub(super) fn covered(on: &Drawing, view: &View, face: &FacePhoto) -> Vec<Area> {
    let mut whole = Stencil::new(on.width(), on.height());
    whole.add(&view.path(&face.outline));
    let step = view.number.max(1.0);
    let [left, top, right, bottom] = area(view, face);
    let steps = |from: f64, to: f64| {
        (0..((to - from) / step).clamp(0.0, 400.0).ceil() as usize).map(move |i| from + i as f64 * step)
    };
    let squares =
        steps(top, bottom).flat_map(|y| steps(left, right).map(move |x| [x, y, x + step, y + step]));
    let middle = |s: &Area| [0, 1].map(|k| f64::midpoint(s[k], s[k + 2]).max(0.0) as usize);
    squares.filter(|s| whole.has(middle(s)[0], middle(s)[1])).collect()
}
