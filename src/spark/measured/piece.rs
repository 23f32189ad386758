use super::chain::Chain;
use super::fit::{End, Frame, Parabola, distance};
use super::stream_photo::Spot;

/// A piece of line that one parabola follows: points about one pixel apart.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub(super) points: Vec<Spot>,
    /// How far each point stands above the noise, in its standard deviations.
    pub(super) strength: Vec<f32>,
}

/// Farthest that points may lie off one smooth line, px.
const OFF_LINE: f64 = 1.2;
/// Fewest points of a piece.
const FEWEST: usize = 4;
/// Points at an end that its direction is taken from.
const END_POINTS: usize = 24;
/// A piece stands on average so far above the noise, in its standard deviations, ...
const STRENGTH: f64 = 2.7;
/// ... and a short one this much, over the number of its points, farther: noise makes short lines.
const SHORT_STRENGTH: f64 = 10.0;

impl Piece {
    pub(super) fn length(&self) -> f64 {
        self.points.windows(2).map(|w| distance(w[0], w[1])).sum()
    }

    pub(super) fn mean_strength(&self) -> f64 {
        self.strength.iter().map(|s| f64::from(*s)).sum::<f64>() / self.strength.len().max(1) as f64
    }

    /// Its first (`false`) or last (`true`) end.
    pub(super) fn end(&self, last: bool) -> End {
        let count = self.points.len().min(END_POINTS);
        if last {
            let near: Vec<Spot> = self.points[self.points.len() - count..].iter().rev().copied().collect();
            End::fitted(&near)
        } else {
            End::fitted(&self.points[..count])
        }
    }

    /// Its first and last point. A piece has at least [`FEWEST`].
    pub(super) fn ends(&self) -> [Spot; 2] {
        [self.points[0], self.points[self.points.len() - 1]]
    }

    /// The other way round.
    pub(super) fn turned(mut self) -> Self {
        self.points.reverse();
        self.strength.reverse();
        self
    }

    /// This piece and then `other`.
    pub(super) fn then(mut self, other: Self) -> Self {
        self.points.extend(other.points);
        self.strength.extend(other.strength);
        self
    }

    fn split(mut self, at: usize) -> (Self, Self) {
        let rest = Self { points: self.points.split_off(at), strength: self.strength.split_off(at) };
        (self, rest)
    }

    fn stands_out(&self) -> bool {
        let count = self.points.len();
        count >= FEWEST && self.mean_strength() > STRENGTH + SHORT_STRENGTH / count as f64
    }
}

/// Cuts a chain where it turns a corner, so that every piece follows one parabola, and leaves out what may be noise.
pub(super) fn pieces(chain: &Chain) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut open = vec![Piece {
        points: chain.iter().map(|p| [f64::from(p.x), f64::from(p.y)]).collect(),
        strength: chain.iter().map(|p| p.strength).collect(),
    }];
    while let Some(piece) = open.pop() {
        match corner(&piece) {
            Some(at) if piece.points.len() >= 2 * FEWEST => {
                let at = at.clamp(FEWEST, piece.points.len() - FEWEST);
                let (one, other) = piece.split(at);
                open.push(one);
                open.push(other);
            }
            Some(_) => {}
            None => found.push(piece),
        }
    }
    found.retain(Piece::stands_out);
    found
}

/// Where the points leave a parabola, if they do: the place farthest from the straight line between the ends.
fn corner(piece: &Piece) -> Option<usize> {
    let frame = Frame::of(&piece.points);
    let local: Vec<[f64; 2]> = piece.points.iter().map(|p| frame.local(*p)).collect();
    let fit = Parabola::fitted(&local, local.len() >= 8);
    let worst = local.iter().map(|p| (p[1] - fit.value(p[0])).abs()).fold(0.0, f64::max);
    if worst <= OFF_LINE {
        return None;
    }
    let (first, last) = (local.first()?, local.last()?);
    let base = [last[0] - first[0], last[1] - first[1]];
    let away = |p: &[f64; 2]| ((p[0] - first[0]) * base[1] - (p[1] - first[1]) * base[0]).abs();
    let farthest = local.iter().enumerate().max_by(|a, b| away(a.1).total_cmp(&away(b.1)));
    farthest.map(|(at, _)| at)
}
