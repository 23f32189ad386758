//! Carbon moving through austenite: laws, surface exchange, profiles.

mod law;

pub use law::{Form, Law, Purpose};
