use super::fit::{Crossing, Parabola, distance};
use super::piece::Piece;
use super::stream_photo::Spot;

/// Pieces shorter than this say too little about a direction, px.
const SHORTEST: f64 = 14.0;
/// Longest pieces that are paired.
const MOST: usize = 140;
/// How far a carrier's chord points past the wheel, radians, one standard deviation: gravity, drag and the size of
/// the contact itself bend the picture of a point.
const PAST: f64 = 0.05;
/// How far a carrier passes beside the contact however near it is, px.
const BESIDE: f64 = 4.0;
/// Most that a carrier's own bend may turn it on its way from the contact, radians: it flies no circle (judgement).
const MOST_BENT: f64 = 0.5;
/// Points from which on a bend is measured.
const CURVED: usize = 12;
/// A piece is from the contact up to so many standard deviations.
pub(super) const FROM_CONTACT: f64 = 3.0;

/// One straight look at a piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chord {
    pub(super) middle: Spot,
    pub(super) along: [f64; 2],
    pub(super) length: f64,
    pub(super) weight: f64,
    /// Half its curvature, 1/px, positive towards the left of `along` with y down, and its standard deviation.
    bend: f64,
    bend_sd: f64,
}

impl Chord {
    pub(super) fn of(piece: &Piece) -> Option<Self> {
        let (a, b) = (*piece.points.first()?, *piece.points.last()?);
        let length = distance(a, b);
        if length < 1.0 {
            return None;
        }
        let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
        let along = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
        let local = |p: &Spot| {
            let d = [p[0] - middle[0], p[1] - middle[1]];
            [d[0] * along[0] + d[1] * along[1], d[1] * along[0] - d[0] * along[1]]
        };
        let count = piece.points.len();
        let (bend, bend_sd) = if count >= CURVED {
            let points: Vec<[f64; 2]> = piece.points.iter().map(local).collect();
            let fit = Parabola::fitted(&points, true);
            // least squares: sd of the square's coefficient is residual √(180 / n) / length²
            (fit.c, fit.residual.max(0.25) * (180.0 / count as f64).sqrt() / (length * length))
        } else {
            (0.0, f64::INFINITY)
        };
        Some(Self { middle, along, length, weight: length.min(120.0).sqrt(), bend, bend_sd })
    }

    /// How far it points past a place, in standard deviations, straight on.
    pub(super) fn past(&self, place: Spot) -> f64 {
        let (r, across) = self.to(place);
        self.deviations(r, across)
    }

    /// The same, where it may bend on the way as it bends itself, or less: a spark bends more the slower it gets.
    pub(super) fn past_bent(&self, place: Spot) -> f64 {
        let (r, across) = self.to(place);
        // how surely it bends at all, against the bend that would turn it by the most allowed
        let sure = 1.0 / (1.0 + (self.bend_sd * r / MOST_BENT).powi(2));
        let bent = (sure * self.bend * r).clamp(-MOST_BENT, MOST_BENT);
        self.deviations(r, across - across.clamp(bent.min(0.0), bent.max(0.0)))
    }

    /// Distance of a place, and the sine of the angle by which its course passes it.
    fn to(&self, place: Spot) -> (f64, f64) {
        let to = [place[0] - self.middle[0], place[1] - self.middle[1]];
        let r = to[0].hypot(to[1]).max(1.0);
        (r, (to[1] * self.along[0] - to[0] * self.along[1]) / r)
    }

    fn deviations(&self, r: f64, across: f64) -> f64 {
        let own = 0.5 * 3.46 / self.length;
        across.abs().min(1.0).asin() / (PAST.powi(2) + own.powi(2) + (BESIDE / r).powi(2)).sqrt()
    }
}

/// Where most lines come from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contact {
    pub(super) at: Spot,
    pub(super) sd: f64,
    /// Length of the lines that point at it over that of all.
    pub(super) share: f64,
}

/// The place that most lines point at: every pair of the longest proposes one, all lines vote.
pub(super) fn contact(pieces: &[Piece], size: [f64; 2]) -> Option<Contact> {
    let mut chords: Vec<Chord> =
        pieces.iter().filter_map(Chord::of).filter(|c| c.length >= SHORTEST).collect();
    chords.sort_by(|a, b| b.length.total_cmp(&a.length));
    let pairs = &chords[..chords.len().min(MOST)];
    let voters = &chords[..chords.len().min(4 * MOST)];
    let reach = size[0].hypot(size[1]);
    let vote =
        |place: Spot| -> f64 { voters.iter().map(|c| c.weight * (-0.5 * c.past(place).powi(2)).exp()).sum() };
    let mut best: Option<(f64, Spot)> = None;
    for (i, a) in pairs.iter().enumerate() {
        for b in &pairs[i + 1..] {
            let Some(place) = crossing(a, b) else { continue };
            let outside = |v: f64, size: f64| (-v).max(v - size).max(0.0);
            if outside(place[0], size[0]).max(outside(place[1], size[1])) > reach {
                continue;
            }
            let votes = vote(place);
            if best.is_none_or(|(most, _)| votes > most) {
                best = Some((votes, place));
            }
        }
    }
    let (_, mut at) = best?;
    // least squares over those that point at it, a few times over
    let mut sd = reach;
    for _ in 0..8 {
        let mut lines = Crossing::pulled_to(at, 1e-9);
        for c in voters {
            let past = c.past(at);
            let r = distance(c.middle, at).max(10.0);
            let sd = (PAST * r).hypot(BESIDE).hypot(1.7 * r / c.length);
            lines.add(c.middle, c.along, (-0.5 * past * past).exp() / (sd * sd));
        }
        let Some(better) = lines.place() else { break };
        (at, sd) = (better, lines.sd());
    }
    let length = |c: &&Chord| c.length;
    let all: f64 = voters.iter().map(|c| length(&c)).sum();
    let share =
        voters.iter().filter(|c| c.past_bent(at) < FROM_CONTACT).map(|c| length(&c)).sum::<f64>() / all;
    Some(Contact { at, sd, share })
}

fn crossing(a: &Chord, b: &Chord) -> Option<Spot> {
    let cross = a.along[0] * b.along[1] - a.along[1] * b.along[0];
    if cross.abs() < 0.01 {
        return None;
    }
    let d = [b.middle[0] - a.middle[0], b.middle[1] - a.middle[1]];
    let t = (d[0] * b.along[1] - d[1] * b.along[0]) / cross;
    Some([a.middle[0] + t * a.along[0], a.middle[1] + t * a.along[1]])
}
