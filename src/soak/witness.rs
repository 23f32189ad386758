use crate::sources::Sourced;
use crate::units::{Interval, Temperature};

/// A metal of known melting range.
#[derive(Debug, Clone, PartialEq)]
pub struct WitnessMetal {
    /// Name used in run sheets.
    pub name: String,
    /// Other words for it.
    pub aliases: Vec<String>,
    /// Where melting starts: a melted piece was at least this hot. Lowest to highest possible.
    pub solidus: Sourced<Interval<Temperature>>,
    /// Where all is liquid: a piece that kept its shape was below this. Lowest to highest possible.
    pub liquidus: Sourced<Interval<Temperature>>,
    /// What a smith should know about it; may be empty.
    pub note: String,
    /// Whether no plan should ask for it: leaded, or bad for pack or steel, or dear.
    pub keep_out: bool,
}

/// A heat colour word with the temperatures that published tables give it.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatColour {
    /// The word.
    pub word: String,
    /// Lowest, middle, highest.
    pub temperature: Sourced<Interval<Temperature>>,
}

/// Where a witness sat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WitnessPlace {
    /// Beside the steel, in the pack.
    BesideSteel,
    /// At the wall, inside or outside.
    AtWall,
}

/// One witness after the soak.
#[derive(Debug, Clone, PartialEq)]
pub struct WitnessReading {
    /// The metal.
    pub metal: WitnessMetal,
    /// Whether it melted.
    pub melted: bool,
    /// Where it sat.
    pub place: WitnessPlace,
}

/// What witnesses say about the highest temperature.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bracket {
    /// At least this hot.
    pub at_least: Option<Temperature>,
    /// Less hot than this.
    pub below: Option<Temperature>,
}

impl Bracket {
    /// The bracket that `readings` at `place` give for the top temperature there.
    pub fn of(readings: &[WitnessReading], place: WitnessPlace) -> Self {
        let at = || readings.iter().filter(|r| r.place == place);
        let lows = at().filter(|r| r.melted).map(|r| r.metal.solidus.value.low());
        let highs = at().filter(|r| !r.melted).map(|r| r.metal.liquidus.value.high());
        Self {
            at_least: lows.reduce(|a, b| if b > a { b } else { a }),
            below: highs.reduce(|a, b| if b < a { b } else { a }),
        }
    }

    /// Both brackets at once.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let pick = |a: Option<Temperature>, b: Option<Temperature>, higher: bool| match (a, b) {
            (Some(a), Some(b)) => Some(if (a > b) == higher { a } else { b }),
            (a, b) => a.or(b),
        };
        Self {
            at_least: pick(self.at_least, other.at_least, true),
            below: pick(self.below, other.below, false),
        }
    }

    /// Whether something melted that is harder to melt than something that did not.
    pub fn contradicts_itself(&self) -> bool {
        matches!((self.at_least, self.below), (Some(a), Some(b)) if a > b)
    }

    /// Whether there is any bound at all.
    pub fn is_empty(&self) -> bool {
        self.at_least.is_none() && self.below.is_none()
    }
}
