use crate::steel::QuenchMedium;
use crate::units::{Temperature, Time};

/// One line of a soak told in steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// "20 min to 925C": straight to a temperature, in the pack.
    HeatTo {
        /// Where to.
        to: Temperature,
        /// How long it took.
        over: Time,
    },
    /// "hold 75 min" or "hold 75 min at 925C", in the pack.
    Hold {
        /// How long.
        time: Time,
        /// At what; without it, at the temperature reached.
        at: Option<Temperature>,
    },
    /// "cool in pack 2 h" or "cool in pack 2 h to 500C".
    CoolInPack {
        /// How long, if known.
        time: Option<Time>,
        /// The temperature after that time; without it the pack is cold by then.
        to: Option<Temperature>,
    },
    /// "open hot": the pack is opened at heat and the steel cools in air.
    OpenHot,
    /// "foil 10 min at 850C": a later heat without exchange.
    SealedHeat {
        /// How long at heat.
        time: Time,
        /// At what.
        at: Temperature,
    },
    /// "air 5 min at 900C": a later heat in open air.
    AirHeat {
        /// How long at heat.
        time: Time,
        /// At what.
        at: Temperature,
    },
    /// "quench in oil": ends the heat at once.
    Quench {
        /// In what, if said.
        medium: Option<QuenchMedium>,
    },
}
