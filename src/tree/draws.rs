use super::{Row, Settings};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// The rows as the engine gets to see them: each drawn several times inside the ranges that its values
/// stand for.
///
/// The draws of a row depend on the seed and on its values, not on the rows around it: a record more
/// leaves all others as they were.
pub(super) struct Draws {
    /// For each row its draws, each with one value per feature.
    pub(super) of_row: Vec<Vec<Vec<f64>>>,
}

impl Draws {
    /// Draws of rows in canonical order.
    pub(super) fn new(rows: &[Row], settings: &Settings) -> Self {
        let mut twins = 0_u64;
        let one = |(at, row): (usize, &Row)| {
            twins = if at > 0 && rows[at - 1].values == row.values { twins + 1 } else { 0 };
            draw(&row.values, generator(settings.seed, &row.values, twins), settings)
        };
        Self { of_row: rows.iter().enumerate().map(one).collect() }
    }
}

/// A generator of its own for every row; `twin` tells rows with the same values apart.
fn generator(seed: u64, values: &[f64], twin: u64) -> Pcg64Mcg {
    let mix = |key: u64, bits: u64| Pcg64Mcg::seed_from_u64(key ^ bits).next_u64();
    Pcg64Mcg::seed_from_u64(values.iter().map(|v| v.to_bits()).chain([twin]).fold(mix(seed, 0), mix))
}

/// The draws of one row, spread evenly: each feature's range is cut into as many equal parts as there are
/// draws, and every part gets one, in an order of its own for each feature.
fn draw(values: &[f64], mut generator: Pcg64Mcg, settings: &Settings) -> Vec<Vec<f64>> {
    let count = settings.draws_used();
    let mut drawn = vec![values.to_vec(); count];
    for (feature, half) in settings.dither.iter().enumerate().filter(|(_, half)| **half > 0.0) {
        let mut parts: Vec<usize> = (0..count).collect();
        for last in (1..count).rev() {
            parts.swap(last, below(&mut generator, last + 1));
        }
        for (row, part) in drawn.iter_mut().zip(parts) {
            let place = (part as f64 + unit(&mut generator)) / count as f64;
            row[feature] += half * (2.0 * place - 1.0);
        }
    }
    drawn
}

/// A number from 0 to below 1.
fn unit(generator: &mut Pcg64Mcg) -> f64 {
    // the 53 bits that an f64 holds
    (generator.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}

/// A whole number from 0 to below `end`.
fn below(generator: &mut Pcg64Mcg, end: usize) -> usize {
    ((unit(generator) * end as f64) as usize).min(end - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(values: &[f64]) -> Row {
        Row { values: values.to_vec(), label: 0, weight: 1.0 }
    }

    fn settings(seed: u64) -> Settings {
        Settings { seed, dither: vec![0.5, 0.0], draws: 8, ..Settings::exact(2, 3, 1) }
    }

    #[test]
    fn draws_fill_their_range_evenly_and_leave_exact_values() {
        let draws = Draws::new(&[row(&[3.0, 7.0])], &settings(1));
        let drawn: Vec<f64> = draws.of_row[0].iter().map(|d| d[0]).collect();
        let mut first = drawn.clone();
        first.sort_by(f64::total_cmp);
        assert_ne!(first, drawn, "in an order of their own");
        for (part, value) in first.iter().enumerate() {
            let low = 2.5 + part as f64 / 8.0;
            assert!((low..low + 0.125).contains(value), "{value} in part {part}");
        }
        assert!(draws.of_row[0].iter().all(|d| d[1] == 7.0));
    }

    #[test]
    fn a_row_more_leaves_the_draws_of_the_others() {
        let few = Draws::new(&[row(&[1.0, 0.0]), row(&[3.0, 0.0])], &settings(5));
        let more = Draws::new(&[row(&[1.0, 0.0]), row(&[2.0, 0.0]), row(&[3.0, 0.0])], &settings(5));
        assert_eq!(few.of_row[0], more.of_row[0]);
        assert_eq!(few.of_row[1], more.of_row[2]);
    }

    #[test]
    fn twins_and_other_seeds_get_draws_of_their_own() {
        let rows = [row(&[1.0, 0.0]), row(&[1.0, 0.0])];
        let draws = Draws::new(&rows, &settings(5));
        assert_ne!(draws.of_row[0], draws.of_row[1]);
        assert_ne!(draws.of_row, Draws::new(&rows, &settings(6)).of_row);
        assert_eq!(draws.of_row, Draws::new(&rows, &settings(5)).of_row);
    }
}
