//! Draws broken faces of case-hardened coupons, with exact truth. It shares no constant and no code with what
//! measures them.
//!
//! ```text
//! seed -> Section, View (camera, light, surroundings, sensor)
//!      -> Coupon: Outline, Rim (depth round the perimeter), Finish of case, core, lip, nick, Stains     (mm)
//!      -> survey: the truth, from the same formulas that are drawn                                       (mm, px)
//!      -> Relief: heights and patches -> Light: shade, shadows, glints                                   (linear light)
//!      -> Layers: ground, walls, face -> Sensor: noise, colour, tone -> JPEG
//! ```

mod camera;
mod coupon;
mod finish;
mod kind;
mod layer;
mod light;
mod noise;
mod outline;
mod picture;
mod recipe;
mod relief;
mod rim;
mod scene;
mod section;
mod shot;
mod stain;
mod surroundings;
mod survey;
mod truth;
mod unusable;
mod view;

pub(crate) use kind::{Class, Kind};
pub(crate) use picture::{Order, Picture, Take};
pub(crate) use recipe::grain_mm;
pub(crate) use truth::{Face, Sample, Side, Truth};
pub(crate) use unusable::{Unusable, draw_unusable};
