//! A temperature history cut into stretches: heating, hold, dip, cooling.

use super::averaged::DiffusivityTable;

/// Longest temperature change inside one quadrature piece, K. Two-point Gauss over it is good to
/// 1e-6 of the integral (common practice, no source).
const PIECE_K: f64 = 12.0;
/// A leg is cut where its temperature leaves the straight line between two cuts by more than this,
/// K: heating, hold, dip and cooling get steps of their own, noise does not.
const TURN_K: f64 = 30.0;
/// Blocks that a part is averaged over to find its turns.
const BLOCKS: f64 = 64.0;
/// How often a part is cut again.
const DEEPEST: usize = 4;
/// Swings of this root mean square about the straight line ask for twice the steps, K.
const UNREST_K: f64 = 20.0;

/// A straight bit of temperature above A1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) seconds: f64,
    /// K at its start.
    pub(super) from: f64,
    /// K at its end.
    pub(super) to: f64,
    /// ∫ D dt at the reference carbon, m².
    pub(super) progress: f64,
}

impl Piece {
    /// Mean temperature, K.
    pub(super) fn mean(&self) -> f64 {
        f64::midpoint(self.from, self.to)
    }
}

/// A stretch of a leg above A1 without sharp turns; never empty.
#[derive(Debug, Clone)]
pub(super) struct Stretch {
    pub(super) pieces: Vec<Piece>,
    /// ∫ D dt at the reference carbon, m².
    pub(super) progress: f64,
    /// Length, s.
    pub(super) seconds: f64,
    /// How many steps more than a straight stretch it needs, as a factor of 1 to 2: a surface that
    /// follows the swings of its potential is resolved by steps.
    pub(super) unrest: f64,
}

impl Stretch {
    /// Cuts `points` (seconds, kelvin) above `a1` kelvin.
    pub(super) fn of(points: &[(f64, f64)], a1: f64, table: &DiffusivityTable) -> Vec<Self> {
        let pieces = pieces(points, a1, table);
        let mut cuts = vec![0, pieces.len()];
        turns(&pieces, (0, pieces.len()), DEEPEST, &mut cuts);
        cuts.sort_unstable();
        cuts.windows(2).map(|w| &pieces[w[0]..w[1]]).filter(|p| !p.is_empty()).map(Self::new).collect()
    }

    fn new(pieces: &[Piece]) -> Self {
        Self {
            progress: pieces.iter().map(|p| p.progress).sum(),
            seconds: pieces.iter().map(|p| p.seconds).sum(),
            unrest: 1.0 + (off_line(pieces) / UNREST_K).min(1.0),
            pieces: pieces.to_vec(),
        }
    }

    /// Lowest diffusivity at the reference carbon, m²/s.
    pub(super) fn coldest(&self, table: &DiffusivityTable) -> f64 {
        table.reference(self.pieces.iter().map(|p| p.from.min(p.to)).fold(f64::INFINITY, f64::min))
    }
}

/// The points above A1 as pieces of at most [`PIECE_K`].
fn pieces(points: &[(f64, f64)], a1: f64, table: &DiffusivityTable) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for w in points.windows(2) {
        let ((t0, k0), (t1, k1)) = (w[0], w[1]);
        let Some((from, to, share)) = above(k0, k1, a1) else { continue };
        let seconds = (t1 - t0) * share;
        if seconds <= 0.0 {
            continue;
        }
        let parts = ((to - from).abs() / PIECE_K).ceil().max(1.0);
        for i in 0..parts as usize {
            let at = |i: usize| from + (to - from) * i as f64 / parts;
            let mut piece = Piece { seconds: seconds / parts, from: at(i), to: at(i + 1), progress: 0.0 };
            piece.progress = gauss(&piece, (0.0, 1.0), |kelvin, weight| weight * table.reference(kelvin));
            pieces.push(piece);
        }
    }
    pieces
}

/// The part of a straight stretch `k0 → k1` that is not below `limit`: its ends and its share.
fn above(k0: f64, k1: f64, limit: f64) -> Option<(f64, f64, f64)> {
    match (k0 >= limit, k1 >= limit) {
        (true, true) => Some((k0, k1, 1.0)),
        (true, false) => Some((k0, limit, (k0 - limit) / (k0 - k1))),
        (false, true) => Some((limit, k1, (k1 - limit) / (k1 - k0))),
        (false, false) => None,
    }
}

/// First Gauss point of two on 0..1: (1 - 1/√3) / 2.
pub(super) const GAUSS_LOW: f64 = 0.211_324_865_405_187_13;

/// Two-point Gauss of f(kelvin, seconds of weight) over the share `span` of a piece's time.
pub(super) fn gauss(piece: &Piece, span: (f64, f64), mut f: impl FnMut(f64, f64) -> f64) -> f64 {
    let width = span.1 - span.0;
    let mut at = |share: f64| {
        let s = span.0 + share * width;
        f(piece.from + s * (piece.to - piece.from), 0.5 * width * piece.seconds)
    };
    at(GAUSS_LOW) + at(1.0 - GAUSS_LOW)
}

/// Adds the places where the temperature of `pieces` turns between two of them, the sharpest first.
fn turns(pieces: &[Piece], (from, to): (usize, usize), deepest: usize, cuts: &mut Vec<usize>) {
    let part = &pieces[from..to];
    let (true, [first, .., last]) = (deepest > 0, part) else { return };
    let blocks = blocks(part);
    let whole: f64 = part.iter().map(|p| p.seconds).sum();
    // half-way between the means of two neighbours, so that a single high reading turns nothing
    let off = |w: &[Block]| {
        let line = first.from + (last.to - first.from) * w[0].until / whole;
        (f64::midpoint(w[0].mean, w[1].mean) - line).abs()
    };
    let sharpest = blocks.windows(2).map(|w| (off(w), w[0].pieces)).max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, after)) = sharpest.filter(|(off, _)| *off > TURN_K) {
        let place = from + after;
        cuts.push(place);
        turns(pieces, (from, place), deepest - 1, cuts);
        turns(pieces, (place, to), deepest - 1, cuts);
    }
}

/// Neighbouring pieces together: their mean temperature in K, how many pieces there are up to their
/// end, and when that is in s.
struct Block {
    mean: f64,
    pieces: usize,
    until: f64,
}

/// At most [`BLOCKS`] blocks of about equal time; a piece that is longer stands alone.
fn blocks(part: &[Piece]) -> Vec<Block> {
    let length = part.iter().map(|p| p.seconds).sum::<f64>() / BLOCKS;
    let mut blocks = Vec::new();
    let (mut sum, mut seconds, mut until) = (0.0, 0.0, 0.0);
    for (i, piece) in part.iter().enumerate() {
        sum += piece.seconds * piece.mean();
        seconds += piece.seconds;
        until += piece.seconds;
        if seconds >= length || i + 1 == part.len() {
            blocks.push(Block { mean: sum / seconds, pieces: i + 1, until });
            (sum, seconds) = (0.0, 0.0);
        }
    }
    blocks
}

/// Root mean square distance of the temperature from the straight line between both ends, K.
fn off_line(part: &[Piece]) -> f64 {
    let [first, .., last] = part else { return 0.0 };
    let whole: f64 = part.iter().map(|p| p.seconds).sum();
    let mut t = 0.0;
    let squares = part.iter().map(|piece| {
        t += piece.seconds;
        let off = piece.to - (first.from + (last.to - first.from) * t / whole);
        piece.seconds * off * off
    });
    (squares.sum::<f64>() / whole).sqrt()
}
