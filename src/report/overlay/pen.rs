use super::drawing::{Drawing, Point};
use super::palette::{Colour, INK};

/// How a line is drawn. Every line is bordered with ink, so that it shows on light and on dark.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pen {
    pub(super) colour: Colour,
    /// Width without its border, px.
    pub(super) width: f64,
    pub(super) dashed: bool,
}

/// Border on each side, share of the line's width. Judgement.
const BORDER: f64 = 0.4;
/// Dash and gap, widths of the line. Judgement.
const DASH: [f64; 2] = [3.5, 3.0];

impl Pen {
    /// An unbroken line.
    pub(super) fn new(colour: Colour, width: f64) -> Self {
        Self { colour, width, dashed: false }
    }

    /// Broken, if so.
    pub(super) fn dashed(self, dashed: bool) -> Self {
        Self { dashed, ..self }
    }

    /// From the middle of the line to the far side of its border, px.
    pub(super) fn reach(&self) -> f64 {
        self.width * (0.5 + BORDER)
    }

    /// Draws lines, the border of all before the first of them.
    pub(super) fn draw(self, on: &mut Drawing, paths: &[Vec<Point>]) {
        let pieces: Vec<[Point; 2]> = paths.iter().flat_map(|path| self.pieces(on, path)).collect();
        for piece in &pieces {
            segment(on, *piece, self.reach(), INK);
        }
        for piece in &pieces {
            segment(on, *piece, self.width / 2.0, self.colour);
        }
    }

    /// What is drawn of a path, cut to the drawing.
    fn pieces(&self, on: &Drawing, path: &[Point]) -> Vec<[Point; 2]> {
        let margin = 2.0 * self.width;
        let frame = [-margin, -margin, on.width() as f64 + margin, on.height() as f64 + margin];
        let mut pieces = Vec::new();
        let mut along = 0.0;
        for pair in path.windows(2) {
            let Some(part) = cut([pair[0], pair[1]], frame) else { continue };
            if self.dashed {
                along = self.dashes(part, along, &mut pieces);
            } else {
                pieces.push(part);
            }
        }
        pieces
    }

    /// Dashes of one piece that starts `along` the line; tells where it ends.
    fn dashes(&self, [from, to]: [Point; 2], along: f64, into: &mut Vec<[Point; 2]>) -> f64 {
        let [dash, gap] = DASH.map(|widths| widths * self.width);
        let length = distance(from, to);
        let mut at = -(along % (dash + gap));
        while at < length && length > 0.0 {
            let (start, end) = (at.max(0.0), (at + dash).min(length));
            if start < end {
                into.push([start, end].map(|s| between(from, to, s / length)));
            }
            at += dash + gap;
        }
        along + length
    }

    /// Draws a circle.
    pub(super) fn circle(self, on: &mut Drawing, centre: Point, radius: f64) {
        self.draw(on, &[arc(centre, radius, 0.0, 360.0)]);
    }

    /// Draws an arrow; its head is `head` px long.
    pub(super) fn arrow(self, on: &mut Drawing, from: Point, tip: Point, head: f64) {
        let back = distance(from, tip);
        if !(back > 0.0 && head > 0.0) {
            return;
        }
        let neck = between(tip, from, (head * 0.8 / back).min(1.0));
        self.draw(on, &[vec![from, neck]]);
        self.triangle(on, tip, [from[0] - tip[0], from[1] - tip[1]].map(|d| d / back * head));
    }

    /// Draws a filled triangle from its tip and where its back lies from there.
    fn triangle(self, on: &mut Drawing, tip: Point, back: Point) {
        let side = [-back[1], back[0]].map(|v| v * 0.45);
        let corner = |s: f64| [tip[0] + back[0] + s * side[0], tip[1] + back[1] + s * side[1]];
        let corners = [tip, corner(1.0), corner(-1.0)];
        let reach = self.width * BORDER;
        let [low, high] =
            [f64::min, f64::max].map(|f| [0, 1].map(|k| f(f(corners[0][k], corners[1][k]), corners[2][k])));
        let bounds = [low[0] - reach, low[1] - reach, high[0] + reach, high[1] + reach];
        for (grown, colour) in [(reach, INK), (0.0, self.colour)] {
            on.fill(bounds, colour, |p| beyond(&corners, p) - grown);
        }
    }

    /// Draws a filled disc.
    pub(super) fn disc(self, on: &mut Drawing, centre: Point, radius: f64) {
        segment(on, [centre, centre], radius + self.width * BORDER, INK);
        segment(on, [centre, centre], radius, self.colour);
    }
}

/// Part of a circle from one angle to another, degrees, counter-clockwise from the right.
pub(super) fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<Point> {
    let turn = (to - from).to_radians();
    // about 3 px apart
    let steps = (radius * turn.abs() / 3.0).clamp(12.0, 2000.0) as usize;
    let at = |i: usize| towards(centre, from + (to - from) * i as f64 / steps as f64, radius);
    (0..=steps).map(at).collect()
}

/// The point `by` px from `from` at an angle, degrees, counter-clockwise from the right.
pub(super) fn towards(from: Point, degrees: f64, by: f64) -> Point {
    let angle = degrees.to_radians();
    [from[0] + by * libm::cos(angle), from[1] - by * libm::sin(angle)]
}

/// The point a share of the way from `a` to `b`.
pub(super) fn between(a: Point, b: Point, share: f64) -> Point {
    [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
}

/// How far apart two points are, px.
pub(super) fn distance(a: Point, b: Point) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// A piece of a line with round ends.
fn segment(on: &mut Drawing, [a, b]: [Point; 2], half: f64, colour: Colour) {
    let bounds = [a[0].min(b[0]) - half, a[1].min(b[1]) - half, a[0].max(b[0]) + half, a[1].max(b[1]) + half];
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let squared = dx * dx + dy * dy;
    on.fill(bounds, colour, |p| {
        let along = if squared > 0.0 { ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / squared } else { 0.0 };
        distance(p, between(a, b, along.clamp(0.0, 1.0))) - half
    });
}

/// How far outside a triangle a point is, px.
fn beyond(corners: &[Point; 3], p: Point) -> f64 {
    let side = |i: usize| {
        let (a, b, c) = (corners[i], corners[(i + 1) % 3], corners[(i + 2) % 3]);
        let cross = |p: Point| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
        -cross(p) * cross(c).signum() / distance(a, b)
    };
    side(0).max(side(1)).max(side(2))
}

/// The part of a piece inside `[left, top, right, bottom]`; `None`: all of it is outside, or it is no number.
/// Source: Y.-D. Liang and B. A. Barsky, ACM Transactions on Graphics 3 (1984) 1-22.
pub(super) fn cut([a, b]: [Point; 2], frame: [f64; 4]) -> Option<[Point; 2]> {
    if [a, b].iter().flatten().any(|v| !v.is_finite()) {
        return None;
    }
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for k in 0..2 {
        let d = b[k] - a[k];
        for (step, room) in [(-d, a[k] - frame[k]), (d, frame[k + 2] - a[k])] {
            if step == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if step < 0.0 {
                enter = enter.max(room / step);
            } else {
                leave = leave.min(room / step);
            }
        }
    }
    (enter <= leave).then(|| [enter, leave].map(|share| between(a, b, share)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::overlay::palette::WHITE;

    #[test]
    fn cuts_lines_to_the_frame() {
        let frame = [0.0, 0.0, 10.0, 10.0];
        assert_eq!(cut([[-5.0, 5.0], [15.0, 5.0]], frame), Some([[0.0, 5.0], [10.0, 5.0]]));
        assert_eq!(cut([[1.0, 1.0], [2.0, 3.0]], frame), Some([[1.0, 1.0], [2.0, 3.0]]));
        assert_eq!(cut([[-5.0, 11.0], [15.0, 11.0]], frame), None);
        assert_eq!(cut([[f64::NAN, 1.0], [2.0, 3.0]], frame), None);
    }

    #[test]
    fn lines_have_their_width_and_their_border() {
        let mut drawing = Drawing::plain(20, 20, Colour([100; 3]));
        Pen::new(WHITE, 4.0).draw(&mut drawing, &[vec![[-50.0, 10.0], [1e9, 10.0]]]);
        let column: Vec<u8> = (0..20).map(|y| drawing.rgb()[(y * 20 + 7) * 3]).collect();
        let line: Vec<usize> = (0..20).filter(|y| column[*y] == WHITE.0[0]).collect();
        assert_eq!(line, [8, 9, 10, 11], "{column:?}");
        // 1.6 px of border: one whole pixel and a part of the next
        assert!(column[7] == INK.0[0] && column[12] == INK.0[0] && column[5] == 100 && column[14] == 100);
    }

    #[test]
    fn dashes_go_round_corners() {
        let drawing = Drawing::plain(100, 100, INK);
        let pen = Pen::new(WHITE, 2.0).dashed(true);
        let straight = pen.pieces(&drawing, &[[0.0, 50.0], [65.0, 50.0]]);
        let bent = pen.pieces(&drawing, &[[0.0, 50.0], [30.0, 50.0], [30.0, 85.0]]);
        let drawn = |pieces: &[[Point; 2]]| pieces.iter().map(|[a, b]| distance(*a, *b)).sum::<f64>();
        assert_eq!(straight.len(), 5);
        assert!((drawn(&straight) - drawn(&bent)).abs() < 1e-9);
    }
}
