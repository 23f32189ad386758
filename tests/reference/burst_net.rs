//! The network that tells bursts, against `PyTorch`: `burst_net.csv`, made by `training-data/burst_net.py --table`
//! (status: computed). Places are made by a formula; the tolerance was written before the first run.

use crate::support::{burst_net, rows};
use serde::Deserialize;
use snapspark::spark::ShownPlace;
use std::f64::consts::TAU;

/// Answers agree within this: both add up some hundred products of 32-bit numbers a layer, in another order.
const SAME: f64 = 1e-4;
/// Places along one side.
const SIDE: usize = 96;

#[derive(Deserialize)]
struct Row {
    case: u32,
    noise: f64,
    odds: f64,
    log_rays: f64,
}

/// Rays of Gaussian lines from the middle, the same number all round, longer from case to case.
fn place(row: &Row) -> ShownPlace {
    let case = f64::from(row.case);
    let rays = row.case % 6 + 1;
    let light = (0..SIDE * SIDE).map(|i| {
        let [x, y] = [i % SIDE, i / SIDE].map(|v| v as f64 - 47.5);
        let ray = |ray: u32| {
            let angle = f64::from(ray) * TAU / f64::from(rays) + 0.1 * case;
            let (along, beside) = (x * angle.cos() + y * angle.sin(), y * angle.cos() - x * angle.sin());
            if along > 0.0 && along < 10.0 + 3.0 * case { 0.3 * (-0.5 * beside * beside).exp() } else { 0.0 }
        };
        (0..rays).map(ray).sum::<f64>() as f32
    });
    let features = std::array::from_fn(|k| 0.25 * case + 0.1 * k as f64);
    ShownPlace { at: [0.0; 2], light: light.collect(), noise: row.noise, features, before: Vec::new() }
}

#[test]
fn the_network_says_what_pytorch_says() {
    let table: Vec<Row> = rows("burst_net.csv");
    assert!(table.len() >= 12);
    for row in table {
        let (odds, rays) = burst_net().tell(&place(&row));
        // fewer than one ray is told as one
        let wanted = row.log_rays.max(0.0);
        assert!((odds - row.odds).abs() < SAME, "case {}: odds {odds}, {} wanted", row.case, row.odds);
        assert!((rays.ln() - wanted).abs() < SAME, "case {}: rays {rays}, ln {wanted} wanted", row.case);
    }
}
