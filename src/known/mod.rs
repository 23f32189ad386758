//! Known steels: pieces whose carbon is known, as they sparked on this rig, and what they make of the published trend.

mod carbon_density;
mod correction;
mod line;
mod personal;
mod piece;
mod prior;
mod scores;
mod shown;
mod spark_measure;
mod trend;

pub use carbon_density::CarbonDensity;
pub use correction::{Beside, Correction, OnDay};
pub use line::Line;
pub use personal::Personal;
pub use piece::Piece;
pub use scores::{STATED, Scores, bands_with, votes_to};
pub use shown::{By, Reading, Shown};
pub use spark_measure::SparkMeasure;
pub use trend::{Trend, TrendRows};
