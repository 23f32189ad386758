use crate::reference::faults::believed::Believed;
use crate::reference::faults::draw::Draw;
use crate::reference::faults::looked::read;
use crate::support::models;
use snapspark::files::RunSheet;
use snapspark::prediction::{Inputs, Physics, Prediction, Run, Story, predict};
use snapspark::soak::{Leg, StageKind};
use std::ops::Range;
use std::thread;

/// A run sheet drawn as a smith may write it, and what is predicted of it.
pub(super) struct DrawnRun<'a> {
    /// Plain pseudo-random numbers: none of the points that the prediction is made from.
    pub(super) draw: &'a mut Draw,
    pub(super) believed: &'a Believed,
    pub(super) sheet: &'a RunSheet,
    pub(super) run: &'a Run<'a>,
    pub(super) physics: &'a Physics<'a>,
    pub(super) prediction: &'a Prediction,
}

/// A brass that melts within 5 K, and the middle of those, K (`models/witnesses.toml`: 899 to 904 °C).
const BRASS: &str = "C28000";
const BRASS_MELTS_K: f64 = 1174.65;

/// Smallest coordinate of a truth: 0 is no number of a normal curve.
const LEAST: f64 = 1e-12;

impl DrawnRun<'_> {
    /// Looks at the run of a seed; `draws` stories of it are drawn, if any.
    pub(super) fn look<T>(seed: u64, draws: Option<usize>, look: impl FnOnce(DrawnRun<'_>) -> T) -> T {
        let mut draw = Draw::seeded(seed);
        let mut look = Some(look);
        // a sheet whose steel would melt is no run
        for _ in 0..100 {
            let believed = Believed::draw(&mut draw, None);
            let looked = DrawnRun::told((&mut draw, &believed), &believed.text(None), draws, |drawn| {
                look.take().map(|look| look(drawn))
            });
            if let Some(looked) = looked.flatten() {
                return looked;
            }
        }
        panic!("no sheet of seed {seed} has a prediction");
    }

    /// Looks at the run that this text tells. `None`: it has no prediction.
    fn told<T>(
        (draw, believed): (&mut Draw, &Believed),
        text: &str,
        draws: Option<usize>,
        look: impl FnOnce(DrawnRun<'_>) -> T,
    ) -> Option<T> {
        let sheet = read(text);
        let physics = models().physics(None).unwrap();
        let run = sheet.run();
        let mut prediction = predict(&run, &physics).ok()?;
        if let Some(count) = draws {
            prediction = prediction.drawn(&run, &physics, count);
        }
        let (run, physics) = (&run, &physics);
        Some(look(DrawnRun { draw, believed, sheet: &sheet, run, physics, prediction: &prediction }))
    }

    /// Looks at the same run with a piece of yellow brass beside the steel, which melted or kept its shape. `None`: the
    /// thermometer and the brass exclude each other so far that nothing is predicted.
    pub(super) fn with_brass<T>(
        &mut self,
        melted: bool,
        draws: usize,
        look: impl FnOnce(DrawnRun<'_>) -> T,
    ) -> Option<T> {
        let text = self.believed.text(None)
            + &format!(
                "[[soak.witness]]\nmetal = \"{BRASS}\"\nmelted = {melted}\nsat = \"beside the steel\"\n"
            );
        DrawnRun::told((self.draw, self.believed), &text, Some(draws), look)
    }

    /// So many truths of the run's own prior.
    pub(super) fn truths(&mut self, count: usize) -> Vec<Inputs> {
        let prior = &self.prediction.prior;
        let unknown = prior.doubts().count();
        let mut point = || (0..unknown).map(|_| self.draw.unit().max(LEAST)).collect::<Vec<f64>>();
        (0..count).map(|_| prior.story(&point())).collect()
    }
}

/// Whether that brass melts in a story.
pub(super) fn melts_brass(story: &Story) -> bool {
    let in_pack = |leg: &&Leg| matches!(leg.stage.kind, StageKind::Soak | StageKind::PackCool);
    let mut points = story.outcome.steel.iter().filter(in_pack).flat_map(|leg| &leg.points);
    points.any(|point| point.1 >= BRASS_MELTS_K)
}

/// What `look` makes of each seed, in their order, on as many cores as there are.
pub(super) fn each_seed<T: Send>(seeds: Range<u64>, look: impl Fn(u64) -> T + Sync) -> Vec<T> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let mut made: Vec<(u64, T)> = thread::scope(|scope| {
        let share = |first| {
            let (seeds, look) = (seeds.clone(), &look);
            scope.spawn(move || {
                seeds.skip(first).step_by(cores).map(|seed| (seed, look(seed))).collect::<Vec<_>>()
            })
        };
        let threads: Vec<_> = (0..cores).map(share).collect();
        threads.into_iter().flat_map(|thread| thread.join().unwrap()).collect()
    });
    made.sort_by_key(|(seed, _)| *seed);
    made.into_iter().map(|(_, made)| made).collect()
}
