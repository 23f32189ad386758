//! The network that looks at faces, against `PyTorch`: `face_net.csv`, made by `training-data/face_net.py --table` (status:
//! computed). Planes are made by a formula; the tolerance was written before the first run.

use crate::support::rows;
use serde::Deserialize;
use snapspark::files::face_net;
use snapspark::net::Planes;

/// Answers agree within this: both add up some hundred products of 32-bit numbers a layer, in another order.
const SAME: f32 = 1e-3;
const SIZE: [usize; 2] = [96, 64];

#[derive(Deserialize)]
struct Row {
    x: usize,
    y: usize,
    beside: f32,
    core: f32,
    case: f32,
    neither: f32,
}

#[test]
fn the_network_says_what_pytorch_says() {
    let [width, height] = SIZE;
    let mut planes = Planes::new(5, width, height);
    for (i, v) in planes.values.iter_mut().enumerate() {
        let k = (i / (width * height)) as f64;
        let [x, y] = [i % width, i / width % height].map(|p| p as f64 + 0.5);
        *v = ((0.1 * (k + 1.0) * x + 0.07 * y).sin() + (0.05 * (k + 2.0) * y).cos()) as f32;
    }
    let said = face_net().unwrap().over(&planes);
    let table: Vec<Row> = rows("face_net.csv");
    assert!(table.len() > 40);
    for row in table {
        for (k, wanted) in [row.beside, row.core, row.case, row.neither].into_iter().enumerate() {
            let got = said.plane(k)[row.y * said.width + row.x];
            assert!((got - wanted).abs() < SAME, "{} {}: {got}, {wanted} wanted", row.x, row.y);
        }
    }
}
