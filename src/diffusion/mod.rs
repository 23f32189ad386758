//! Carbon moving through austenite: laws, surface exchange, profiles.
//!
//! C in wt% is treated as proportional to mass per volume; nothing moves below A1; between A1 and
//! A3 the diffusivity of austenite is used; no carbide layer.

mod averaged;
mod equivalent;
mod exchange;
mod law;
mod march;
mod plan;
mod profile;
mod scale;
mod section;
mod stretch;

pub use equivalent::{Equivalent, equivalent};
pub use exchange::{Direction, Exchange, Potential};
pub use law::{Form, Law, Purpose};
pub use march::{Case, Fineness, Leg, Solution, march, march_on};
pub use profile::Profile;
pub use scale::{Scaled, Scaling};
pub use section::Section;
