use super::{KnownPlace, Typed};
use crate::files::problem::Problem;
use crate::fracture::FractureDescription;
use crate::prediction::{Aim, ModelChoice, Run};
use crate::soak::{Pack, SoakRecord};
use crate::spark::SparkObservation;
use crate::steel::{Coupon, Faces, Piece, Shape, Stock};
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
    pub spark: Option<SparkObservation>,
    /// The known steels that sparks are read by.
    pub known: KnownPlace,
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

/// A run that is only planned, as a sheet describes it: its soak may be missing.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedSheet {
    /// The untreated steel; without an answer the table's unknown steel.
    pub stock: Stock,
    /// The coupon.
    pub coupon: Option<Coupon>,
    /// The piece.
    pub piece: Option<Piece>,
    /// Container and compound; without an answer the table's unknown compound.
    pub pack: Pack,
    /// The heat, if it is told: as it is meant to be, or of the run before.
    pub soak: Option<SoakRecord>,
    /// The prediction's model set by hand.
    pub model: ModelChoice,
    /// What is wanted.
    pub aim: Option<Aim>,
    /// What is odd in the sheet but does not stop the reading.
    pub warnings: Vec<Problem>,
}

/// A coupon of which nothing is known: it counts as thick.
const UNKNOWN_COUPON: Coupon = Coupon {
    shape: Shape::Flat { thickness: None, faces: Faces::Both },
    length: None,
    width: None,
    mass_before: None,
    mass_after: None,
};

impl RunSheet {
    /// What a prediction needs to know of this run.
    pub fn run(&self) -> Run<'_> {
        Run {
            record: &self.soak,
            pack: &self.pack,
            stock: &self.stock,
            coupon: self.coupon.as_ref().unwrap_or(&UNKNOWN_COUPON),
            piece: self.piece.as_ref(),
            ground: self.spark.as_ref().and_then(|s| s.ground_depth?.measured()),
            choice: &self.model,
            then: None,
            history: None,
        }
    }
}
