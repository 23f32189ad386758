//! Draws spark streams from a physical model, with exact truth. It shares no constant and no code with
//! what measures them.
//!
//! ```text
//! seed -> View (rig, steel, camera, light, shutter)
//!      -> scene (backdrop, machine, what stands in front)
//!      -> Stream: particles -> flights -> bursts -> rays            (metres, seconds, kelvin)
//!      -> Recorder: each light's own streak, and their sum          (pixels, linear light)
//!      -> Judge: what stands above the noise, and apart             (the truth)
//!      -> Sensor: bloom, noise, colour, tone -> Format: a file
//! ```

mod camera;
mod judge;
mod physics;
mod picture;
mod rig;
mod scene;
mod smith;
mod streaks;
mod stream;
mod truth;
mod unusable;
mod view;

use super::drawing::{dice, exif, frame, sensor, store};

pub(crate) use physics::{DROP_DENSITY, drag_coefficient, drag_rate, glow, reynolds};
pub(crate) use picture::{Picture, draw};
pub(crate) use smith::{Piece, Smith};
pub(crate) use truth::{Burst, Carrier, Truth};
pub(crate) use unusable::{Kind, draw_unusable};
