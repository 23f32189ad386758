mod fits;
mod optimal;
mod refusals;
mod walks;

use super::{Row, Settings, Training};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::Rng;

/// Rows of weight 1, one per label.
fn training(rows: &[(&[f64], usize)]) -> Training {
    let rows: Vec<Row> = rows
        .iter()
        .map(|(values, label)| Row { values: values.to_vec(), label: *label, weight: 1.0 })
        .collect();
    let features = (0..rows[0].values.len()).map(|at| format!("f{at}")).collect();
    Training { features, classes: 3, rows }
}

fn exact(training: &Training, max_depth: usize) -> Settings {
    Settings::exact(training.features.len(), max_depth, 1)
}

fn whole(generator: &mut Pcg64Mcg, end: u64) -> u64 {
    generator.next_u64() % end
}

fn shuffle<T>(items: &mut [T], generator: &mut Pcg64Mcg) {
    for last in (1..items.len()).rev() {
        items.swap(last, whole(generator, last as u64 + 1) as usize);
    }
}
