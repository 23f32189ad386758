use super::hypothesis::Hypothesis;
use super::judge::Judge;
use super::look::Outlook;
use super::sound::Sound;
use super::{Agreement, Cause, Causes, Fits, Move};

/// How well what was looked at can show a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Power<'a> {
    /// The cause.
    pub cause: &'a Cause,
    /// All its changes together.
    pub found: Found,
    /// Change by change.
    pub by_change: Vec<(&'a Move, Found)>,
}

/// Shares of the runs with a fault that are found, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// By the best test of these readings that calls 5 of 100 sound runs wrong.
    pub best: f64,
    /// By this cross-check: called a mismatch.
    pub own: f64,
    /// By the best test that calls as many sound runs wrong as this cross-check does.
    pub best_alike: f64,
}

/// Every way that some looks may come out together, with the chance of each.
pub(super) struct Powers<'a> {
    causes: &'a Causes,
    sound: Vec<f64>,
    /// Of each cause, by its index, and of each of its changes.
    faults: Vec<Option<Fault<'a>>>,
    /// Whether the cross-check calls it a mismatch.
    alarm: Vec<bool>,
}

/// Chances of all ways under a cause, and under each of its changes.
struct Fault<'a> {
    all: Vec<f64>,
    by_change: Vec<(&'a Move, Vec<f64>)>,
}

/// One in so many of the sound runs stands for all.
const ONE_IN: usize = 8;
/// Sound runs that the best test may call wrong, 0 to 1 (common practice, no source).
const FALSE_ALARMS: f64 = 0.05;
/// What comes out less often than this in all runs together is not judged.
const NEVER: f64 = 1e-9;

impl<'a> Powers<'a> {
    /// Of stories by what they weighed before anything was seen.
    pub(super) fn new(looks: &[Outlook], stories: &[&Hypothesis<'a>], judge: &Judge<'_, 'a>) -> Self {
        let causes = judge.causes;
        let few: Vec<_> = stories.iter().copied().filter(|h| h.cause.is_none()).step_by(ONE_IN).collect();
        let sound = together(&few, looks, causes);
        let faults: Vec<_> = (0..causes.list.len()).map(|i| Fault::of(i, stories, looks, causes)).collect();
        let outcomes = judged(looks, &Sound::of(few.iter().copied()), judge);
        let alarm = |cell: usize| {
            let usual = causes.usual.value * sound[cell];
            let faulty = faults
                .iter()
                .zip(&causes.list)
                .filter_map(|(fault, cause)| Some(cause.weight.value * fault.as_ref()?.all[cell]));
            let all = usual + faulty.sum::<f64>();
            if all < NEVER {
                return false;
            }
            let fits = judge.fits(&at(&outcomes, cell), usual / all);
            !matches!(fits, Fits::Yes | Fits::CannotTell)
        };
        let alarm = (0..sound.len()).map(alarm).collect();
        Self { causes, sound, faults, alarm }
    }

    /// Share of sound runs with such readings that the cross-check calls a mismatch.
    pub(super) fn alarms(&self) -> f64 {
        self.alarmed(&self.sound)
    }

    /// How well they show a cause, by its index. `None`: it cannot be a cause of this run.
    pub(super) fn of(&self, cause: usize) -> Option<Power<'a>> {
        let fault = self.faults.get(cause)?.as_ref()?;
        let by_change = fault.by_change.iter().map(|(change, chances)| (*change, self.found(chances)));
        Some(Power {
            cause: &self.causes.list[cause],
            found: self.found(&fault.all),
            by_change: by_change.collect(),
        })
    }

    fn alarmed(&self, chances: &[f64]) -> f64 {
        chances.iter().zip(&self.alarm).filter(|(_, alarm)| **alarm).map(|(chance, _)| chance).sum()
    }

    fn found(&self, fault: &[f64]) -> Found {
        let mut cells: Vec<(f64, f64)> = self.sound.iter().copied().zip(fault.iter().copied()).collect();
        // what no sound run shows comes first, what no run shows last
        let ratio = |(sound, fault): &(f64, f64)| match (*sound > 0.0, *fault > 0.0) {
            (true, _) => fault / sound,
            (false, true) => f64::INFINITY,
            (false, false) => 0.0,
        };
        cells.sort_by(|a, b| ratio(b).total_cmp(&ratio(a)));
        let best = |alarms| most_powerful(&cells, alarms);
        Found { best: best(FALSE_ALARMS), own: self.alarmed(fault), best_alike: best(self.alarms()) }
    }
}

impl<'a> Fault<'a> {
    /// `None`: no run was drawn with it.
    fn of(index: usize, stories: &[&Hypothesis<'a>], looks: &[Outlook], causes: &'a Causes) -> Option<Self> {
        let own: Vec<_> = stories.iter().copied().filter(|h| h.cause == Some(index)).collect();
        let by_change = causes.list[index].moves.iter().filter_map(|change| {
            let runs: Vec<_> = own.iter().copied().filter(|h| h.change == *change).collect();
            (!runs.is_empty()).then(|| (change, together(&runs, looks, causes)))
        });
        let by_change: Vec<_> = by_change.collect();
        // each change is as likely as the others
        let first = by_change.first()?.1.clone();
        let sum = by_change
            .iter()
            .skip(1)
            .fold(first, |sum, (_, chances)| sum.iter().zip(chances).map(|(a, b)| a + b).collect());
        let all = sum.into_iter().map(|chance| chance / by_change.len() as f64).collect();
        Some(Self { all, by_change })
    }
}

/// Every outcome of every look, held against sound runs.
fn judged(looks: &[Outlook], sound: &Sound<'_, '_>, judge: &Judge<'_, '_>) -> Vec<Vec<Agreement>> {
    let eyes = &judge.causes.eyes;
    let each = |look: &Outlook| {
        let seen = look.observations();
        let placed = seen.filter_map(|seen| Some((seen, sound.place(&seen, eyes)?)));
        judge.agreements(placed, looks.len())
    };
    looks.iter().map(each).collect()
}

/// What is seen where the looks come out in this way, in the order of [`together`].
fn at(outcomes: &[Vec<Agreement>], cell: usize) -> Vec<Agreement> {
    let mut rest = cell;
    let mut list: Vec<Agreement> = Vec::with_capacity(outcomes.len());
    for each in outcomes.iter().rev() {
        list.extend(each.get(rest % each.len()));
        rest /= each.len();
    }
    list
}

/// Share of the runs with a fault that the most powerful test finds at so many false alarms; cells are chances in sound runs
/// and in those, by falling ratio. Source: J. Neyman, E. S. Pearson, Philosophical Transactions A 231 (1933) 289: reject
/// where the ratio of likelihoods is largest (from memory).
fn most_powerful(cells: &[(f64, f64)], false_alarms: f64) -> f64 {
    let (mut alarms, mut found) = (0.0, 0.0);
    for (sound, fault) in cells {
        if alarms + sound > false_alarms {
            // the rest of what is allowed is spent on a part of this cell
            found += fault * (false_alarms - alarms) / sound;
            break;
        }
        alarms += sound;
        found += fault;
    }
    found.clamp(0.0, 1.0)
}

/// Chance of each way that all looks together come out, over runs by their weights: given the run, looks know nothing of
/// each other.
fn together(runs: &[&Hypothesis<'_>], looks: &[Outlook], causes: &Causes) -> Vec<f64> {
    let total: f64 = runs.iter().map(|h| h.weight).sum();
    let mut sum = vec![0.0; looks.iter().map(Outlook::len).product()];
    for run in runs {
        let mut cells = vec![run.weight / total];
        for look in looks {
            let chances = look.chances(run, causes);
            cells = cells.iter().flat_map(|cell| chances.iter().map(move |chance| cell * chance)).collect();
        }
        for (sum, cell) in sum.iter_mut().zip(cells) {
            *sum += cell;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two normal numbers one and a half standard deviations apart: at 5 % false alarms the best test finds
    /// Phi(1.5 - 1.6449) = 0.4424 of them. Source: any text on tests of a normal mean; common knowledge.
    #[test]
    fn two_normal_numbers_apart() {
        let density =
            |x: f64, mean: f64| libm::exp(-0.5 * (x - mean) * (x - mean)) / std::f64::consts::TAU.sqrt();
        let step = 0.001;
        let mut cells: Vec<(f64, f64)> = (-8000..8000)
            .map(|i| f64::from(i) * step)
            .map(|x| (density(x, 0.0) * step, density(x, 1.5) * step))
            .collect();
        cells.reverse();
        assert!((most_powerful(&cells, 0.05) - 0.4424).abs() < 5e-4, "{}", most_powerful(&cells, 0.05));
        // a fault that changes nothing is found as often as a sound run is called wrong
        let same: Vec<_> = cells.iter().map(|(sound, _)| (*sound, *sound)).collect();
        assert!((most_powerful(&same, 0.05) - 0.05).abs() < 1e-9);
        // one that no sound run looks like is always found
        assert_eq!(most_powerful(&[(0.0, 1.0), (1.0, 0.0)], 0.05), 1.0);
    }
}
