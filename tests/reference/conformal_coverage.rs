//! `stats::conformal_level` on real answers: votes of trees on public data that they have not seen, half of the rows
//! to calibrate on, half to judge by.
//!
//! The score of a row is the share of votes that its own class did not get; its set is every class that would score at
//! or below the level. Split conformal prediction covers by chance: with `n` scores and the k-th least as level, and no
//! two scores equal, the covered share is Beta(k, n + 1 - k) from split to split (V. Vovk, Conditional validity of
//! inductive conformal predictors, 2012; from memory), so the number covered of `m` rows is beta-binomial. That holds
//! for rows drawn from these same rows as well: only their order counts. Splits are drawn apart from each other, so the
//! number covered in all of them is the sum of so many.
//!
//! Leaves give many rows the same votes. A tie can only cover more, as every row that scores what the level is is
//! inside: so both ends are asserted after ties are drawn apart by chance, and the low end for the scores as they are.
//! Set sizes are a figure, not a claim. Rows drawn by chance are what this holds for; a few known steels are not.

use super::tree_peers::HeldOut;
use crate::support::streams::Chance;
use snapspark::stats::conformal_level;
use std::fmt::Write;

/// What is to be covered.
const STATED: f64 = 0.9;
const SPLITS: usize = 40;
/// Chance that a true claim fails, at each end: of the mean of all splits, and of all splits together.
/// Written before the first run: 99.9 % bands.
const TAIL: f64 = 0.0005;
/// Between equal scores; unequal ones are 1 / 569² apart at least.
const TIE: f64 = 1e-9;

/// Probability of each number covered, from none to `m`, when the level is the k-th least of `n` scores.
fn beta_binomial(k: usize, n: usize, m: usize) -> Vec<f64> {
    let mut log = vec![0.0];
    for x in 0..m {
        let ratio = ((m - x) * (x + k)) as f64 / ((x + 1) * (m - x + n - k)) as f64;
        log.push(log[x] + ratio.ln());
    }
    let most = log.iter().copied().fold(f64::MIN, f64::max);
    let odds: Vec<f64> = log.iter().map(|l| (l - most).exp()).collect();
    let all: f64 = odds.iter().sum();
    odds.iter().map(|odds| odds / all).collect()
}

/// Probability of each sum of `times` independent numbers.
fn sum_of(one: &[f64], times: usize) -> Vec<f64> {
    (0..times).fold(vec![1.0], |sum, _| {
        let mut next = vec![0.0; sum.len() + one.len() - 1];
        for (at, p) in sum.iter().enumerate() {
            next[at..].iter_mut().zip(one).for_each(|(next, q)| *next += p * q);
        }
        next
    })
}

/// The least and the most with more than `tail` beyond neither end.
fn band(chances: &[f64], tail: f64) -> (usize, usize) {
    let end = |chances: &mut dyn Iterator<Item = &f64>| {
        let mut beyond = 0.0;
        chances
            .take_while(|p| {
                beyond += **p;
                beyond <= tail
            })
            .count()
    };
    (end(&mut chances.iter()), chances.len() - 1 - end(&mut chances.iter().rev()))
}

/// Rows in an order drawn by chance.
fn shuffled(rows: usize, chance: &mut Chance) -> Vec<usize> {
    let mut keys: Vec<(f64, usize)> = (0..rows).map(|row| (chance.unit(), row)).collect();
    keys.sort_by(|a, b| a.0.total_cmp(&b.0));
    keys.into_iter().map(|(_, row)| row).collect()
}

/// What came out of the splits of one set.
struct Splits {
    /// Rows judged in each.
    judged: usize,
    /// Rows covered in each, ties drawn apart.
    apart: Vec<usize>,
    /// As they are.
    covered: Vec<usize>,
    /// Classes in a set, mean over all.
    size: f64,
}

/// Calibrates on `n` rows, judges by half of all.
fn splits(held_out: &HeldOut, n: usize, level: impl Fn(&[f64]) -> f64) -> Splits {
    let rows = held_out.labels.len();
    let scores: Vec<f64> = held_out.labels.iter().zip(&held_out.ours).map(|(own, s)| 1.0 - s[*own]).collect();
    let mut found = Splits { judged: rows - rows / 2, apart: Vec::new(), covered: Vec::new(), size: 0.0 };
    for split in 0..SPLITS {
        let mut chance = Chance::new(split as u64);
        let order = shuffled(rows, &mut chance);
        let (calibrating, judged) = (&order[..n], &order[rows / 2..]);
        let drawn: Vec<f64> = scores.iter().map(|score| score + TIE * chance.unit()).collect();
        let covered = |scores: &[f64]| {
            let level = level(&calibrating.iter().map(|row| scores[*row]).collect::<Vec<f64>>());
            (level, judged.iter().filter(|row| scores[**row] <= level).count())
        };
        let (level, as_they_are) = covered(&scores);
        found.covered.push(as_they_are);
        found.apart.push(covered(&drawn).1);
        let inside = |row: &usize| held_out.ours[*row].iter().filter(|share| 1.0 - **share <= level).count();
        found.size += judged.iter().map(inside).sum::<usize>() as f64 / (judged.len() * SPLITS) as f64;
    }
    found
}

fn stated(scores: &[f64]) -> f64 {
    conformal_level(scores, STATED).expect("nine scores or more")
}

/// Nine scores are the least that nine in ten can be stated from, ten ask for another rank, half is what a set has.
#[test]
fn coverage_lies_within_the_beta_binomial_band() {
    let mut figures =
        "   set depth leaf   n covered %  ties apart        band    least -  most        band  size\n"
            .to_owned();
    let mut tried = 0;
    for held_out in HeldOut::all() {
        let half = held_out.labels.len() / 2;
        for n in [9, 10, half] {
            let Splits { judged, apart, covered, size } = splits(&held_out, n, stated);
            // the rank of Vovk, Gammerman and Shafer (2005), in whole numbers: ceil(9 (n + 1) / 10)
            let one = beta_binomial((9 * (n + 1)).div_ceil(10), n, judged);
            let (low, high) = band(&one, TAIL / SPLITS as f64);
            let (low_sum, high_sum) = band(&sum_of(&one, SPLITS), TAIL);
            let [all_apart, all] = [&apart, &covered].map(|counts| counts.iter().sum::<usize>());
            let (least, most) = (apart.iter().min().unwrap(), apart.iter().max().unwrap());
            let percent = |count: usize, of: usize| 100.0 * count as f64 / of as f64;
            let mean = |count: usize| percent(count, judged * SPLITS);
            let split = |count: usize| percent(count, judged);
            let HeldOut { set, depth, leaf, .. } = &held_out;
            let line = format!(
                "{set:>6} {depth:5} {leaf:4} {n:3} {:9.2} {:11.2} {:5.2}-{:5.2} {:6.1} -{:6.1} {:5.1}-{:5.1} {size:5.2}",
                mean(all),
                mean(all_apart),
                mean(low_sum),
                mean(high_sum),
                split(*least),
                split(*most),
                split(low),
                split(high),
            );
            assert!((low_sum..=high_sum).contains(&all_apart), "mean of the splits: {line}");
            assert!(apart.iter().all(|count| (low..=high).contains(count)), "each split: {line}");
            assert!(all >= low_sum && covered.iter().all(|count| *count >= low), "as they are: {line}");
            writeln!(figures, "{line}").unwrap();
            tried += 1;
        }
    }
    println!("{figures}");
    assert_eq!(tried, 18);
    insta::assert_snapshot!("conformal_coverage_figures", figures);
}

/// The control: with ten scores the plain nine-in-ten quantile, the ninth, covers nine in eleven.
#[test]
fn coverage_of_the_plain_quantile_would_fail() {
    let plain = |scores: &[f64]| {
        let mut sorted = scores.to_vec();
        sorted.sort_by(f64::total_cmp);
        sorted[8]
    };
    for held_out in HeldOut::all() {
        let found = splits(&held_out, 10, plain);
        let (low, _) = band(&sum_of(&beta_binomial(10, 10, found.judged), SPLITS), TAIL);
        assert!(found.apart.iter().sum::<usize>() < low, "{}", held_out.set);
    }
}

/// The band itself, by closed form: with k = n the chance that all `m` are covered is n / (n + m), and the mean is
/// m k / (n + 1).
#[test]
fn coverage_chances_have_their_closed_forms() {
    let chances = beta_binomial(9, 9, 75);
    assert!((chances[75] - 9.0 / 84.0).abs() < 1e-12);
    let mean: f64 = sum_of(&chances, 3).iter().enumerate().map(|(x, p)| x as f64 * p).sum();
    assert!((mean - 3.0 * 75.0 * 0.9).abs() < 1e-9);
    assert_eq!(band(&[0.1, 0.2, 0.4, 0.2, 0.1], 0.1), (1, 3));
}
