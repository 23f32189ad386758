//! What the steel is: grades, phase limits of iron-carbon, the coupon and the piece.

mod band;
mod grade;
mod iron_carbon;
mod phase;
mod quench;
mod section;
mod wedge;

pub use band::CarbonBand;
pub use grade::{Grade, Stock};
pub use iron_carbon::{GAS_CONSTANT_J, mole_ratio, wt_percent};
pub use phase::{PhaseLimits, Quadratic};
pub use quench::QuenchMedium;
pub use section::{Bevels, Coupon, CouponPlace, Faces, Piece, STEEL_DENSITY_KG_M3, Shape};
pub use wedge::Wedge;
