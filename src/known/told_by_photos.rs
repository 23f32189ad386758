use super::correction::{Beside, Correction};
use super::{Exposures, Shown, SparkMeasure, Trend};
use crate::features::{Feature, Origin, SparkFeatures};

/// Features in which what photos show stands as those who told the published trend would have seen it: by what is expected of
/// photos of any rig, and by the stock beside. What photos tell nothing of carbon by is left out; what was told in words
/// stays.
pub fn told_by_photos(
    trend: &Trend,
    exposures: &Exposures,
    features: &SparkFeatures,
    shown: &Shown,
    beside: &Beside<'_>,
) -> SparkFeatures {
    let stock_s = beside.steels.iter().find_map(|(_, stock)| stock.exposed_s());
    let rig =
        Correction::of_any_rig(trend, Exposures { usual_s: stock_s.or(shown.exposed_s()), ..*exposures });
    let day = rig.on_day(trend, beside);
    let mut told = features.clone();
    for measure in SparkMeasure::ALL {
        let name = measure.column();
        if features.get(name).is_some_and(|f| f.origin == Origin::Photo) {
            let value = day.as_trend(measure, shown).filter(|_| rig.tells(trend, measure));
            told.replace(name, value.map(|value| Feature { value, origin: Origin::Photo }));
        }
    }
    told
}
