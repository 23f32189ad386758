use super::{Chances, Check, Eyes};
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Depth, Temperature, Time};

/// Why a coupon may show something else than its soak should have given: `models/causes.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct Causes {
    /// Weight of a run without fault; those of the causes stand against it.
    pub usual: Sourced<f64>,
    /// How often a run without fault shows each sign.
    pub chances: Sourced<Chances>,
    /// How well eye, file and balance tell.
    pub eyes: Eyes,
    /// The causes.
    pub list: Vec<Cause>,
    /// Checks that tell them apart.
    pub checks: Vec<Check>,
}

impl Causes {
    /// How often each sign is seen with a cause, by its index; `None`: in a run without fault.
    pub(super) fn chances_with(&self, cause: Option<usize>) -> &Chances {
        cause.map_or(&self.chances.value, |i| &self.list[i].chances)
    }
}

/// One cause, as changes of the simulator's inputs.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// Short name for data.
    pub key: String,
    /// What it is, in words.
    pub name: String,
    /// How it may have been; each as likely as the others.
    pub moves: Vec<Move>,
    /// Weight against a run without fault.
    pub weight: Sourced<f64>,
    /// How often each sign is seen if this is the cause.
    pub chances: Chances,
    /// What tells it apart from the others.
    pub tells_apart: String,
    /// What to try.
    pub next: String,
}

/// One change of the best story. `None`: that input stays as told.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Move {
    /// Added to the steel's temperature, K.
    pub temperature_kelvin: Option<f64>,
    /// How late the steel got hot, as a share of its time at heat, 0 to 1.
    pub late_share: Option<f64>,
    /// Factor on all times of the record.
    pub time_factor: Option<f64>,
    /// Factor on the potential of the pack.
    pub potential_factor: Option<f64>,
    /// Factor on the CO2 of the pack.
    pub co2_factor: Option<f64>,
    /// Factor on the transfer coefficient.
    pub transfer_factor: Option<f64>,
    /// The surface follows Acm down while the pack cools.
    pub follows_acm: bool,
    /// A heat in open air that nobody told of: how long, how hot.
    pub open_air: Option<(Time, Temperature)>,
    /// Carbon of the stock.
    pub core: Option<CarbonPercent>,
    /// Thickness of a coupon whose size was not told.
    pub thickness: Option<Depth>,
    /// Carbon at the edge of the rim that is seen.
    pub visible_edge: Option<CarbonPercent>,
    /// Share of martensite in the quenched case.
    pub martensite: Option<f64>,
    /// Heat that the coupon was quenched from.
    pub quench_heat: Option<Temperature>,
    /// Ground off before the sparks that were described.
    pub ground: Option<Depth>,
    /// Sparks read this much too rich, wt%.
    pub spark_bias: Option<f64>,
    /// What passes for a case on the face.
    pub face: Option<Mistaken>,
}

/// What a face shows that is no edge of a case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mistaken {
    /// Case and core both hardened: hardly any border.
    NoBorder,
    /// A lip or a hard shell, whatever the case.
    Lip,
}

impl Move {
    /// Whether the simulator must be asked again about this run, the same coupon in it.
    pub(super) fn asks_the_run(&self) -> bool {
        self.temperature_kelvin.is_some()
            || self.late_share.is_some()
            || self.time_factor.is_some()
            || self.potential_factor.is_some()
            || self.co2_factor.is_some()
            || self.transfer_factor.is_some()
            || self.follows_acm
            || self.open_air.is_some()
            || self.core.is_some()
    }

    /// Whether carbon must be solved for anew: for another run, or another coupon in it.
    pub(super) fn asks_the_solver(&self) -> bool {
        self.asks_the_run() || self.thickness.is_some()
    }
}
