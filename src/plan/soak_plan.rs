use super::course::Course;
use super::remedy::with_remedies;
use super::{
    Afterwards, Begins, Clock, EdgeSection, Intent, Limit, Needed, PlanError, PlanRules, Spy, Start, Target,
    WitnessPair,
};
use crate::crosscheck::Need;
use crate::diffusion::Section;
use crate::hardness::Hardness;
use crate::prediction::{Physics, Prediction, Reading};
use crate::soak::{Compound, WitnessMetal};
use crate::units::{Depth, Temperature, Time};

/// The tables that a plan rests on.
#[derive(Debug, Clone, Copy)]
pub struct Tables<'a> {
    /// Of the prediction.
    pub physics: &'a Physics<'a>,
    /// What a use asks for.
    pub need: &'a Need,
    /// Hardness.
    pub hardness: &'a Hardness,
    /// What a plan goes by.
    pub rules: &'a PlanRules,
    /// Witness metals.
    pub metals: &'a [WitnessMetal],
    /// Compounds.
    pub compounds: &'a [Compound],
}

/// The soak for what is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct SoakPlan {
    /// What it begins with.
    pub begins: Begins,
    /// How long the hold must be.
    pub needed: Needed,
    /// The hold that is planned, in full steps of a clock.
    pub hold: Time,
    /// Chance that it is long enough, by the doubts of the soak.
    pub chance: f64,
    /// The chance that was aimed at.
    pub aimed: f64,
    /// The furnace's clock.
    pub clock: Clock,
    /// What comes of it.
    pub prediction: Prediction,
    /// The same at other heats, the coldest first.
    pub rows: Vec<Row>,
    /// What limits it.
    pub limits: Vec<Limit>,
    /// Metals that bracket the heat.
    pub witnesses: WitnessPair,
    /// Thickness of a coupon that keeps a core.
    pub coupon: Depth,
    /// Carbon in the cross-section of the edge, if its shape is told; not for a second soak.
    pub edge: Option<EdgeSection>,
    /// What becomes of the case afterwards.
    pub afterwards: Afterwards,
    /// A spy; `None` where the hold is too short for one.
    pub spy: Option<Spy>,
}

/// A soak at one heat.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What the thermometer reads.
    pub temperature: Temperature,
    /// How long the hold must be. `None`: longer than any that is planned, or the steel would melt.
    pub needed: Option<Needed>,
    /// Whether the grain of ordinary steel grows at it.
    pub grain_grows: bool,
}

/// Steps of the table of heats, K.
const STEPS_K: [f64; 5] = [-50.0, -25.0, 0.0, 25.0, 50.0];
/// Heats of the table, °C (judgement): colder is hopeless, hotter burns containers.
const HEATS_CELSIUS: (f64, f64) = (800.0, 1050.0);
/// The shortest hold that a spy is pulled from, min (judgement): in less it tells nothing.
const LEAST_FOR_SPY_MIN: f64 = 40.0;

/// Plans a soak for `intent`, beginning with `start`.
pub fn plan(intent: &Intent, start: Start, tables: &Tables) -> Result<SoakPlan, PlanError> {
    check(intent, tables)?;
    let course = Course::new(intent, start, tables, intent.temperature);
    let needed = course.needed().map_err(|error| with_remedies(error, intent, start, tables))?;
    let aimed = tables.need.sure_enough.value;
    let hold = needed.planned(aimed).or(needed.planned(0.5)).unwrap_or_else(|| needed.best());
    let prediction = course.predict(hold.seconds())?;
    let clock = Clock::of(intent, start, tables, hold, &prediction);
    let edge = course.edge(intent.wedge, &prediction)?;
    let limits = Limit::of(intent, tables, &clock, &prediction);
    let afterwards = course.afterwards(&prediction)?;
    let coupon = coupon(tables, &prediction);
    let spy = if hold.minutes() < LEAST_FOR_SPY_MIN { None } else { Spy::of(&course, hold, tables)? };
    let rows = rows(intent, start, tables, &needed)?;
    Ok(SoakPlan {
        begins: start.begins(),
        chance: needed.chance(hold),
        aimed,
        witnesses: WitnessPair::around(intent.temperature, tables.rules.witness_step.value, tables.metals),
        needed,
        hold,
        clock,
        prediction,
        rows,
        limits,
        coupon,
        afterwards,
        edge,
        spy,
    })
}

/// Refuses what no soak can do.
pub(super) fn check(intent: &Intent, tables: &Tables) -> Result<(), PlanError> {
    let physics = tables.physics;
    let (got, a1) = (intent.temperature.celsius(), physics.phase.a1.value.celsius());
    if got <= a1 {
        return Err(PlanError::TooCold { got, a1 });
    }
    let limit = physics.phase.eutectic.value.celsius();
    if got >= limit {
        return Err(PlanError::TooHot { got, limit });
    }
    if let Target::Depth { depth, .. } = intent.target {
        let (wanted, half) = (depth.millimetres(), Section::of(&intent.coupon.shape).depth() * 1e3);
        if wanted >= half {
            return Err(PlanError::DeeperThanMiddle { wanted, half });
        }
    }
    let has = intent.stock.carbon.best().wt_percent();
    match intent.target.carbon(physics) {
        Some(limit) if has >= limit => Err(PlanError::StockHasIt { has, limit }),
        _ => Ok(()),
    }
}

/// Thickness of a coupon, packed all round, that keeps its core: twice the deepest case, and the core.
fn coupon(tables: &Tables, prediction: &Prediction) -> Depth {
    let deepest = prediction.last().readings.get(&Reading::Total).map_or(0.0, |s| s.interval.high());
    let mm = 2.0 * deepest + tables.rules.coupon_core.value.millimetres();
    // bars come in half millimetres at best
    Depth::from_millimetres((mm * 2.0).ceil() / 2.0).unwrap_or(Depth::ZERO)
}

/// The same soak at the heats of the table.
fn rows(intent: &Intent, start: Start, tables: &Tables, here: &Needed) -> Result<Vec<Row>, PlanError> {
    let grain = tables.rules.ordinary_grain.value.celsius();
    let mut rows = Vec::new();
    for step in STEPS_K {
        let celsius = intent.temperature.celsius() + step;
        let inside = HEATS_CELSIUS.0 <= celsius && celsius <= HEATS_CELSIUS.1;
        let Some(temperature) = Temperature::from_celsius(celsius).ok().filter(|_| inside || step == 0.0)
        else {
            continue;
        };
        let needed = if step == 0.0 {
            Some(here.clone())
        } else {
            match Course::new(intent, start, tables, temperature).coarse().needed() {
                Ok(needed) => Some(needed),
                Err(PlanError::TooLong { .. } | PlanError::TooRich { .. } | PlanError::Predict(_)) => None,
                Err(other) => return Err(other),
            }
        };
        rows.push(Row { temperature, needed, grain_grows: celsius > grain });
    }
    Ok(rows)
}
