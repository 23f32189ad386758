//! Harris's table of total case depth: `harris.csv`.

use crate::support::{models, rows, steady};
use serde::Deserialize;
use snapspark::diffusion::{Exchange, Potential, Section};

const TOLERANCE: f64 = 0.08;
/// Rounding of the printed cells, in.
const TOLERANCE_IN: f64 = 0.0006;
const CORE_WT: f64 = 0.15;
/// Harris's depth corresponds to core + 0.07 %C. Source: Flame Metallurgical, page on Harris's
/// formula, for 1.0 to 1.8 mm (confirmed).
const ABOVE_CORE_WT: f64 = 0.07;

#[derive(Deserialize)]
struct Row {
    hours: f64,
    fahrenheit: f64,
    inch: f64,
}

#[test]
fn saturated_surface_gives_harris_depths() {
    let law = models().law("agren1986").expect("a shipped law");
    let held = Exchange { potential: Potential::ShareOfAcm(1.0), ..Exchange::BARE };
    let (mut shallowest, mut deepest) = (0.0_f64, 0.0_f64);
    let mut compared = 0;
    for row in rows::<Row>("harris.csv").iter().filter(|r| (1600.0..=1750.0).contains(&r.fahrenheit)) {
        let celsius = (row.fahrenheit - 32.0) / 1.8;
        let profile = steady(&law.form.value, held, Section::Thick, CORE_WT, celsius, row.hours * 60.0);
        let got = profile.depth_to(CORE_WT + ABOVE_CORE_WT).expect("the case ends") / 0.0254;
        let off = (got - row.inch).abs();
        shallowest = shallowest.min(got / row.inch - 1.0);
        deepest = deepest.max(got / row.inch - 1.0);
        compared += 1;
        assert!(
            off < TOLERANCE * row.inch || off < TOLERANCE_IN,
            "{} h {} F: {got:.4} in, printed {}",
            row.hours,
            row.fahrenheit,
            row.inch
        );
    }
    println!("{compared} cells of one formula: {:+.1} to {:+.1} %", shallowest * 100.0, deepest * 100.0);
    assert_eq!(compared, 100);
}
