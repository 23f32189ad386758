//! Known steels: pieces whose carbon is known, as they sparked on this rig, and what they make of the published trend.

mod carbon_density;
mod correction;
mod known_steel;
mod line;
mod measured;
mod personal;
mod piece;
mod planned;
mod prior;
mod rig;
mod rig_pieces;
mod scores;
mod seen;
mod session;
mod shown;
mod spark_measure;
mod trend;

pub use carbon_density::CarbonDensity;
pub use correction::{Beside, Correction, OnDay};
pub use known_steel::KnownSteel;
pub use line::Line;
pub use measured::{Measured, MeasuredPhoto};
pub use personal::Personal;
pub use piece::Piece;
pub use planned::Planned;
pub use rig::{RigError, rig_name};
pub use rig_pieces::{RigPieces, UnusedRecord};
pub use scores::{STATED, Scores, bands_with, votes_to};
pub use seen::{KnownPhoto, Seen};
pub use session::{Session, SessionError};
pub use shown::{By, Exposures, Reading, Shown};
pub use spark_measure::SparkMeasure;
pub use trend::{Trend, TrendRows};
