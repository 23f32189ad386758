use super::heat::container_radius;
use super::{HeatPath, Inputs, Physics, PotentialChoice, Run, SurfaceChoice};
use crate::diffusion::Potential;
use crate::soak::{CoolingLaw, Guesses, HEAT_UP_S, HeatEvidence, StageKind, Timeline};
use crate::steel::CouponPlace;
use crate::units::{Interval, Temperature, Time};

/// Temperature between coupon and piece when one sat hotter: low, best, high, K (judgement).
const PLACE_K: (f64, f64, f64) = (5.0, 20.0, 40.0);
/// The same where nobody said where the coupon sat, either way, K (judgement).
const UNKNOWN_PLACE_K: f64 = 10.0;
/// How much colder the steel may be where part of the container stood outside the heat, K
/// (judgement).
const PARTLY_OUT_K: f64 = 50.0;

/// Something that is not known exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doubt {
    /// What the thermometer, the eye or the witness is off by.
    Temperature,
    /// How late the steel follows the outside.
    HeatThrough,
    /// Scatter between diffusivity laws.
    Law,
    /// Carbon potential of the pack.
    Potential,
    /// How fast the surface takes carbon up.
    Transfer,
    /// What the surface does while the pack cools.
    CoolingLaw,
    /// How long it cooled, where nobody said.
    CoolingTime,
    /// How long it was at heat and on the way there, where only that is known.
    TimeAtHeat,
    /// Carbon of the stock.
    Stock,
    /// Carbon at the edge that an eye sees.
    VisibleEdge,
    /// Whether the piece was as hot as the coupon.
    PiecePlace,
}

/// The best story of a run.
pub(super) fn best(run: &Run, physics: &Physics, shift: &Interval<f64>) -> Inputs {
    let compound = &run.pack.compound;
    Inputs {
        temperature_shift: shift.best(),
        container_radius: container_radius(run).0.1,
        pore: compound.thermal.pore.value.best(),
        charged_cold: true,
        late: 0.0,
        time_factor: 1.0,
        open_air: None,
        law_factor: physics.law_scatter.value.best(),
        potential: match run.choice.potential {
            Some(PotentialChoice::Fixed(c)) => Potential::Fixed(c.wt_percent()),
            Some(PotentialChoice::ShareOfAcm(share)) => Potential::ShareOfAcm(share),
            None => Potential::ShareOfAcm(compound.share_of_acm.value.best()),
        },
        transfer: match (run.choice.transfer, run.choice.surface) {
            (Some(beta), _) => beta.metres_per_second(),
            (None, Some(SurfaceChoice::Held)) => f64::INFINITY,
            (None, _) => compound.transfer.value.best(),
        },
        cooling_law: run.choice.cooling.unwrap_or(CoolingLaw::GivesNothingBack),
        times: Guesses {
            closed_pack: physics.cooling.closed_pack.value.best().seconds(),
            in_air: physics.cooling.in_air.value.best().seconds(),
            at_heat: at_heat(run).1,
            heat_up: heat_up(run).1,
            then: run.then,
        },
        core: run.stock.carbon.best().wt_percent(),
        piece_shift: place(run).1,
        visible_edge: physics.criteria.visible.value.best().wt_percent(),
    }
}

/// Each doubt of this run with the story at its low and at its high end.
pub(super) fn doubts(
    run: &Run,
    physics: &Physics,
    path: HeatPath,
    timeline: &Timeline,
    shift: &Interval<f64>,
) -> Vec<(Doubt, Inputs, Inputs)> {
    let base = best(run, physics, shift);
    let compound = &run.pack.compound;
    let mut list = Vec::new();
    let mut add = |doubt, low: Inputs, high: Inputs| {
        if low != base || high != base {
            list.push((doubt, low, high));
        }
    };

    add(
        Doubt::Temperature,
        Inputs { temperature_shift: shift.low(), ..base },
        Inputs { temperature_shift: shift.high(), ..base },
    );
    if path.lags() {
        let (radius, pore) = (container_radius(run).0, &compound.thermal.pore.value);
        add(
            Doubt::HeatThrough,
            Inputs { container_radius: radius.2, pore: pore.low(), ..base },
            Inputs {
                container_radius: radius.0,
                pore: pore.high(),
                charged_cold: !timeline.starts_hot(),
                ..base
            },
        );
    }
    if run.choice.law.is_none() {
        let scatter = &physics.law_scatter.value;
        add(
            Doubt::Law,
            Inputs { law_factor: scatter.low(), ..base },
            Inputs { law_factor: scatter.high(), ..base },
        );
    }
    if run.choice.potential.is_none() {
        let share = &compound.share_of_acm.value;
        add(
            Doubt::Potential,
            Inputs { potential: Potential::ShareOfAcm(share.low()), ..base },
            Inputs { potential: Potential::ShareOfAcm(share.high()), ..base },
        );
    }
    if run.choice.transfer.is_none() && run.choice.surface != Some(SurfaceChoice::Held) {
        let transfer = &compound.transfer.value;
        add(
            Doubt::Transfer,
            Inputs { transfer: transfer.low(), ..base },
            Inputs { transfer: transfer.high(), ..base },
        );
    }
    if run.choice.cooling.is_none() && timeline.legs.iter().any(|l| l.stage.kind == StageKind::PackCool) {
        add(Doubt::CoolingLaw, Inputs { cooling_law: CoolingLaw::FollowsAcm, ..base }, base);
    }
    if timeline.assumed_cooling {
        let (pack, air) = (&physics.cooling.closed_pack.value, &physics.cooling.in_air.value);
        let with = |closed_pack: f64, in_air: f64| Inputs {
            times: Guesses { closed_pack, in_air, ..base.times },
            ..base
        };
        add(
            Doubt::CoolingTime,
            with(pack.low().seconds(), air.low().seconds()),
            with(pack.high().seconds(), air.high().seconds()),
        );
    }
    if HeatPath::by_eye(run) {
        let (up, held) = (heat_up(run), at_heat(run));
        let with =
            |heat_up: f64, at_heat: f64| Inputs { times: Guesses { at_heat, heat_up, ..base.times }, ..base };
        add(Doubt::TimeAtHeat, with(up.0, held.0), with(up.2, held.2));
    }
    let carbon = &run.stock.carbon;
    add(
        Doubt::Stock,
        Inputs { core: carbon.low().wt_percent(), ..base },
        Inputs { core: carbon.high().wt_percent(), ..base },
    );
    let edge = &physics.criteria.visible.value;
    add(
        Doubt::VisibleEdge,
        Inputs { visible_edge: edge.low().wt_percent(), ..base },
        Inputs { visible_edge: edge.high().wt_percent(), ..base },
    );
    if run.piece.is_some() {
        let (low, _, high) = place(run);
        add(Doubt::PiecePlace, Inputs { piece_shift: low, ..base }, Inputs { piece_shift: high, ..base });
    }
    list
}

/// Temperature of the piece minus the coupon's, K: low, best, high.
fn place(run: &Run) -> (f64, f64, f64) {
    let (near, usual, far) = PLACE_K;
    match run.piece.map(|p| p.coupon_place) {
        Some(CouponPlace::Hotter) => (-far, -usual, -near),
        Some(CouponPlace::Colder) => (near, usual, far),
        Some(CouponPlace::Unknown) => (-UNKNOWN_PLACE_K, 0.0, UNKNOWN_PLACE_K),
        Some(CouponPlace::Same) | None => (0.0, 0.0, 0.0),
    }
}

/// Seconds at heat where only that is known: low, best, high.
fn at_heat(run: &Run) -> (f64, f64, f64) {
    match &run.record.evidence {
        HeatEvidence::TimeAtHeat { time, .. } => seconds(time),
        _ => (0.0, 0.0, 0.0),
    }
}

/// Seconds from lighting to heat where only the time at heat is known.
fn heat_up(run: &Run) -> (f64, f64, f64) {
    match &run.record.evidence {
        HeatEvidence::TimeAtHeat { heat_up, .. } => heat_up.as_ref().map_or(HEAT_UP_S, seconds),
        _ => (0.0, 0.0, 0.0),
    }
}

fn seconds(time: &Interval<Time>) -> (f64, f64, f64) {
    (time.low().seconds(), time.best().seconds(), time.high().seconds())
}

/// True temperature minus reading before any witness is asked, K: what the thermometer is off by, or
/// what the eye or the witnesses leave open if that is wider.
pub(super) fn reading_error(run: &Run, judged: Option<&Interval<Temperature>>) -> Interval<f64> {
    let error = &run.record.thermometer.error.value;
    let out = if run.pack.wholly_in_heat == Some(false) { PARTLY_OUT_K } else { 0.0 };
    let (mut low, mut high) = (error.low().kelvin(), error.high().kelvin());
    let mut best = error.best().kelvin();
    if let Some(t) = judged {
        let told = |k: Temperature| k.kelvin() - t.best().kelvin();
        // witnesses bound the steel themselves; a temperature told is no better than its thermometer
        let witnessed = !run.record.witnesses.is_empty();
        let widen = |a: f64, b: f64, f: fn(f64, f64) -> f64| if witnessed { a } else { f(a, b) };
        (low, high) = (widen(told(t.low()), low, f64::min), widen(told(t.high()), high, f64::max));
        best = 0.0;
    }
    Interval::new(low - out, best, high).unwrap_or_else(|| Interval::exact(0.0))
}
