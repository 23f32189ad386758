use super::predict::{PredictError, check_top, top_kelvin};
use super::reading::Value;
use super::{HeatPath, Inputs, Outcome, Physics, Reading, Run};
use crate::diffusion::{Fineness, Profile, Section};
use crate::soak::Timeline;
use crate::transport::NotConverged;
use crate::units::Depth;

/// Solves stories of one run: each a single value for everything that is not known exactly.
#[derive(Debug, Clone, Copy)]
pub struct Stories<'a> {
    run: &'a Run<'a>,
    physics: &'a Physics<'a>,
    path: HeatPath,
    fineness: Fineness,
}

/// One story with what it gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Story {
    /// What it takes for true.
    pub inputs: Inputs,
    /// The run as the thermometer would have seen it.
    pub timeline: Timeline,
    /// What comes of it.
    pub outcome: Outcome,
}

impl<'a> Stories<'a> {
    /// Stories of this run.
    pub fn of(run: &'a Run<'a>, physics: &'a Physics<'a>) -> Self {
        Self { run, physics, path: HeatPath::of(run), fineness: Fineness::DEFAULT }
    }

    /// The same, solved as fast as stories by the thousand need it.
    #[must_use]
    pub fn drawn(self) -> Self {
        Self { fineness: Fineness::DRAWN, path: self.path.drawn(), ..self }
    }

    /// How finely they are solved.
    pub fn fineness(&self) -> Fineness {
        self.fineness
    }

    /// The run.
    pub fn run(&self) -> &'a Run<'a> {
        self.run
    }

    /// The tables.
    pub(super) fn physics(&self) -> &'a Physics<'a> {
        self.physics
    }

    /// How the thermometer's temperature becomes the steel's.
    pub fn path(&self) -> HeatPath {
        self.path
    }

    /// Solves one.
    pub fn solve(&self, inputs: &Inputs) -> Result<Story, PredictError> {
        self.solve_after(None, inputs)
    }

    /// Solves one for steel that another soak went through `before`.
    pub fn solve_after(&self, before: Option<&Outcome>, inputs: &Inputs) -> Result<Story, PredictError> {
        let timeline = Timeline::new(self.run.record, &inputs.times)?;
        let steel = self.path.steel(&timeline, self.run, inputs)?;
        check_top(&steel, self.physics)?;
        let outcome = Outcome::solve(before, steel, self.run, (self.physics, self.fineness), inputs)?;
        Ok(Story { inputs: *inputs, timeline, outcome })
    }

    /// The same; one that would melt the case is solved as hot as a case can be. Whether that was so comes with it.
    pub(super) fn solve_capped(
        &self,
        before: Option<&Outcome>,
        inputs: &Inputs,
    ) -> Result<(Story, bool), PredictError> {
        match self.solve_after(before, inputs) {
            Err(PredictError::AboveEutectic { got, limit }) => {
                // a story at the edge of what is possible goes as far as the limit
                let temperature_shift = inputs.temperature_shift - (got - limit) - 0.1;
                let cooler = Inputs { temperature_shift, ..*inputs };
                self.solve_after(before, &cooler).map(|story| (story, true))
            }
            told => told.map(|story| (story, false)),
        }
    }

    /// Solves many, in their order, on as many cores as there are.
    pub fn solve_all(&self, inputs: &[Inputs]) -> Vec<Result<Story, PredictError>> {
        let each: Vec<_> = inputs.iter().map(|inputs| (None, *inputs)).collect();
        self.solve_all_after(&each)
    }

    /// The same for steel that went through another soak before, each in its own story.
    pub fn solve_all_after(&self, each: &[(Option<&Outcome>, Inputs)]) -> Vec<Result<Story, PredictError>> {
        on_all_cores(each.len(), |i| self.solve_after(each[i].0, &each[i].1))
    }

    /// Solves many on as many cores as there are, and keeps what `look` makes of each. `None`: no story comes of it.
    pub fn look_at_all<T: Send>(
        &self,
        inputs: &[Inputs],
        look: impl Fn(&Story) -> T + Sync,
    ) -> Vec<Option<T>> {
        on_all_cores(inputs.len(), |i| {
            self.solve_capped(None, &inputs[i]).ok().map(|(story, _)| look(&story))
        })
    }

    /// The piece in a plate of its own where it is so thick, after all heat of a story, packed from both faces.
    /// What another soak left in it before is not followed.
    pub fn plate(&self, story: &Story, thickness: Depth) -> Result<Profile, NotConverged> {
        story.outcome.piece_in(Section::both_faces(thickness), self.physics, &story.inputs)
    }

    /// A piece so thick that nothing is felt from its other side.
    pub fn thick(&self, story: &Story) -> Result<Profile, NotConverged> {
        story.outcome.piece_in(Section::Thick, self.physics, &story.inputs)
    }

    /// ∫ D dt of a story in the pack at 0.5 %C, m².
    pub fn spread(&self, story: &Story) -> f64 {
        let form = &self.physics.law.form.value;
        let steady = story.outcome.equivalent.as_ref();
        steady.map_or(0.0, |e| story.inputs.law_factor * e.diffusivity(form) * e.seconds)
    }

    /// The highest potential that the steel met, wt%.
    pub fn potential(&self, story: &Story) -> f64 {
        let a1 = self.physics.phase.a1.value.kelvin();
        let kelvin = top_kelvin(story.outcome.steel.iter()).max(a1);
        story.inputs.potential.at(kelvin, self.physics.phase)
    }

    /// A reading after stage number `stage`, with `ground` taken off while sparking. `None`: it does not
    /// apply to this run.
    pub fn read(&self, story: &Story, which: Reading, stage: usize, ground: Depth) -> Option<Value> {
        story.outcome.reading(which, stage, self.run, self.physics, &story.inputs, ground)
    }
}

/// Makes so many, in their order, on as many cores as there are.
pub(super) fn on_all_cores<T: Send>(count: usize, make: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    if cores == 1 || count < cores {
        return (0..count).map(make).collect();
    }
    // every core takes each so-manieth: neighbours cost alike
    let share = |first: usize| -> Vec<T> { (first..count).step_by(cores).map(&make).collect() };
    let mut parts: Vec<_> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..cores)
            .map(|first| {
                scope.spawn({
                    let share = &share;
                    move || share(first)
                })
            })
            .collect();
        // a thread that died had a fault that a second try shows on this one
        threads
            .into_iter()
            .enumerate()
            .map(|(i, t)| t.join().unwrap_or_else(|_| share(i)).into_iter())
            .collect()
    });
    (0..count).filter_map(|i| parts[i % cores].next()).collect()
}
