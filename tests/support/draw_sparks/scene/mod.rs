//! All that is not spark: what lies behind, the machine, and what stands in front.

mod backdrop;
mod front;
mod machine;
mod shape;
mod texture;

pub(crate) use backdrop::{Backdrop, backdrop};
pub(crate) use front::stand_in_front;
pub(crate) use machine::MachineView;
pub(crate) use shape::{P, Paint, Shape};
pub(crate) use texture::Texture;
