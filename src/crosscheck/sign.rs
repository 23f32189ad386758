/// Something that somebody saw or not, and that some causes make likelier than others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// The skin was dark with scale when the pack was opened.
    DarkSkin,
    /// The coupon was quenched in oil.
    Oil,
    /// It was quenched straight from the soak, or hotter than a rich case wants.
    QuenchedHot,
    /// The blank of untreated stock shows the same rim.
    BlankSameRim,
    /// The blank hardened to its middle.
    BlankCoreHard,
    /// A shear lip was seen.
    ShearLip,
    /// Grain is plainly seen in the rim.
    CoarseRim,
    /// Flat bright facets in the rim.
    FacetedRim,
    /// The core did not tear.
    BrittleCore,
    /// The coupon was sparked hard, the stock soft.
    HardAgainstSoft,
    /// More than a touch had been ground off.
    GroundLong,
    /// No plain carbon steel, by sparks or magnet.
    NotPlainCarbon,
    /// Part of the container stood outside the heat.
    PartlyOut,
    /// The steel is of unknown grade.
    StockUnknown,
}

impl Sign {
    /// All, in order.
    pub const ALL: [Self; 14] = [
        Self::DarkSkin,
        Self::Oil,
        Self::QuenchedHot,
        Self::BlankSameRim,
        Self::BlankCoreHard,
        Self::ShearLip,
        Self::CoarseRim,
        Self::FacetedRim,
        Self::BrittleCore,
        Self::HardAgainstSoft,
        Self::GroundLong,
        Self::NotPlainCarbon,
        Self::PartlyOut,
        Self::StockUnknown,
    ];

    /// Name in `models/causes.toml`.
    pub fn key(self) -> &'static str {
        match self {
            Self::DarkSkin => "dark_skin",
            Self::Oil => "oil",
            Self::QuenchedHot => "quenched_hot",
            Self::BlankSameRim => "blank_same_rim",
            Self::BlankCoreHard => "blank_core_hard",
            Self::ShearLip => "shear_lip",
            Self::CoarseRim => "coarse_rim",
            Self::FacetedRim => "faceted_rim",
            Self::BrittleCore => "brittle_core",
            Self::HardAgainstSoft => "hard_against_soft",
            Self::GroundLong => "ground_long",
            Self::NotPlainCarbon => "not_plain_carbon",
            Self::PartlyOut => "partly_out",
            Self::StockUnknown => "stock_unknown",
        }
    }
}

/// One value for each of [`Sign::ALL`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BySign<T>(pub [T; Sign::ALL.len()]);

impl<T: Copy> BySign<T> {
    /// The value for `sign`.
    pub fn get(&self, sign: Sign) -> T {
        self.0[sign as usize]
    }
}

/// Chance of seeing each sign, 0 to 1, both ends left out.
pub type Chances = BySign<f64>;

/// What was seen of each sign; `None`: nobody said.
pub type Signs = BySign<Option<bool>>;

impl Signs {
    /// Chance of just these signs.
    pub(super) fn likelihood(&self, chances: &Chances) -> f64 {
        let pairs = self.0.iter().zip(&chances.0);
        pairs
            .map(|(seen, chance)| match seen {
                Some(true) => *chance,
                Some(false) => 1.0 - chance,
                None => 1.0,
            })
            .product()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_distinct_and_in_order() {
        for (i, sign) in Sign::ALL.into_iter().enumerate() {
            assert_eq!(sign as usize, i);
            assert_eq!(Sign::ALL.iter().filter(|s| s.key() == sign.key()).count(), 1, "{}", sign.key());
        }
    }

    #[test]
    fn what_nobody_looked_at_weighs_nothing() {
        let chances = BySign([0.2; Sign::ALL.len()]);
        let mut signs: Signs = BySign([None; Sign::ALL.len()]);
        assert_eq!(signs.likelihood(&chances), 1.0);
        signs.0[Sign::DarkSkin as usize] = Some(true);
        signs.0[Sign::Oil as usize] = Some(false);
        assert!((signs.likelihood(&chances) - 0.2 * 0.8).abs() < 1e-15);
    }
}
