//! Readings of drawn smiths beside what the published trend has for their carbon, for `training-data/photo_lines.py`.

use super::smith::{Drawn, read};
use crate::support::models;
use snapspark::files::known_set::PublishedTrend;
use snapspark::known::{Exposures, Shown, SparkMeasure};

/// The exposure that most pieces of a smith had, s.
fn usual(drawn: &[Drawn]) -> Option<f64> {
    let mut seconds: Vec<f64> = drawn.iter().filter_map(|d| d.figures.as_ref()?.exposed_s).collect();
    seconds.sort_by(f64::total_cmp);
    seconds.get(seconds.len() / 2).copied()
}

/// `SMITHS=smiths.csv cargo test --release points_from_a_file -- --ignored --nocapture | grep '^[0-9]'`: smith, day, measure,
/// carbon, trend and reading less its centre, variance of the reading.
#[test]
#[ignore = "needs SMITHS: a file of measure_drawn_smiths"]
fn points_from_a_file() {
    let text = std::fs::read_to_string(std::env::var("SMITHS").expect("SMITHS")).unwrap();
    let published = PublishedTrend::shipped(models()).unwrap();
    for (smith, drawn) in read(&text) {
        let exposures = Exposures { usual_s: usual(&drawn), ..published.exposures };
        for piece in &drawn {
            let Some(shown) = piece.figures.as_ref().map(Shown::on_photos) else { continue };
            for measure in SparkMeasure::ALL {
                let Some(reading) = shown.reading(measure, &exposures) else { continue };
                let trend = &published.trend;
                let (typical, centre) = (trend.typical(measure, piece.carbon), trend.centre(measure));
                println!(
                    "{smith},{},{},{:.4},{:.5},{:.5},{:.5}",
                    piece.day,
                    measure.column().column(),
                    piece.carbon,
                    typical - centre,
                    reading.at - centre,
                    reading.variance
                );
            }
        }
    }
}
