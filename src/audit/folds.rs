use crate::known::Piece;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// What is left out of a fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftOut {
    /// All steels of a day, but the untreated stock that ties the day to others: as the next coupon will meet the rig. It
    /// flatters, as the other days may have had the very same steel.
    Day,
    /// A steel on all its days. It is harsh, as a steel between others is then read without any near it.
    Steel,
}

/// Groups of pieces, each left out in turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Folds {
    /// Places of the pieces of each group.
    pub groups: Vec<Vec<usize>>,
    /// Whether each day or steel is a group by itself.
    pub exact: bool,
}

/// Up to so many days or steels each is left out by itself; above, groups of them are drawn.
const EXACT: usize = 100;
const SEED: u64 = 1;

impl Folds {
    /// Groups that an audit draws.
    pub const OF_AUDIT: usize = 50;
    /// Groups that a fit draws to learn what it may state: there are many pieces then, and a fit must not take long.
    pub const OF_FIT: usize = 5;

    /// Of the pieces that an answer can be judged by; references stay in. Where there are too many days or steels for each
    /// to be left out by itself, `drawn` groups are.
    pub fn of(pieces: &[&Piece], what: LeftOut, drawn: usize) -> Self {
        let key = |piece: &Piece| match what {
            LeftOut::Day => piece.day,
            LeftOut::Steel => piece.steel,
        };
        let judged = |piece: &Piece| !piece.reference && piece.judges();
        let mut keys: Vec<usize> = pieces.iter().filter(|p| judged(p)).map(|p| key(p)).collect();
        keys.sort_unstable();
        keys.dedup();
        let exact = keys.len() <= EXACT;
        if !exact {
            shuffle(&mut keys);
        }
        let number = if exact { keys.len() } else { drawn };
        let mut groups = vec![Vec::new(); number];
        for (at, piece) in pieces.iter().enumerate() {
            if judged(piece)
                && let Some(place) = keys.iter().position(|k| *k == key(piece))
            {
                groups[place % number].push(at);
            }
        }
        Self { groups, exact }
    }
}

/// Fisher and Yates; seeded, so that the same set gives the same groups.
fn shuffle(keys: &mut [usize]) {
    let mut dice = Pcg64Mcg::seed_from_u64(SEED);
    for last in (1..keys.len()).rev() {
        keys.swap(last, (dice.next_u64() % (last as u64 + 1)) as usize);
    }
}
