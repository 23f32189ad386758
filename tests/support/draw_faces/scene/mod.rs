//! What is round a face: what it lies on, its own side walls, and what holds it.

mod ground;
mod wall;

pub(crate) use ground::{Ground, Stuff};
pub(crate) use wall::Wall;
