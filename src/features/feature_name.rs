/// A number that sparks are judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FeatureName {
    /// Share of carriers that burst, 0 to 1.
    ShareBursting,
    /// Rays of a burst, count; 8 stands for many.
    Rays,
    /// Tiers of bursts, count.
    Tiers,
    /// Where the first quarter of the bursts lies, share of the stream from the wheel.
    Onset,
    /// Bursts of the coupon over those of the stock.
    BurstRatio,
    /// Carriers of the coupon over those of the stock.
    CarrierRatio,
    /// Stream length of the coupon over that of the stock.
    LengthRatio,
    /// Fine sparking, 0 to 2.
    FineSparking,
    /// 1 if the coupon was sparked hard against soft stock, 0 if both were alike, -1 the other way.
    Harder,
    /// Carbon of the known steel that looks the same, wt%.
    LooksLike,
    /// Colour at the wheel: 0 white, 1 yellow, 2 straw, 3 orange, 4 red. Sources contradict each other on the
    /// colours of plain carbon steel, so no colour is a column of a tree.
    Colour,
    /// Colour at the outer end, on the same scale.
    ColourTip,
    /// Colour of the coupon at the wheel less that of the stock, -4 to 4.
    Redder,
    /// Carbon that the published trend, corrected for a rig, finds likeliest by the other columns together, wt%: a column of a
    /// personal tree alone.
    TrendCarbon,
}

impl FeatureName {
    /// All. [`Self::TREE`] are the columns of a tree, [`Self::OF_CARBON`] what tells carbon.
    pub const ALL: [Self; 14] = [
        Self::ShareBursting,
        Self::Rays,
        Self::Tiers,
        Self::Onset,
        Self::BurstRatio,
        Self::CarrierRatio,
        Self::LengthRatio,
        Self::FineSparking,
        Self::Harder,
        Self::LooksLike,
        Self::Colour,
        Self::ColourTip,
        Self::Redder,
        Self::TrendCarbon,
    ];

    /// The columns of a tree, in order. A steel that looks the same speaks for itself.
    pub const TREE: &[Self] = Self::ALL.split_at(9).0;

    /// What tells carbon: [`Self::Harder`] says how to read the others, colours tell other metals.
    pub const OF_CARBON: [Self; 9] = [
        Self::ShareBursting,
        Self::Rays,
        Self::Tiers,
        Self::Onset,
        Self::BurstRatio,
        Self::CarrierRatio,
        Self::LengthRatio,
        Self::FineSparking,
        Self::LooksLike,
    ];

    /// Name in trees and training data.
    pub fn column(self) -> &'static str {
        match self {
            Self::ShareBursting => "share_bursting",
            Self::Rays => "rays",
            Self::Tiers => "tiers",
            Self::Onset => "onset",
            Self::BurstRatio => "burst_ratio",
            Self::CarrierRatio => "carrier_ratio",
            Self::LengthRatio => "length_ratio",
            Self::FineSparking => "fine_sparking",
            Self::Harder => "harder",
            Self::LooksLike => "looks_like_wt_pct",
            Self::Colour => "colour",
            Self::ColourTip => "colour_tip",
            Self::Redder => "redder",
            Self::TrendCarbon => "trend_wt_pct",
        }
    }
}
