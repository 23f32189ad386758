use super::fit::{angle_to, distance, signed_between};
use super::stream_photo::Spot;
use super::track::Track;

/// Share of the carriers beyond either side of the fan: strays.
const STRAYS: f64 = 0.05;
/// How far beside its carriers the stream is looked for, radians.
const MARGIN: f64 = 0.06;

/// Where a stream goes: between its outer carriers, as far as the longest of them.
pub(super) struct Fan {
    contact: Spot,
    middle: f64,
    turns: (f64, f64),
    far: f64,
}

impl Fan {
    pub(super) fn of(tracks: &[Track<'_>], contact: Spot) -> Self {
        let outer: Vec<Spot> = tracks.iter().map(|t| t.line.piece.ends()[1]).collect();
        let (sin, cos) = outer
            .iter()
            .map(|p| angle_to(contact, *p).sin_cos())
            .fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
        let middle = sin.atan2(cos);
        let mut turns: Vec<f64> =
            outer.iter().map(|p| signed_between(angle_to(contact, *p), middle)).collect();
        turns.sort_by(f64::total_cmp);
        let stray = (turns.len() as f64 * STRAYS) as usize;
        let first = turns.get(stray).copied().unwrap_or(0.0) - MARGIN;
        let last = turns.get(turns.len().saturating_sub(1 + stray)).copied().unwrap_or(0.0) + MARGIN;
        let far = outer.iter().map(|p| distance(contact, *p)).fold(0.0, f64::max);
        Self { contact, middle, turns: (first, last), far }
    }

    /// Whether a place lies in it.
    pub(super) fn holds(&self, at: Spot) -> bool {
        let turn = signed_between(angle_to(self.contact, at), self.middle);
        distance(self.contact, at) < self.far && turn >= self.turns.0 && turn <= self.turns.1
    }
}
