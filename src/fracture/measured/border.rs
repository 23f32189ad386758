use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::Rng;

/// Share of the steps from column to column at which a border may jump: where a case ends, at a chip (judgement).
const JUMPS: f64 = 0.01;

/// A border that runs along a side: for each column, how many rows from the outline are case.
///
/// A chain over the columns: what a column's cells say of each number of rows, and that the border changes little
/// from one column to the next (a two-sided exponential). Forward and backward sums give every column's chances;
/// drawing backward gives whole borders.
/// Source: Rabiner, A tutorial on hidden Markov models, Proc. IEEE 77 (1989) 257 (from memory).
pub(super) struct Border {
    columns: usize,
    states: usize,
    /// Chance of each number of rows, column by column.
    pub(super) chances: Vec<f64>,
    /// Sums from the left, scaled column by column.
    forward: Vec<f64>,
    keep: f64,
}

impl Border {
    /// `says(column, row)` is how much the cell favours case, natural logarithm, 0 where nothing is known;
    /// `change` rows is how far the border moves from one column to the next, on the mean; `ring` if the last
    /// column meets the first.
    pub(super) fn of(
        columns: usize,
        rows: usize,
        change: f64,
        ring: bool,
        says: impl Fn(usize, usize) -> f64,
    ) -> Self {
        let states = rows + 1;
        let keep = libm::exp(-1.0 / change.max(1e-3));
        let mut own = vec![0.0; columns * states];
        for (column, own) in own.chunks_exact_mut(states).enumerate() {
            let mut sum = 0.0;
            for row in 0..rows {
                own[row + 1] = {
                    sum += says(column, row);
                    sum
                };
            }
            let most = own.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            for v in own.iter_mut() {
                *v = libm::exp(*v - most);
            }
        }
        let order: Vec<usize> = (0..columns).collect();
        let back: Vec<usize> = (0..columns).rev().collect();
        let forward = sums(&own, states, keep, ring, &order);
        let backward = sums(&own, states, keep, ring, &back);
        let mut chances = vec![0.0; columns * states];
        for (((chance, f), b), own) in chances.iter_mut().zip(&forward).zip(&backward).zip(&own) {
            // both hold the column's own word
            *chance = if *own > 0.0 { f * b / own } else { 0.0 };
        }
        for chances in chances.chunks_exact_mut(states) {
            normalise(chances);
        }
        Self { columns, states, chances, forward, keep }
    }

    /// How many columns it has.
    pub(super) fn columns(&self) -> usize {
        self.columns
    }

    /// The number of rows below which the border of a column lies with this chance, between rows.
    pub(super) fn quantile(&self, column: usize, share: f64) -> f64 {
        let mut sum = 0.0;
        for (state, chance) in self.of_column(column).iter().enumerate() {
            if sum + chance >= share && *chance > 0.0 {
                return (state as f64 - 0.5 + (share - sum) / chance).max(0.0);
            }
            sum += chance;
        }
        (self.states - 1) as f64
    }

    pub(super) fn of_column(&self, column: usize) -> &[f64] {
        &self.chances[column * self.states..(column + 1) * self.states]
    }

    /// One border drawn by its chance: rows of each column.
    pub(super) fn drawn(&self, dice: &mut Pcg64Mcg) -> Vec<usize> {
        let mut path = vec![0; self.columns];
        let mut next: Option<usize> = None;
        let mut weights = vec![0.0; self.states];
        let far = anywhere(self.states, self.keep);
        let mut fading = 1.0;
        let near: Vec<f64> = (0..self.states)
            .map(|_| {
                let now = fading;
                fading *= self.keep;
                now
            })
            .collect();
        for column in (0..self.columns).rev() {
            let forward = &self.forward[column * self.states..(column + 1) * self.states];
            for (state, (w, f)) in weights.iter_mut().zip(forward).enumerate() {
                *w = f * next.map_or(1.0, |n| near[n.abs_diff(state)] + far);
            }
            let total: f64 = weights.iter().sum();
            let mut left = total * (dice.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
            let mut drawn = self.states - 1;
            for (state, w) in weights.iter().enumerate() {
                left -= w;
                if left <= 0.0 {
                    drawn = state;
                    break;
                }
            }
            path[column] = drawn;
            next = Some(drawn);
        }
        path
    }
}

/// Sums over all borders up to each column, in the order given.
fn sums(own: &[f64], states: usize, keep: f64, ring: bool, order: &[usize]) -> Vec<f64> {
    let mut out = vec![0.0; own.len()];
    let mut last = vec![1.0 / states as f64; states];
    for turn in 0..=usize::from(ring) {
        for (at, &column) in order.iter().enumerate() {
            if at > 0 || turn > 0 {
                spread(&mut last, keep);
            }
            let own = &own[column * states..(column + 1) * states];
            for (l, o) in last.iter_mut().zip(own) {
                *l = (*l * o).max(1e-300);
            }
            normalise(&mut last);
            out[column * states..(column + 1) * states].copy_from_slice(&last);
        }
    }
    out
}

/// Smeared by a two-sided exponential, or to anywhere.
fn spread(chances: &mut [f64], keep: f64) {
    let anywhere = anywhere(chances.len(), keep) * chances.iter().sum::<f64>();
    let mut up = 0.0;
    let mut sums = vec![0.0; chances.len()];
    for (s, c) in sums.iter_mut().zip(chances.iter()) {
        up = up * keep + c;
        *s = up;
    }
    let mut down = 0.0;
    for (s, c) in sums.iter().zip(chances.iter_mut()).rev() {
        let own = *c;
        *c = s + down * keep + anywhere;
        down = down * keep + own;
    }
}

/// Weight of one far place against that of staying: [`JUMPS`] of all moves go anywhere.
fn anywhere(states: usize, keep: f64) -> f64 {
    JUMPS * (1.0 + keep) / (1.0 - keep) / states as f64
}

fn normalise(chances: &mut [f64]) {
    let sum: f64 = chances.iter().sum();
    if sum > 0.0 {
        for c in chances {
            *c /= sum;
        }
    }
}
