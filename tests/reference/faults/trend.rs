use super::draw::Draw;
use crate::support::project;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// The published trend of sparks with carbon, `training-data/spark_trend.csv`: for each feature the middle
/// of a carbon band, wt%, with the lowest, usual and highest value there.
type Trend = BTreeMap<String, Vec<(f64, [f64; 3])>>;

fn trend() -> &'static Trend {
    static TREND: OnceLock<Trend> = OnceLock::new();
    TREND.get_or_init(|| {
        let path = project("training-data/spark_trend.csv");
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
        let mut trend = Trend::new();
        for row in reader.deserialize() {
            let (low, high, feature, a, b, c, _): (f64, f64, String, f64, f64, f64, String) = row.unwrap();
            trend.entry(feature).or_default().push((f64::midpoint(low, high), [a, b, c]));
        }
        trend
    })
}

/// One value of a feature for this carbon: straight between the middles of the bands.
pub(super) fn spark(draw: &mut Draw, feature: &str, carbon: f64) -> f64 {
    let bands = &trend()[feature];
    let i = bands.partition_point(|b| b.0 <= carbon).clamp(1, bands.len() - 1);
    let ((c0, a), (c1, b)) = (bands[i - 1], bands[i]);
    let t = ((carbon - c0) / (c1 - c0)).clamp(0.0, 1.0);
    draw.triangle([0, 1, 2].map(|k| a[k] + (b[k] - a[k]) * t))
}
