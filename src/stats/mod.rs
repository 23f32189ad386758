//! Counts and lengths with the doubt that is in them: few of them, several groups of them, ends not seen.

mod additive;
mod bounds;
mod conformal;
mod joint_normal;
mod logistic;
mod normal;
mod pool;
mod product_limit;
mod quantile;
mod weighted;

pub use additive::Additive;
pub use bounds::{rate_bounds, wilson};
pub use conformal::conformal_level;
pub use joint_normal::{JointNormal, Reading};
pub use logistic::Logistic;
pub use normal::{normal_below, normal_place};
pub use pool::{Group, Pooled, pool};
pub use product_limit::{ProductLimit, SeenLength};
pub use quantile::quantile;
pub use weighted::{effective_count, weighted_quantiles};

/// Standard deviations from the middle of a normal curve to either end of what holds nine in ten.
pub const NINE_IN_TEN: f64 = 1.644_853_626_951_472_7;
