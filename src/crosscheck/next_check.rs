use super::hypothesis::Hypothesis;
use super::look::Outlook;
use super::{Cause, Causes, Look};
use crate::sources::Sourced;
use crate::stats::weighted_quantiles;
use crate::units::Interval;

/// A check that can still be made: `[[check]]` in `models/causes.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Short name for data.
    pub key: String,
    /// What to do, in words.
    pub words: String,
    /// What it says where it comes out so; empty where it is a number or one of several.
    pub yes: String,
    /// Work that it is, min.
    pub minutes: Sourced<f64>,
    /// What is looked at.
    pub look: Look,
}

/// The cheapest check that tells the two best stories apart.
#[derive(Debug, Clone, PartialEq)]
pub struct NextCheck<'a> {
    /// The check.
    pub check: &'a Check,
    /// The two stories, the likelier first; `None`: a run without fault.
    pub between: [Option<&'a Cause>; 2],
    /// What it would show under each.
    pub foreseen: [Foreseen; 2],
    /// What is open between the two, bits: 1 if they are as likely as each other.
    pub open: f64,
    /// What the check settles of that, as is to be expected, bits.
    pub settles: f64,
}

/// What a check would show if a story were true.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Foreseen {
    /// Chance that it comes out so: a file skates, a metal melts, a sign is there.
    Chance(f64),
    /// A number, mm or mg: nine in ten.
    Number(Interval<f64>),
    /// Chances of the order of sparks, of [`crate::spark::OverTime::ALL`].
    Order([f64; 4]),
    /// The likeliest carbon band, by its place in [`crate::steel::CarbonBand::ALL`], with its chance.
    Band(usize, f64),
}

/// Share of what the best check settles that a cheaper one must settle (judgement).
const AS_GOOD: f64 = 0.5;
/// Least that a check must settle of what is open, as a share (judgement).
const WORTH_IT: f64 = 0.1;
/// Least that must be open between the two for a check to be named, bits (judgement: the second has 3 of 100).
const LEAST_OPEN: f64 = 0.2;

impl<'a> NextCheck<'a> {
    /// Of `checks` the least work that settles at least half of what the best of them does. `None`: none of them settles
    /// anything worth it, or nothing is open. Stories are held with what they weigh after all that was seen.
    pub(super) fn of(
        checks: &[&'a Check],
        stories: [&[(&Hypothesis<'a>, f64)]; 2],
        causes: &'a Causes,
    ) -> Option<Self> {
        let shares = stories.map(|group| group.iter().map(|(_, weight)| weight).sum::<f64>());
        let total = shares[0] + shares[1];
        if shares[0] <= 0.0 || shares[1] <= 0.0 {
            return None;
        }
        let shares = shares.map(|share| share / total);
        let open = entropy(&shares);
        if open < LEAST_OPEN {
            return None;
        }
        let both: Vec<&Hypothesis<'a>> = stories.iter().copied().flatten().map(|(h, _)| *h).collect();
        let tried: Vec<(&'a Check, Outlook, [Vec<f64>; 2], f64)> = checks
            .iter()
            .filter_map(|check| {
                let outlook = Outlook::of(&check.look, &both);
                let each = stories.map(|group| mean(group, &outlook, causes));
                let settles = settled(&shares, &each);
                (outlook.len() > 0).then_some((*check, outlook, each, settles))
            })
            .collect();
        let best = tried.iter().map(|t| t.3).fold(0.0, f64::max);
        let good = tried.into_iter().filter(|t| t.3 >= AS_GOOD * best && t.3 >= WORTH_IT * open);
        let work = |t: &(&Check, Outlook, [Vec<f64>; 2], f64)| t.0.minutes.value;
        let least = good.min_by(|a, b| work(a).total_cmp(&work(b)).then(b.3.total_cmp(&a.3)))?;
        let (check, outlook, each, settles) = least;
        let between = stories.map(|group| group[0].0.cause.map(|i| &causes.list[i]));
        let foreseen =
            [foreseen(&check.look, &outlook, &each[0])?, foreseen(&check.look, &outlook, &each[1])?];
        Some(Self { check, between, foreseen, open, settles })
    }
}

/// Bits that are open between stories with these shares.
fn entropy(shares: &[f64]) -> f64 {
    shares.iter().filter(|p| **p > 0.0).map(|p| -p * libm::log2(*p)).sum()
}

/// Chances of the outcomes over a group of weighed stories.
fn mean(group: &[(&Hypothesis<'_>, f64)], outlook: &Outlook, causes: &Causes) -> Vec<f64> {
    let total: f64 = group.iter().map(|(_, weight)| weight).sum();
    let mut sum = vec![0.0; outlook.len()];
    for (story, weight) in group {
        for (sum, chance) in sum.iter_mut().zip(outlook.chances(story, causes)) {
            *sum += chance * weight / total;
        }
    }
    sum
}

/// Bits of what is open that an outcome settles on average: the mutual information of story and outcome. Source: D. V.
/// Lindley, Annals of Mathematical Statistics 27 (1956) 986, on a measure of the information provided by an experiment
/// (from memory).
fn settled(shares: &[f64; 2], chances: &[Vec<f64>; 2]) -> f64 {
    let term = |p: f64, chance: f64, all: f64| {
        if p * chance > 0.0 { p * chance * libm::log2(chance / all) } else { 0.0 }
    };
    let each = chances[0].iter().zip(&chances[1]).map(|(a, b)| {
        let all = shares[0] * a + shares[1] * b;
        term(shares[0], *a, all) + term(shares[1], *b, all)
    });
    each.sum()
}

/// What outcomes with these chances come to, in words to be. `None`: no outcome.
fn foreseen(look: &Look, outlook: &Outlook, chances: &[f64]) -> Option<Foreseen> {
    Some(match look {
        Look::Rim { .. } | Look::RimInWater { .. } | Look::Gain { .. } => {
            let numbers = (0..outlook.len()).filter_map(|i| Some((outlook.number(i)?, chances[i])));
            let numbers: Vec<(f64, f64)> = numbers.collect();
            let [low, best, high] = weighted_quantiles(&numbers, [0.05, 0.5, 0.95])?;
            Foreseen::Number(Interval::new(low, best, high)?)
        }
        Look::File { .. } | Look::FileAnew { .. } | Look::Sign(_) | Look::Melts(_) => {
            Foreseen::Chance(*chances.first()?)
        }
        Look::Inward => Foreseen::Order(chances.try_into().ok()?),
        Look::Sparks | Look::RimByBand => {
            let best = (0..chances.len()).max_by(|a, b| chances[*a].total_cmp(&chances[*b]))?;
            Foreseen::Band(best, chances[best])
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A clean answer settles all that is open, a coin settles nothing; a channel that errs with chance e, on even shares,
    /// settles 1 - H(e). Source: any text on information theory, capacity of the binary symmetric channel.
    #[test]
    fn information_of_known_channels() {
        let even = [0.5, 0.5];
        let channel = |e: f64| [vec![1.0 - e, e], vec![e, 1.0 - e]];
        assert!((settled(&even, &channel(0.0)) - 1.0).abs() < 1e-12);
        assert!(settled(&even, &channel(0.5)).abs() < 1e-12);
        assert!((settled(&even, &channel(0.11)) - (1.0 - entropy(&[0.11, 0.89]))).abs() < 1e-12);
        // no more than is open
        let uneven = [0.9, 0.1];
        assert!((settled(&uneven, &channel(0.0)) - entropy(&uneven)).abs() < 1e-12);
    }
}
