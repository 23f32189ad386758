use super::hypothesis::Hypothesis;
use super::judge::{Judge, Limits};
use super::look::Outlook;
use super::sound::Sound;
use super::{Cause, Causes, Eyes, Look, Move, Observation};

/// How well what was looked at can show a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Power<'a> {
    /// The cause.
    pub cause: &'a Cause,
    /// Of all its changes together, found by the best test of these readings that calls 5 of 100 sound runs wrong: by the odds
    /// of the cause against a run without fault, which causes are ranked by.
    pub best: f64,
    /// Called a mismatch.
    pub called: f64,
    /// Change by change.
    pub by_change: Vec<(&'a Move, Found)>,
}

/// Shares of the runs with one change of a cause that are found, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// By the best test of these readings for just this change that calls 5 of 100 sound runs wrong.
    pub best: f64,
    /// By the odds of its cause against a run without fault, by which causes are ranked, at as many.
    pub odds: f64,
    /// Called a mismatch.
    pub called: f64,
}

/// Every way that some looks may come out together, with the chance of each.
pub(super) struct Powers<'a> {
    causes: &'a Causes,
    sound: Vec<f64>,
    /// Of each cause, by its index, and of each of its changes.
    faults: Vec<Option<Fault<'a>>>,
    verdicts: Vec<Verdict>,
    limits: Limits,
}

/// What the cross-check goes by, in one way that the looks may come out.
#[derive(Clone, Copy)]
struct Verdict {
    /// How well sparks and hardness go together.
    together: f64,
    /// Share of a run without fault.
    usual: f64,
    /// How near to either end of what sound runs show the outermost of them lies.
    outermost: f64,
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
/// Of the sound runs that may be called a mismatch, the share that readings which exclude each other may take, and the share
/// that these and far likelier causes may; the rest is for what lies outside (judgement).
const FOR_EXCLUDING: f64 = 0.25;
const FOR_STORIES: f64 = 0.5;
/// Least share at either end that counts as outside, however many sound runs are called wrong otherwise (judgement).
const LEAST_TAIL: f64 = 0.002;

impl<'a> Powers<'a> {
    /// Of what was looked at, over stories by what they weighed before.
    pub(super) fn new(seen: &[Observation], stories: &[Hypothesis<'a>], judge: &Judge<'_, 'a>) -> Self {
        let causes = judge.causes;
        let stories: Vec<&Hypothesis<'a>> = stories.iter().collect();
        let look = |seen: &Observation| Outlook::of(&Look::of(seen), &stories);
        let looks: Vec<Outlook> = seen.iter().map(look).collect();
        let few: Vec<_> = stories.iter().copied().filter(|h| h.cause.is_none()).step_by(ONE_IN).collect();
        let sound = together(&few, &looks, causes);
        let faults: Vec<_> = (0..causes.list.len()).map(|i| Fault::of(i, &stories, &looks, causes)).collect();
        let outcomes = placed(&looks, &Sound::of(few.iter().copied()), &causes.eyes);
        let verdict = |cell: usize| {
            let usual = causes.usual.value * sound[cell];
            let faulty = faults
                .iter()
                .zip(&causes.list)
                .filter_map(|(fault, cause)| Some(cause.weight.value * fault.as_ref()?.all[cell]));
            let all = usual + faulty.sum::<f64>();
            if all < NEVER {
                return Verdict { together: 1.0, usual: 1.0, outermost: 0.5 };
            }
            let (seen, places): (Vec<Observation>, Vec<f64>) = at(&outcomes, cell).into_iter().unzip();
            Verdict {
                together: judge.together(&seen),
                usual: usual / all,
                outermost: places.iter().map(|place| place.min(1.0 - place)).fold(0.5, f64::min),
            }
        };
        let verdicts = (0..sound.len()).map(verdict).collect();
        let nothing = Limits { tail: 0.0, least_usual: 0.0, exclude: 0.0 };
        let mut powers = Self { causes, sound, faults, verdicts, limits: nothing };
        let need = judge.need;
        let allowed = need.false_alarms.value;
        powers.limits.exclude = powers.limit(allowed * FOR_EXCLUDING, |v| v.together).min(need.exclude.value);
        powers.limits.least_usual =
            powers.limit(allowed * FOR_STORIES, |v| v.usual).min(need.least_usual.value);
        powers.limits.tail = powers.limit(allowed, |v| v.outermost).max(LEAST_TAIL);
        powers
    }

    /// From where on what was seen does not fit, so that no more sound runs are called a mismatch than may be.
    pub(super) fn limits(&self) -> &Limits {
        &self.limits
    }

    /// The largest limit of a number with no more than so many sound runs below it or called a mismatch by the limits that
    /// there are.
    fn limit(&self, allowed: f64, number: impl Fn(&Verdict) -> f64) -> f64 {
        let number = |v: &Verdict| if v.is_called(&self.limits) { f64::NEG_INFINITY } else { number(v) };
        let mut order: Vec<(f64, f64)> =
            self.verdicts.iter().map(number).zip(self.sound.iter().copied()).collect();
        order.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut below = 0.0;
        let first_kept = order.iter().find(|(_, chance)| {
            below += chance;
            below > allowed
        });
        first_kept.map_or(f64::INFINITY, |cell| cell.0)
    }

    /// Share of sound runs with such readings that the cross-check calls a mismatch.
    pub(super) fn alarms(&self) -> f64 {
        self.called(&self.sound)
    }

    /// How well they show a cause, by its index. `None`: it cannot be a cause of this run.
    pub(super) fn of(&self, cause: usize) -> Option<Power<'a>> {
        let fault = self.faults.get(cause)?.as_ref()?;
        let odds = order(&self.sound, &fault.all);
        let found = |chances: &[f64]| Found {
            best: found_by(&order(&self.sound, chances), &self.sound, chances),
            odds: found_by(&odds, &self.sound, chances),
            called: self.called(chances),
        };
        let by_change = fault.by_change.iter().map(|(change, chances)| (*change, found(chances)));
        Some(Power {
            cause: &self.causes.list[cause],
            best: found_by(&odds, &self.sound, &fault.all),
            called: self.called(&fault.all),
            by_change: by_change.collect(),
        })
    }

    fn called(&self, chances: &[f64]) -> f64 {
        let called =
            chances.iter().zip(&self.verdicts).filter(|(_, verdict)| verdict.is_called(&self.limits));
        called.map(|(chance, _)| chance).sum()
    }
}

impl Verdict {
    fn is_called(&self, limits: &Limits) -> bool {
        self.together < limits.exclude || self.usual < limits.least_usual || self.outermost < limits.tail
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

/// Every outcome of every look with its place among what sound runs show.
fn placed(looks: &[Outlook], sound: &Sound<'_, '_>, eyes: &Eyes) -> Vec<Vec<(Observation, f64)>> {
    let each = |look: &Outlook| {
        look.observations().map(|seen| (seen, sound.place(&seen, eyes).unwrap_or(0.5))).collect()
    };
    looks.iter().map(each).collect()
}

/// What is seen where the looks come out in this way, in the order of [`together`].
fn at(outcomes: &[Vec<(Observation, f64)>], cell: usize) -> Vec<(Observation, f64)> {
    let mut rest = cell;
    let mut list = Vec::with_capacity(outcomes.len());
    for each in outcomes.iter().rev() {
        list.extend(each.get(rest % each.len()).copied());
        rest /= each.len();
    }
    list
}

/// All ways by falling ratio of their chances with a fault and without.
fn order(sound: &[f64], fault: &[f64]) -> Vec<usize> {
    // what no sound run shows comes first, what no run shows last
    let ratio = |cell: &usize| match (sound[*cell] > 0.0, fault[*cell] > 0.0) {
        (true, _) => fault[*cell] / sound[*cell],
        (false, true) => f64::INFINITY,
        (false, false) => 0.0,
    };
    let mut cells: Vec<usize> = (0..sound.len()).collect();
    cells.sort_by(|a, b| ratio(b).total_cmp(&ratio(a)));
    cells
}

/// Share of the runs with a fault that a test finds which rejects in this order until [`FALSE_ALARMS`] are spent. By falling
/// ratio of the chances it is the most powerful there is: J. Neyman, E. S. Pearson, Philosophical Transactions A 231 (1933)
/// 289 (from memory).
fn found_by(order: &[usize], sound: &[f64], fault: &[f64]) -> f64 {
    let (mut alarms, mut found) = (0.0, 0.0);
    for cell in order {
        if alarms + sound[*cell] > FALSE_ALARMS {
            // the rest of what is allowed is spent on a part of this one
            found += fault[*cell] * (FALSE_ALARMS - alarms) / sound[*cell];
            break;
        }
        alarms += sound[*cell];
        found += fault[*cell];
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
        let density = |x: f64| libm::exp(-0.5 * x * x) / std::f64::consts::TAU.sqrt();
        let step = 0.001;
        let cells = || (-8000..8000).map(|i| f64::from(i) * step);
        let sound: Vec<f64> = cells().map(|x| density(x) * step).collect();
        let fault: Vec<f64> = cells().map(|x| density(x - 1.5) * step).collect();
        let best = found_by(&order(&sound, &fault), &sound, &fault);
        assert!((best - 0.4424).abs() < 5e-4, "{best}");
        // a fault that changes nothing is found as often as a sound run is called wrong
        assert!((found_by(&order(&sound, &sound), &sound, &sound) - 0.05).abs() < 1e-9);
        // one that no sound run looks like is always found
        let apart = [1.0, 0.0];
        assert_eq!(found_by(&order(&[0.0, 1.0], &apart), &[0.0, 1.0], &apart), 1.0);
    }
}
