use super::LeftOut;
use super::cross_check::Question;
use super::weighed::Weighed;
use crate::prediction::{Common, History, Inputs, Kept, Note, Prior, Run};
use crate::soak::{Container, SoakRecord, ThermometerPlace};
use crate::stats::{JointNormal, Reading};

/// Whether both were made in one furnace by its name, whatever its case and blanks.
pub fn same_furnace(one: &SoakRecord, other: &SoakRecord) -> bool {
    let name = |record: &SoakRecord| record.furnace.as_deref().map(folded);
    name(one).is_some() && name(one) == name(other)
}

/// What of a run also held for an `earlier` one, so far as both say: what the thermometer is off by with the same
/// thermometer place in the same furnace; lag and potential with the same container and compound in it.
pub fn shared(run: &Run, earlier: &Run) -> Vec<Kept> {
    if !same_furnace(run.record, earlier.record) {
        return Vec::new();
    }
    let place = run.record.thermometer.place;
    let same_place = place != ThermometerPlace::Unknown && place == earlier.record.thermometer.place;
    let same_pack = same_container(run.pack.container, earlier.pack.container)
        && run.pack.compound.name == earlier.pack.compound.name;
    let same = |kept: &Kept| match kept {
        Kept::Offset => same_place,
        Kept::Lag | Kept::Potential => same_pack,
    };
    Kept::ALL.into_iter().filter(same).collect()
}

/// A name without case and with single spaces.
fn folded(name: &str) -> String {
    name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether both are told, and alike; a wall may be untold in both.
fn same_container(one: Option<Container>, other: Option<Container>) -> bool {
    one.is_some_and(|container| container.inside.is_some()) && one == other
}

/// Drawn runs by which an earlier run is told (judgement: the mean of a score then stands to a few hundredths).
const DRAWS: usize = 1024;

/// What is followed through earlier runs: each of [`Kept::ALL`], then each of [`Common::ALL`].
const FOLLOWED: usize = Kept::ALL.len() + Common::ALL.len();

/// Where a story lies on the curve of each of what is followed. `None`: that is no unknown of its run.
fn scores(prior: &Prior, story: &Inputs) -> [Option<f64>; FOLLOWED] {
    let ([a, b, c], [d, e, f]) = (prior.scores(story), prior.common_scores(story));
    [a, b, c, d, e, f]
}

/// What one earlier run teaches of the next one.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// Share of a run without fault among all that explains its coupon, 0 to 1: a run that had a fault teaches less.
    pub sound: f64,
    /// What it teaches of.
    pub of: Vec<Kept>,
    /// What was read beyond what was known before; each counts all that is followed.
    readings: Vec<Reading>,
}

impl Lesson {
    /// Of an earlier run, about what is `shared` with the next one: its own sheet alone, in runs drawn without any history.
    pub fn of(question: &Question, shared: &[Kept]) -> Result<Self, LeftOut> {
        let Question { run, physics, seen, causes, hardness, .. } = *question;
        let observations = seen.observations(hardness, &causes.eyes);
        if observations.is_empty() {
            return Err(LeftOut::NothingSeen);
        }
        let prediction = question.prediction.clone().with_stories(run, physics, DRAWS);
        let question = Question { prediction: &prediction, ..*question };
        let signs = seen.signs(run, &causes.eyes);
        let weighed = Weighed::of(question.ground().drawn(), &observations, &signs, causes);
        // a thermometer that its witnesses contradict is off by more than its usual curve says
        let against = prediction.notes.iter().any(|note| matches!(note, Note::WitnessAgainstLog { .. }));
        let unknown = scores(&prediction.prior, &prediction.story.inputs);
        let teaches = |(row, kept): &(usize, Kept)| {
            shared.contains(kept) && unknown[*row].is_some() && !(against && *kept == Kept::Offset)
        };
        let of: Vec<(usize, Kept)> = Kept::ALL.into_iter().enumerate().filter(teaches).collect();
        let common = (Kept::ALL.len()..FOLLOWED).filter(|row| unknown[*row].is_some());
        let rows: Vec<usize> = of.iter().map(|(row, _)| *row).chain(common).collect();
        let sound = weighed.stories().iter().filter(|(h, _)| h.cause.is_none());
        let samples: Vec<(Vec<f64>, f64)> = sound
            .map(|(h, weight)| {
                let scores = scores(&prediction.prior, &h.inputs);
                (rows.iter().filter_map(|row| scores[*row]).collect(), *weight)
            })
            .collect();
        let joint = JointNormal::of(&samples).filter(|_| !of.is_empty()).ok_or(LeftOut::NothingOpen)?;
        let readings = joint.learned().into_iter().map(|reading| spread(&reading, &rows)).collect();
        Ok(Self { sound: weighed.share(None), of: of.into_iter().map(|(_, kept)| kept).collect(), readings })
    }
}

/// A reading of what stands in `rows` as one of all that is followed.
fn spread(reading: &Reading, rows: &[usize]) -> Reading {
    let mut of = vec![0.0; FOLLOWED];
    for (row, part) in rows.iter().zip(&reading.of) {
        of[*row] = *part;
    }
    Reading { of, ..*reading }
}

/// What several earlier runs tell together, where the share `stays` of the variance of each of [`Kept::ALL`] is the
/// furnace's own and the rest is new in every run: the normal model with two levels. What is common to all runs has one level
/// and is left out of the answer. Scores of one run move together in what it taught (a hotter steel or a richer pack makes the
/// same case deeper), so all are followed together. Source: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013),
/// hierarchical normal model (from memory).
pub fn history(lessons: &[&Lesson], stays: [f64; 3]) -> History {
    let (own, new) = (stays.map(f64::sqrt), stays.map(|share| (1.0 - share).sqrt()));
    let mut furnace = JointNormal::standard(FOLLOWED);
    for lesson in lessons {
        let mut both = furnace.beside(&JointNormal::standard(Kept::ALL.len()));
        for reading in &lesson.readings {
            let (kept, common) = reading.of.split_at(Kept::ALL.len());
            let each = |parts: [f64; 3]| parts.into_iter().zip(kept).map(|(part, of)| part * of);
            let of = each(own).chain(common.iter().copied()).chain(each(new)).collect();
            // as often as it was without fault it says this, else nothing
            both.observe(&Reading { of, value: reading.value, variance: reading.variance / lesson.sound });
        }
        furnace = both.only(&std::array::from_fn::<_, FOLLOWED, _>(|row| row));
    }
    let fresh = |i: usize, j: usize| if i == j { new[i] * new[i] } else { 0.0 };
    let row = |i: usize| (0..3).map(|j| own[i] * own[j] * furnace.covariance[i][j] + fresh(i, j)).collect();
    let told = |kept: &Kept| lessons.iter().any(|lesson| lesson.of.contains(kept));
    History {
        scores: JointNormal {
            mean: own.iter().zip(&furnace.mean).map(|(own, mean)| own * mean).collect(),
            covariance: (0..3).map(row).collect(),
        },
        told: Kept::ALL.into_iter().filter(told).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Readings of `of`, and after them of what is common.
    fn lesson(of: &[Kept], sound: f64, readings: &[(&[f64], f64, f64)]) -> Lesson {
        let kept = |kept: &Kept| Kept::ALL.iter().position(|other| other == kept);
        let rows: Vec<usize> = of.iter().filter_map(kept).chain(Kept::ALL.len()..FOLLOWED).collect();
        let reading = |(of, value, variance): &(&[f64], f64, f64)| {
            spread(&Reading { of: of.to_vec(), value: *value, variance: *variance }, &rows)
        };
        Lesson { sound, of: of.to_vec(), readings: readings.iter().map(reading).collect() }
    }

    fn near(got: f64, want: f64) {
        assert!((got - want).abs() < 1e-9, "{got}, want {want}");
    }

    /// One number, runs that read it alike surely: usual formulas of the normal model with two levels. Source: A. Gelman et
    /// al., Bayesian Data Analysis, 3rd ed. (2013), hierarchical normal model (from memory).
    #[test]
    fn one_number_follows_the_closed_form() {
        let stays = 0.7;
        let read = [(1.1, 0.3), (0.4, 0.5), (2.0, 1.5)];
        let lessons: Vec<Lesson> = read
            .iter()
            .map(|(value, variance)| lesson(&[Kept::Offset], 1.0, &[(&[1.0], *value, *variance)]))
            .collect();
        let history = history(&lessons.iter().collect::<Vec<_>>(), [stays, 0.6, 0.5]);
        let (mut precision, mut weighted) = (1.0, 0.0);
        for (value, variance) in read {
            let spread = 1.0 - stays + variance;
            precision += stays / spread;
            weighted += stays.sqrt() * value / spread;
        }
        near(history.scores.mean[0], stays.sqrt() * weighted / precision);
        near(history.scores.covariance[0][0], stays / precision + 1.0 - stays);
        assert_eq!(history.told, [Kept::Offset]);
        // what nothing was told of stays by the standard curve
        near(history.scores.covariance[2][2], 1.0);
        near(history.scores.covariance[0][2], 0.0);
    }

    /// Runs that show only the sum of offset and potential: held against the conditional normal of all numbers at once, by
    /// solving the system of equations. Source: any text on the multivariate normal; common knowledge.
    #[test]
    fn sums_follow_the_conditional_normal_curve() {
        let stays = [0.7, 0.6, 0.5];
        let read = [(1.5, 0.2), (1.1, 0.4), (1.9, 0.2), (1.3, 0.1)];
        let both = [Kept::Offset, Kept::Potential];
        let lessons: Vec<Lesson> = read
            .iter()
            .map(|(value, variance)| lesson(&both, 1.0, &[(&[1.0, 0.8], *value, *variance)]))
            .collect();
        let history = history(&lessons.iter().collect::<Vec<_>>(), stays);
        // covariance of reading i with reading j, and of the next run's scores with each
        let of = [1.0, 0.0, 0.8];
        let kept: f64 = (0..3).map(|k| of[k] * of[k] * stays[k]).sum();
        let all: f64 = (0..3).map(|k| of[k] * of[k]).sum();
        let n = read.len();
        let matrix: Vec<Vec<f64>> =
            (0..n).map(|i| (0..n).map(|j| if i == j { all + read[i].1 } else { kept }).collect()).collect();
        let values: Vec<f64> = read.iter().map(|r| r.0).collect();
        let solved = solve(matrix.clone(), &values);
        for k in 0..3 {
            let with = of[k] * stays[k];
            near(history.scores.mean[k], with * solved.iter().sum::<f64>());
            let gone: f64 = solve(matrix.clone(), &vec![with; n]).iter().sum();
            for l in 0..3 {
                let before = f64::from(u8::from(k == l));
                near(history.scores.covariance[k][l], before - of[l] * stays[l] * gone);
            }
        }
        // what is known of both together is that they make up for each other
        assert!(history.scores.covariance[0][2] < -0.1);
    }

    /// Gauss's elimination.
    fn solve(mut a: Vec<Vec<f64>>, b: &[f64]) -> Vec<f64> {
        let n = b.len();
        let mut x = b.to_vec();
        for i in 0..n {
            for j in i + 1..n {
                let factor = a[j][i] / a[i][i];
                let above = a[i].clone();
                for (x, above) in a[j].iter_mut().zip(&above) {
                    *x -= factor * above;
                }
                x[j] -= factor * x[i];
            }
        }
        for i in (0..n).rev() {
            let done: f64 = (i + 1..n).map(|k| a[i][k] * x[k]).sum();
            x[i] = (x[i] - done) / a[i][i];
        }
        x
    }

    /// Runs without end that show the sum of pore size and law tell no more of the pore than one that shows it exactly: its
    /// own variance after a sum of two standard numbers, one of which stays in doubt. Source: the conditional normal curve,
    /// any text; common knowledge.
    #[test]
    fn what_all_runs_have_in_common_is_not_taken_for_the_furnaces_own() {
        let run = lesson(&[Kept::Lag], 1.0, &[(&[0.8, 0.6, 0.0, 0.0], 2.0, 0.3)]);
        let stays = [0.7, 1.0, 0.5];
        let told = |count: usize| history(&vec![&run; count], stays).scores;
        let (four, many) = (told(4), told(10_000));
        assert!(four.mean[1] < many.mean[1] && four.covariance[1][1] > many.covariance[1][1]);
        assert!((many.mean[1] - 0.8 * 2.0).abs() < 1e-3, "{}", many.mean[1]);
        assert!((many.covariance[1][1] - 0.36).abs() < 1e-3, "{}", many.covariance[1][1]);
    }

    #[test]
    fn a_run_with_a_fault_teaches_less_and_one_that_surely_had_one_nothing() {
        let by = |sound| history(&[&lesson(&[Kept::Lag], sound, &[(&[1.0], 2.0, 0.2)])], [0.7; 3]).scores;
        assert!(by(1.0).mean[1] > by(0.3).mean[1] && by(0.3).mean[1] > 0.0);
        assert!(by(1.0).covariance[1][1] < by(0.3).covariance[1][1]);
        assert_eq!(by(0.0).mean[1], 0.0);
        near(by(0.0).covariance[1][1], 1.0);
        assert_eq!(history(&[], [0.7; 3]).told, []);
    }

    #[test]
    fn names_of_furnaces_are_folded() {
        assert_eq!(folded(" Small  Kiln\t"), folded("small kiln"));
        assert_ne!(folded("small kiln"), folded("smallkiln"));
    }
}
