//! Known steels: pieces whose carbon is known, as they sparked on this grinder and before this camera.

mod known_steel;
mod measured;
mod rig;
mod seen;
mod session;

pub use known_steel::KnownSteel;
pub use measured::{Measured, MeasuredPhoto};
pub use rig::{RigError, rig_name};
pub use seen::{KnownPhoto, Seen};
pub use session::{Session, SessionError};
