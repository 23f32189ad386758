//! What the logged soak should have given, as profiles and depths with intervals.
//!
//! One [`Inputs`] is one story of the run: how hot, how late the steel, how rich the pack. The
//! best story and its neighbours, one doubt moved at a time, are solved; an interval is the root
//! sum of squares of what each doubt moves.

mod aim;
mod choice;
mod conditions;
mod criteria;
mod distribution;
mod doubt;
mod drawn;
mod heat;
mod history;
mod inputs;
mod learned;
mod marginal;
mod note;
mod outcome;
mod predict;
mod prior;
mod priors;
mod reading;
mod story;

pub use aim::{Aim, DepthCriterion, Use};
pub use choice::{ModelChoice, PotentialChoice, SurfaceChoice};
pub use conditions::Conditions;
pub use criteria::Criteria;
pub use distribution::{Distribution, Share};
pub use doubt::Doubt;
pub use drawn::{Draws, SEED};
pub use heat::HeatPath;
pub use history::{Common, History, Kept};
pub use inputs::{Inputs, OpenAir, Physics, Run};
pub use marginal::Marginal;
pub use note::Note;
pub use outcome::Outcome;
pub use predict::{PredictError, Prediction, StagePrediction, predict, predict_after};
pub use prior::Prior;
pub use priors::Priors;
pub use reading::{Effect, Reading, Spread, Through, Value};
pub use story::{Stories, Story};
