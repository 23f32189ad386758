//! Physical quantities as types of their own, and how people write them.
//!
//! Inside, every value is SI (kelvin, metre, second, kilogram) except carbon, which is in
//! weight percent as everywhere in the trade. A number gets in and out only through a
//! constructor or accessor that names its unit.

mod carbon;
mod hardness;
mod interval;
mod length;
mod mass;
mod out_of_range;
mod parse;
mod rates;
mod share;
mod speed;
mod temperature;
mod time;

pub use carbon::CarbonPercent;
pub use hardness::{Hrc, Hv};
pub use interval::Interval;
pub use length::Depth;
pub use mass::Mass;
pub use out_of_range::OutOfRange;
pub use parse::{ParseError, Quantity, Unit, Written, last_digit, parse, parse_interval};
pub use rates::{Diffusivity, TransferCoefficient};
pub use share::Share;
pub use speed::{Speed, TurningSpeed};
pub use temperature::{Temperature, TemperatureStep};
pub use time::Time;
