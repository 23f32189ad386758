//! What is round a face: what it lies on, its own side walls, what holds it, a ruler beside it.

mod ground;
mod holder;
mod ruler;
mod wall;

pub(crate) use ground::{Ground, Stuff};
pub(crate) use holder::{Grip, Holder};
pub(crate) use ruler::Ruler;
pub(crate) use wall::Wall;
