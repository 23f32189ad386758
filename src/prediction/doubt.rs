use super::heat::container_radius;
use super::{HeatPath, Inputs, Physics, PotentialChoice, Run, SurfaceChoice};
use crate::diffusion::Potential;
use crate::soak::{CoolingLaw, StageKind, ThermometerPlace, Timeline};
use crate::steel::CouponPlace;
use crate::units::Interval;

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
        law_factor: physics.law_scatter.value.best(),
        potential: match run.choice.potential {
            Some(PotentialChoice::Fixed(c)) => Potential::Fixed(c.wt_percent()),
            Some(PotentialChoice::ShareOfAcm(share)) => Potential::ShareOfAcm(share),
            None => Potential::ShareOfAcm(compound.share_of_acm.value.best()),
        },
        transfer: match (run.choice.transfer, run.choice.surface) {
            (Some(beta), _) => beta.metres_per_second(),
            (None, Some(SurfaceChoice::Held)) => f64::INFINITY,
            // a transfer coefficient was asked for and not given: the compound's slowest-but-live
            (None, Some(SurfaceChoice::Transfer)) => compound.transfer.value.low(),
            (None, None) => compound.transfer.value.best(),
        },
        cooling_law: run.choice.cooling.unwrap_or(CoolingLaw::GivesNothingBack),
        pack_cooling: physics.cooling.closed_pack.value.best().seconds(),
        air_cooling: physics.cooling.in_air.value.best().seconds(),
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

    let out = if run.pack.wholly_in_heat == Some(false) { PARTLY_OUT_K } else { 0.0 };
    add(
        Doubt::Temperature,
        Inputs { temperature_shift: shift.low() - out, ..base },
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
    if run.choice.transfer.is_none() && run.choice.surface.is_none() {
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
        let with = |p: f64, a: f64| Inputs { pack_cooling: p, air_cooling: a, ..base };
        add(
            Doubt::CoolingTime,
            with(pack.low().seconds(), air.low().seconds()),
            with(pack.high().seconds(), air.high().seconds()),
        );
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

/// True temperature minus reading before any witness is asked, K.
pub(super) fn reading_error(
    run: &Run,
    judged: Option<&Interval<crate::units::Temperature>>,
) -> Option<Interval<f64>> {
    let thermometer = &run.record.thermometer;
    if let (true, Some(t)) = (HeatPath::by_eye(run), judged) {
        let best = t.best().kelvin();
        return Interval::new(t.low().kelvin() - best, 0.0, t.high().kelvin() - best);
    }
    let error = &thermometer.error.value;
    debug_assert!(thermometer.place != ThermometerPlace::Eye || error.high() > error.low());
    Interval::new(error.low().kelvin(), error.best().kelvin(), error.high().kelvin())
}
