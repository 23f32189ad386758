use crate::features::FeatureName;

/// What sparks of a rig are compared with the published trend by: every column of the trees but the state of the steel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SparkMeasure {
    /// Share of carriers that burst.
    Share,
    /// Rays of a burst.
    Rays,
    /// Tiers of bursts.
    Tiers,
    /// Where the first quarter of the bursts lies.
    Onset,
    /// Bursts.
    Bursts,
    /// Carriers.
    Carriers,
    /// Length.
    Length,
    /// Fine sparking.
    Fine,
}

/// The scale on which the scatter of a measure is about the same everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Scale {
    /// A share from 0 to 1, by the logarithm of its odds.
    Odds,
    /// An amount, by its logarithm.
    Logarithm,
    /// As it is.
    Plain,
}

/// Shares nearer to 0 or 1 are not told apart from them (judgement).
const LEAST_SHARE: f64 = 0.01;
/// Amounts against steel of 0.2 %C below this are none (judgement).
const LEAST_AMOUNT: f64 = 1e-6;

impl SparkMeasure {
    /// All, in the order of their columns.
    pub const ALL: [Self; 8] = [
        Self::Share,
        Self::Rays,
        Self::Tiers,
        Self::Onset,
        Self::Bursts,
        Self::Carriers,
        Self::Length,
        Self::Fine,
    ];

    /// The column of the trees that it fills.
    pub fn column(self) -> FeatureName {
        match self {
            Self::Share => FeatureName::ShareBursting,
            Self::Rays => FeatureName::Rays,
            Self::Tiers => FeatureName::Tiers,
            Self::Onset => FeatureName::Onset,
            Self::Bursts => FeatureName::BurstRatio,
            Self::Carriers => FeatureName::CarrierRatio,
            Self::Length => FeatureName::LengthRatio,
            Self::Fine => FeatureName::FineSparking,
        }
    }

    /// Whether it is an amount, which a photo gives as a number of its own and the trend against steel of 0.2 %C.
    pub fn is_amount(self) -> bool {
        self.scale() == Scale::Logarithm
    }

    fn scale(self) -> Scale {
        match self {
            Self::Share | Self::Onset => Scale::Odds,
            Self::Bursts | Self::Carriers | Self::Length => Scale::Logarithm,
            Self::Rays | Self::Tiers | Self::Fine => Scale::Plain,
        }
    }

    /// A value on the measure's scale.
    pub fn on_scale(self, value: f64) -> f64 {
        match self.scale() {
            Scale::Odds => {
                let share = value.clamp(LEAST_SHARE, 1.0 - LEAST_SHARE);
                libm::log(share / (1.0 - share))
            }
            Scale::Logarithm => libm::log(value.max(LEAST_AMOUNT)),
            Scale::Plain => value,
        }
    }

    /// The value that stands there on the scale.
    pub fn off_scale(self, at: f64) -> f64 {
        match self.scale() {
            Scale::Odds => 1.0 / (1.0 + libm::exp(-at)),
            Scale::Logarithm => libm::exp(at),
            Scale::Plain => at,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_turn_back() {
        for measure in SparkMeasure::ALL {
            for value in [0.05, 0.3, 0.9] {
                assert!((measure.off_scale(measure.on_scale(value)) - value).abs() < 1e-12, "{measure:?}");
            }
            assert!(measure.on_scale(0.0).is_finite() && measure.on_scale(1.0).is_finite());
        }
    }
}
