use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Range, Single, bounded};
use crate::diffusion::Scaling;
use crate::plan::{HeatRules, PlanRules};
use crate::units::{Depth, Temperature, Time};
use serde::Deserialize;

const FILE: &str = "plan.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    packing_mm: PackingTwin,
    grain: GrainTwin,
    clock: ClockTwin,
    watch: WatchTwin,
    heats: HeatsTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PackingTwin {
    bottom: Single<f64>,
    sides: Single<f64>,
    top: Single<f64>,
    between: Single<f64>,
    vent: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GrainTwin {
    ordinary_celsius: Single<f64>,
    fine_celsius: Single<f64>,
    refine_above_a3_kelvin: Range,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ClockTwin {
    there_kelvin: Single<f64>,
    open_celsius: Single<f64>,
    longest_hours: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WatchTwin {
    core_mm: Single<f64>,
    spy_share: Single<f64>,
    witness_kelvin: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HeatsTwin {
    refine_minutes: Single<f64>,
    harden_minutes: Single<f64>,
    scale_rate_g2_per_cm4_s: Single<f64>,
    scale_activation_j_per_mol: Single<f64>,
    tempers_celsius: Single<Vec<f64>>,
}

impl HeatsTwin {
    fn rules(self, books: &mut Bibliography) -> Result<HeatRules, ModelsError> {
        let at = |field| At { file: FILE, entry: "heats", field };
        let (rate, activation) = (bounded("rate", "", 0.1, 100.0), bounded("activation", "J/mol", 1e4, 1e6));
        let temper = bounded("temper", "°C", 100.0, 400.0);
        let tempers = |all: Vec<f64>| all.into_iter().map(&temper).collect::<Result<Vec<_>, _>>();
        Ok(HeatRules {
            refine_time: self.refine_minutes.sourced(books, at("refine_minutes"), Time::from_minutes)?,
            harden_time: self.harden_minutes.sourced(books, at("harden_minutes"), Time::from_minutes)?,
            scaling: Scaling {
                rate: self.scale_rate_g2_per_cm4_s.sourced(books, at("scale_rate_g2_per_cm4_s"), rate)?,
                activation: self.scale_activation_j_per_mol.sourced(
                    books,
                    at("scale_activation_j_per_mol"),
                    activation,
                )?,
            },
            tempers: self.tempers_celsius.sourced(books, at("tempers_celsius"), tempers)?,
        })
    }
}

/// Reads `plan.toml`.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<PlanRules, ModelsError> {
    let FileTwin { packing_mm, grain, clock, watch, heats } = parse(FILE, text)?;
    let at = |entry, field| At { file: FILE, entry, field };
    let in_packing = |field| at("packing_mm", field);
    let in_grain = |field| at("grain", field);
    let in_clock = |field| at("clock", field);
    let in_watch = |field| at("watch", field);
    let (mm, celsius) = (Depth::from_millimetres, Temperature::from_celsius);
    let kelvin = || bounded("step", "K", 0.0, 200.0);
    Ok(PlanRules {
        bottom: packing_mm.bottom.sourced(books, in_packing("bottom"), mm)?,
        sides: packing_mm.sides.sourced(books, in_packing("sides"), mm)?,
        top: packing_mm.top.sourced(books, in_packing("top"), mm)?,
        between: packing_mm.between.sourced(books, in_packing("between"), mm)?,
        vent: packing_mm.vent.sourced(books, in_packing("vent"), mm)?,
        ordinary_grain: grain.ordinary_celsius.sourced(books, in_grain("ordinary_celsius"), celsius)?,
        fine_grain: grain.fine_celsius.sourced(books, in_grain("fine_celsius"), celsius)?,
        refine_above_a3: grain.refine_above_a3_kelvin.sourced(
            books,
            in_grain("refine_above_a3_kelvin"),
            kelvin(),
        )?,
        there: clock.there_kelvin.sourced(books, in_clock("there_kelvin"), kelvin())?,
        open: clock.open_celsius.sourced(books, in_clock("open_celsius"), celsius)?,
        longest: clock
            .longest_hours
            .sourced(books, in_clock("longest_hours"), |h| Time::from_minutes(h * 60.0))?,
        coupon_core: watch.core_mm.sourced(books, in_watch("core_mm"), mm)?,
        spy_share: watch.spy_share.sourced(books, in_watch("spy_share"), bounded("share", "", 0.1, 0.9))?,
        witness_step: watch.witness_kelvin.sourced(books, in_watch("witness_kelvin"), kelvin())?,
        heats: heats.rules(books)?,
    })
}
