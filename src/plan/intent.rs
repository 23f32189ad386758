use super::Target;
use crate::prediction::{History, ModelChoice, Run};
use crate::soak::{Cooled, HeatEvidence, Hold, Pack, SoakRecord, Thermometer};
use crate::steel::{Coupon, Piece, Stock, Wedge};
use crate::units::{CarbonPercent, Hrc, Interval, Temperature, Time};

/// A soak that is to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Intent {
    /// The steel before.
    pub stock: Stock,
    /// Container and compound.
    pub pack: Pack,
    /// The section that the depth is wanted in.
    pub coupon: Coupon,
    /// The coupon that is to be weighed, if its surface is known.
    pub weighed: Option<Coupon>,
    /// The piece, if anything is known of it beside its section.
    pub piece: Option<Piece>,
    /// The shape of its edge, if told.
    pub wedge: Option<Wedge>,
    /// The thermometer that the heat is held by.
    pub thermometer: Thermometer,
    /// What it is to read.
    pub temperature: Temperature,
    /// From lighting to heat, if known.
    pub heat_up: Option<Interval<Time>>,
    /// The model set by hand.
    pub choice: ModelChoice,
    /// What is wanted.
    pub target: Target,
    /// Whether a first soak is told by what was seen of its coupon, not by the soak alone.
    pub first_seen: bool,
    /// Hardness after the usual temper that grinding must leave, and the carbon that it takes.
    pub hardness: Option<(Hrc, CarbonPercent)>,
    /// What earlier runs of the same furnace and container tell.
    pub history: Option<History>,
}

impl Intent {
    /// The record of a soak that reaches `temperature` and is not held yet.
    pub(super) fn record(&self, temperature: Temperature) -> SoakRecord {
        SoakRecord {
            evidence: HeatEvidence::TimeAtHeat {
                temperature: Some(Interval::exact(temperature)),
                time: Interval::exact(Time::ZERO),
                heat_up: self.heat_up,
            },
            thermometer: self.thermometer.clone(),
            witnesses: Vec::new(),
            cooled: Cooled::ClosedPack,
            furnace: None,
        }
    }

    /// The run with this record, and this hold after it.
    pub(super) fn run<'a>(&'a self, record: &'a SoakRecord, hold: Hold) -> Run<'a> {
        Run {
            record,
            pack: &self.pack,
            stock: &self.stock,
            coupon: &self.coupon,
            piece: self.piece.as_ref(),
            ground: None,
            choice: &self.choice,
            then: Some(hold),
            history: self.history.as_ref(),
        }
    }
}
