//! One-dimensional transport by diffusion in conservative finite volumes: the same kernel moves
//! carbon through austenite and heat through a packed container.
//!
//! Nodes sit at `x[0] = 0` (the surface that exchanges) to `x[n-1]` (sealed: mid-plane, centre,
//! or far face). Each node owns the volume half-way to its neighbours. All volumes and areas are
//! per unit area of the exchanging surface.

mod kernel;
mod mesh;

pub use kernel::{Boundary, Conduction, Kernel, NotConverged};
pub use mesh::Mesh;
