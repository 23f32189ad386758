//! A surface that takes carbon up and gives none back. No outside numbers: statements that hold by
//! the meaning of the words.

use crate::support::models;
use snapspark::diffusion::{Case, Direction, Exchange, Fineness, Leg, Potential, Profile, Section, march};

const CORE_WT: f64 = 0.15;
/// Nothing but rounding.
const TOLERANCE_WT: f64 = 1e-9;

fn solve(legs: &[Leg]) -> Vec<Profile> {
    let models = models();
    let case = Case {
        form: &models.law("agren1986").expect("a shipped law").form.value,
        factor: 1.0,
        phase: &models.phase,
        section: Section::Thick,
        core: CORE_WT,
        fineness: Fineness::DEFAULT,
    };
    march(&case, legs).expect("converges").profiles
}

/// 900 °C for an hour, then cooling to 700 °C in forty minutes.
const SOAK: [(f64, f64); 2] = [(0.0, 1173.15), (3600.0, 1173.15)];
const COOL: [(f64, f64); 2] = [(3600.0, 1173.15), (6000.0, 973.15)];

/// At one potential carbon only ever wants in, so one way and both ways are the same.
#[test]
fn one_way_at_a_steady_potential_is_both_ways() {
    for transfer in [f64::INFINITY, 5e-7] {
        let both = Exchange { potential: Potential::Fixed(1.0), transfer, direction: Direction::BothWays };
        let one = Exchange { direction: Direction::Inward, ..both };
        let want = solve(&[Leg { points: &SOAK, exchange: both }, Leg { points: &COOL, exchange: both }]);
        let got = solve(&[Leg { points: &SOAK, exchange: one }, Leg { points: &COOL, exchange: one }]);
        for (got, want) in got.iter().zip(&want) {
            for ((x, got), (_, want)) in got.points().zip(want.points()) {
                let mm = x * 1e3;
                assert!((got - want).abs() < TOLERANCE_WT, "{transfer:e} m/s, {mm:.3} mm: {got} and {want}");
            }
        }
    }
}

/// While the potential falls with the temperature, one way keeps at least what a sealed surface
/// keeps, and at least what both ways leave.
#[test]
fn one_way_keeps_at_least_as_much_as_sealed_and_both_ways() {
    for transfer in [f64::INFINITY, 5e-7] {
        let both =
            Exchange { potential: Potential::ShareOfAcm(0.9), transfer, direction: Direction::BothWays };
        let uptake = |exchange| {
            let legs = [Leg { points: &SOAK, exchange: both }, Leg { points: &COOL, exchange }];
            solve(&legs)[1].uptake_wt_percent_mm()
        };
        let one = uptake(Exchange { direction: Direction::Inward, ..both });
        let (sealed, both) = (uptake(Exchange { direction: Direction::Closed, ..both }), uptake(both));
        println!("{transfer:e} m/s: one way {one:.5}, sealed {sealed:.5}, both ways {both:.5} wt% mm");
        assert!(one >= sealed - TOLERANCE_WT && one >= both - TOLERANCE_WT);
    }
}
