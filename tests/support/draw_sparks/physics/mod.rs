//! What a spark does: drag, heat, light, and bursts by carbon.

mod burst;
mod carbon;
mod drag;
mod flight;
mod glow;

pub(crate) use burst::{Bursting, Event, Role, Spark, Thrower};
pub(crate) use carbon::Steel;
pub(crate) use drag::{DROP_DENSITY, drag_coefficient, drag_rate, reynolds};
pub(crate) use flight::{Moment, Particle, Vec3, length};
pub(crate) use glow::{GlowTable, glow};
