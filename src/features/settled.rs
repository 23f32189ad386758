use super::feature_name::FeatureName;
use super::spark::{Feature, Origin};
use super::words::Range;
use crate::units::Interval;

/// What was told and what photos show of one feature, brought together.
pub(super) struct Settled {
    pub(super) feature: Feature,
    /// Whether the two exclude each other.
    pub(super) apart: bool,
}

/// Where what was told and what photos show meet, the narrower of both says more; where they do not, the truth may lie
/// anywhere from one to the other, and that is doubtful.
pub(super) fn settled(told: Option<Feature>, shown: Range) -> Settled {
    let photo = Feature { value: shown, origin: Origin::Photo };
    let Some(told) = told else { return Settled { feature: photo, apart: false } };
    let value = told.value;
    if value.low() > shown.high() || shown.low() > value.high() {
        let both = Interval::new(value.low().min(shown.low()), shown.best(), value.high().max(shown.high()));
        let feature = Feature { value: both.unwrap_or(shown), origin: Origin::Photo };
        return Settled { feature, apart: true };
    }
    let narrower = value.high() - value.low() < shown.high() - shown.low();
    Settled { feature: if narrower { told } else { photo }, apart: false }
}

/// What photos show of a feature; rays as the trees count them.
pub(super) fn of_photos(name: FeatureName, shown: Range) -> Range {
    let few = |v: f64| if name == FeatureName::Rays { v.clamp(0.0, MANY_RAYS) } else { v };
    Interval::new(few(shown.low()), few(shown.best()), few(shown.high())).unwrap_or(shown)
}

/// As many rays as [`FeatureName::Rays`] tells apart.
const MANY_RAYS: f64 = 8.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_narrower_stands_and_a_contradiction_reaches_over_both() {
        let range = |low, best, high| Interval::new(low, best, high).unwrap();
        let told = |value| Some(Feature { value, origin: Origin::Described });
        let of = |told, shown| {
            let Settled { feature, apart } = settled(told, shown);
            (feature.value, feature.origin, apart)
        };
        let shown = range(0.4, 0.5, 0.6);
        assert_eq!(of(None, shown), (shown, Origin::Photo, false));
        assert_eq!(of(told(range(0.3, 0.5, 0.65)), shown), (shown, Origin::Photo, false));
        let close = range(0.55, 0.58, 0.61);
        assert_eq!(of(told(close), shown), (close, Origin::Described, false));
        let far = range(0.0, 0.1, 0.2);
        assert_eq!(of(told(far), shown), (range(0.0, 0.5, 0.6), Origin::Photo, true));
    }
}
