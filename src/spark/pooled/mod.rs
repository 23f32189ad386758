//! What several photos of one stream say together: frames of one touch are one group, touches differ.

mod bursts;
mod contrast;
mod figures;
mod flight;
mod frame;
mod lengths;
mod light;
mod measures;
mod photo_note;
mod photo_reading;
mod photographed;
mod shutter;
mod tally;
mod touches;
mod trend;

pub use contrast::SparkContrast;
pub use figures::StreamFigures;
pub use frame::{Frame, Series};
pub use light::LightFigure;
pub use photo_note::PhotoNote;
pub use photo_reading::PhotoReading;
pub use photographed::{PhotoConditions, PhotoPiece, Photographed, PhotographedSparks, pool_photos};
pub use shutter::ShutterJudged;
pub use touches::Grouping;
pub use trend::Trend;
