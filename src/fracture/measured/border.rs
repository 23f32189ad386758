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

#[cfg(test)]
mod tests {
    use super::*;
    use rand_pcg::rand_core::SeedableRng;

    const COLUMNS: usize = 4;
    const ROWS: usize = 3;
    const CHANGE: f64 = 0.8;

    /// What cells say, any numbers.
    fn says(column: usize, row: usize) -> f64 {
        [[1.2, -0.3, -0.9], [0.4, 0.6, -1.5], [-0.2, 0.1, 0.3], [0.9, 0.8, -2.0]][column][row]
    }

    /// Every border there is, with its weight by the definition.
    fn by_hand() -> Vec<([usize; COLUMNS], f64)> {
        let states = ROWS + 1;
        let keep = libm::exp(-1.0 / CHANGE);
        let mut all = Vec::new();
        for code in 0..states.pow(COLUMNS as u32) {
            let path: [usize; COLUMNS] = std::array::from_fn(|c| code / states.pow(c as u32) % states);
            let own: f64 = (0..COLUMNS).map(|c| (0..path[c]).map(|r| says(c, r)).sum::<f64>()).sum();
            let moves: f64 = path
                .windows(2)
                .map(|w| libm::pow(keep, w[0].abs_diff(w[1]) as f64) + anywhere(states, keep))
                .product();
            all.push((path, libm::exp(own) * moves));
        }
        all
    }

    #[test]
    fn chances_are_those_of_all_borders_counted_one_by_one() {
        let border = Border::of(COLUMNS, ROWS, CHANGE, false, says);
        let all = by_hand();
        let total: f64 = all.iter().map(|(_, w)| w).sum();
        for column in 0..COLUMNS {
            for state in 0..=ROWS {
                let counted: f64 =
                    all.iter().filter(|(p, _)| p[column] == state).map(|(_, w)| w).sum::<f64>() / total;
                let own = border.of_column(column)[state];
                assert!((own - counted).abs() < 1e-9, "{column} {state}: {own} and {counted}");
            }
        }
    }

    /// 20,000 draws: each whole border as often as its weight says, within five standard deviations.
    #[test]
    fn borders_are_drawn_by_their_weight() {
        let border = Border::of(COLUMNS, ROWS, CHANGE, false, says);
        let all = by_hand();
        let total: f64 = all.iter().map(|(_, w)| w).sum();
        let mut dice = Pcg64Mcg::seed_from_u64(7);
        let mut seen = std::collections::BTreeMap::new();
        let draws = 20_000;
        for _ in 0..draws {
            *seen.entry(border.drawn(&mut dice)).or_insert(0) += 1;
        }
        for (path, weight) in all {
            let expected = f64::from(draws) * weight / total;
            let got = f64::from(*seen.get(path.as_slice()).unwrap_or(&0));
            assert!(
                (got - expected).abs() <= 5.0 * expected.sqrt().max(1.0),
                "{path:?}: {got}, {expected:.1}"
            );
        }
    }

    #[test]
    fn a_plain_border_is_found_where_it_is() {
        let says = |_: usize, row: usize| if row < 12 { 1.0 } else { -1.0 };
        for ring in [false, true] {
            let border = Border::of(30, 40, 0.5, ring, says);
            for column in 0..30 {
                assert!((border.quantile(column, 0.5) - 12.0).abs() < 0.2);
                assert!(border.quantile(column, 0.05) > 11.0 && border.quantile(column, 0.95) < 13.0);
            }
        }
    }
}
