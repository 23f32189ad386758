use super::contact::{Chord, Contact, contact};
use super::fit::{End, distance};
use super::look::{Beside, usual};
use super::piece::Piece;
use super::scene::Scene;
use super::tiles::quantile;

/// Shallower over deeper side of a line, at least: an edge between bright and dark stands out on one side only.
const EVEN: f64 = 0.15;
/// Height of a line, roots of light, at least, ...
const LEAST_HEIGHT: f64 = 0.016;
/// ... and over that of the brightest lines.
const LEAST_SHARE: f64 = 0.05;
/// Lines from so long on, px, say how bright the brightest are: this share is darker.
const LONG: f64 = 25.0;
const BRIGHT: f64 = 0.8;
/// A line comes from the contact if it points past it by no more, in standard deviations.
const FROM_CONTACT: f64 = 3.0;

/// A line of light, from its end nearer to the contact outward.
pub(super) struct Line {
    pub(super) piece: Piece,
    pub(super) beside: Vec<Beside>,
    pub(super) ends: [End; 2],
    pub(super) length: f64,
    /// How far it points past the contact, in standard deviations.
    pub(super) past: f64,
}

impl Line {
    /// Whether it points at the contact.
    pub(super) fn is_radial(&self) -> bool {
        self.past < FROM_CONTACT
    }

    /// Its own light, linear: the middle value over its points.
    pub(super) fn light(&self) -> f64 {
        usual(&self.beside, |b| b.own)
    }

    /// How far one side of it is darker than the other: 1 where both are alike, 0 for an edge.
    pub(super) fn evenness(&self) -> f64 {
        usual(&self.beside, |b| b.evenness)
    }
}

/// The pieces that are lines of light, and where most of them come from.
pub(super) fn lines(pieces: Vec<Piece>, scene: &Scene) -> (Vec<Line>, Option<Contact>) {
    let seen = pieces.into_iter().map(|piece| {
        let beside = scene.along(&piece);
        (usual(&beside, |b| b.depth), piece, beside)
    });
    let even: Vec<(f64, Piece, Vec<Beside>)> =
        seen.filter(|(_, _, beside)| usual(beside, |b| b.evenness) > EVEN).collect();
    let mut heights: Vec<f32> = even
        .iter()
        .filter(|(_, piece, _)| piece.length() > LONG)
        .map(|(height, ..)| *height as f32)
        .collect();
    let least = LEAST_HEIGHT.max(LEAST_SHARE * f64::from(quantile(&mut heights, BRIGHT)));
    let (pieces, beside): (Vec<Piece>, Vec<Vec<Beside>>) =
        even.into_iter().filter(|(height, ..)| *height > least).map(|(_, p, b)| (p, b)).unzip();
    let size = [scene.plane.width as f64, scene.plane.height as f64];
    let found = contact(&pieces, size);
    let line = |(piece, mut beside): (Piece, Vec<Beside>)| {
        let [first, last] = piece.ends();
        let inward = found.as_ref().is_some_and(|c| distance(first, c.at) > distance(last, c.at));
        let piece = if inward { piece.turned() } else { piece };
        if inward {
            beside.reverse();
        }
        let past = match (&found, Chord::of(&piece)) {
            (Some(contact), Some(chord)) => chord.past_bent(contact.at),
            _ => f64::INFINITY,
        };
        let ends = [piece.end(false), piece.end(true)];
        Line { length: piece.length(), ends, piece, beside, past }
    };
    (pieces.into_iter().zip(beside).map(line).collect(), found)
}
