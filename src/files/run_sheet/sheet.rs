use super::Typed;
use crate::files::problem::Problem;
use crate::fracture::FractureDescription;
use crate::prediction::{Aim, ModelChoice};
use crate::soak::{Pack, SoakRecord};
use crate::spark::SparkDescription;
use crate::steel::{Coupon, Piece, Stock};
use crate::witness::WitnessObservation;

/// A run as its sheet describes it. `None` and empty lists mean "not said", never "none seen".
#[derive(Debug, Clone, PartialEq)]
pub struct RunSheet {
    /// The untreated steel; without an answer the table's unknown steel.
    pub stock: Stock,
    /// The coupon.
    pub coupon: Option<Coupon>,
    /// The piece.
    pub piece: Option<Piece>,
    /// Container and compound; without an answer the table's unknown compound.
    pub pack: Pack,
    /// The heat.
    pub soak: SoakRecord,
    /// The prediction's model set by hand.
    pub model: ModelChoice,
    /// Sparks.
    pub spark: Option<SparkDescription>,
    /// Fracture faces.
    pub fracture: Option<FractureDescription>,
    /// File, skin and magnet.
    pub witness: Option<WitnessObservation>,
    /// What is wanted.
    pub aim: Option<Aim>,
    /// Every value as it was typed.
    pub typed: Typed,
    /// What is odd in the sheet or in its log but does not stop the reading.
    pub warnings: Vec<Problem>,
}
