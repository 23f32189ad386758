//! Grain numbers against ASTM E112, Table 4 (`grain_numbers.csv`).

use crate::support::rows;
use serde::Deserialize;
use snapspark::fracture::{grain_diameter, grain_number};

#[derive(Deserialize)]
struct Row {
    number: f64,
    diameter_um: f64,
    grains_per_mm2: f64,
}

/// Within 0.02 of a number: the table rounds to two or three figures. Written before the first run.
#[test]
fn grain_numbers_are_those_of_the_standard() {
    let table: Vec<Row> = rows("grain_numbers.csv");
    assert_eq!(table.len(), 10);
    for row in table {
        let by_diameter = grain_number(row.diameter_um / 1000.0);
        assert!((by_diameter - row.number).abs() < 0.02, "{}: {by_diameter}", row.number);
        let by_count = grain_number((1.0 / row.grains_per_mm2).sqrt());
        assert!((by_count - row.number).abs() < 0.02, "{}: {by_count}", row.number);
        assert!((1000.0 * grain_diameter(row.number) / row.diameter_um - 1.0).abs() < 0.01, "{}", row.number);
    }
}
