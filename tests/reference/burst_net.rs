//! The network that tells bursts, against `PyTorch`: `burst_net.csv`, made by `training-data/burst_net.py --table`
//! (status: computed). Light is made by a formula; the tolerance was written before the first run.

use crate::support::{burst_net, rows};
use serde::Deserialize;
use snapspark::spark::Sight;
use std::f64::consts::TAU;

/// Answers agree within this: both add up some hundred products of 32-bit numbers a layer, in another order.
const SAME: f64 = 1e-4;
/// Places along one side.
const SIDE: usize = 96;
/// Column and row of the answers that are compared: the middle, and beside it.
const MIDDLE: [usize; 2] = [24, 24];
const BESIDE: [usize; 2] = [30, 15];

#[derive(Deserialize)]
struct Row {
    case: u32,
    noise: f32,
    odds: f64,
    log_rays: f64,
    beside_odds: f64,
    beside_log_rays: f64,
}

/// Rays of Gaussian lines from the middle, the same number all round, longer from case to case.
fn sight(row: &Row) -> Sight {
    let case = f64::from(row.case);
    let rays = row.case % 6 + 1;
    let light = (0..SIDE * SIDE).map(|i| {
        let [x, y] = [i % SIDE, i / SIDE].map(|v| v as f64 + 0.5 - SIDE as f64 / 2.0);
        let ray = |ray: u32| {
            let angle = f64::from(ray) * TAU / f64::from(rays) + 0.1 * case;
            let (along, beside) = (x * angle.cos() + y * angle.sin(), y * angle.cos() - x * angle.sin());
            if along > 0.0 && along < 10.0 + 3.0 * case { 0.3 * (-0.5 * beside * beside).exp() } else { 0.0 }
        };
        (0..rays).map(ray).sum::<f64>() as f32
    });
    Sight {
        width: SIDE,
        height: SIDE,
        light: light.collect(),
        noise: vec![row.noise; SIDE * SIDE],
        contact: [-200.0, 10.0 * case],
        pitch: 1.0,
        corner: [0.0; 2],
    }
}

#[test]
fn the_network_says_what_pytorch_says() {
    let table: Vec<Row> = rows("burst_net.csv");
    assert!(table.len() >= 12);
    for row in table {
        let said = burst_net().over(&sight(&row).told());
        let at = |k: usize, [column, line]: [usize; 2]| f64::from(said.plane(k)[line * said.width + column]);
        for (place, wanted) in
            [(MIDDLE, [row.odds, row.log_rays]), (BESIDE, [row.beside_odds, row.beside_log_rays])]
        {
            let told = [at(0, place), at(1, place)];
            let off = (told[0] - wanted[0]).abs().max((told[1] - wanted[1]).abs());
            assert!(off < SAME, "case {} at {place:?}: {told:?}, {wanted:?} wanted", row.case);
        }
    }
}
