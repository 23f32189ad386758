//! The soak for a depth or an edge that is wanted: how long, how surely, what to watch.
//!
//! A plan is a run that has not been yet: the same stories and doubts as a prediction, asked the other way
//! round. In each story the hold that reaches what is wanted is searched for with the solver itself; the
//! holds of all stories together tell how likely any hold is to be long enough.

mod afterwards;
mod clock;
mod course;
mod edge_section;
mod error;
mod hardened;
mod intent;
mod limit;
mod needed;
mod onward;
mod remedy;
mod rules;
mod search;
mod soak_plan;
mod spy;
mod target;
mod treated;
mod witness_pair;

pub use afterwards::{Afterwards, Cased, HeatRules};
pub use clock::Clock;
pub use course::{Begins, LastHeat, Start};
pub use edge_section::{Cut, EdgeSection, Station};
pub use error::PlanError;
pub use hardened::{FileBites, HardEnd, Hardened};
pub use intent::Intent;
pub use limit::Limit;
pub use needed::Needed;
pub use onward::{Onward, SecondSoak, as_seen};
pub use remedy::Remedy;
pub use rules::PlanRules;
pub use soak_plan::{Row, SoakPlan, Tables, plan};
pub use spy::Spy;
pub use target::Target;
pub use treated::{Heat, Stage};
pub use witness_pair::WitnessPair;
