use crate::units::CarbonPercent;

/// Carbon bands that sparks can tell apart. The top band is open: above 0.85 %C the spark test
/// saturates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CarbonBand {
    /// Up to 0.10 %C.
    UpTo010,
    /// 0.10 to 0.25 %C.
    From010,
    /// 0.25 to 0.45 %C.
    From025,
    /// 0.45 to 0.65 %C.
    From045,
    /// 0.65 to 0.85 %C.
    From065,
    /// 0.85 %C and more.
    From085,
}

impl CarbonBand {
    /// All bands, the leanest first.
    pub const ALL: [Self; 6] =
        [Self::UpTo010, Self::From010, Self::From025, Self::From045, Self::From065, Self::From085];

    /// Lower edges of the bands in wt%. Sources: JIS G 0566 first splits (0.25), spark charts (0.45 to
    /// 0.65), saturation near 0.8; 0.10, 0.45 and 0.65 are judgements.
    const LOWER: [f64; 6] = [0.0, 0.10, 0.25, 0.45, 0.65, 0.85];

    /// The band that holds `carbon`; an edge belongs to the band above it.
    pub fn of(carbon: CarbonPercent) -> Self {
        let above = Self::LOWER.partition_point(|edge| *edge <= carbon.wt_percent());
        Self::ALL[above.saturating_sub(1)]
    }

    /// Place in [`Self::ALL`].
    pub fn index(self) -> usize {
        self as usize
    }

    /// Edges in wt%; the top band has no upper one.
    pub fn edges(self) -> (f64, Option<f64>) {
        let i = self.index();
        (Self::LOWER[i], Self::LOWER.get(i + 1).copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_meet_without_gaps() {
        let of = |wt| CarbonBand::of(CarbonPercent::new(wt).unwrap());
        for (wt, band) in [
            (0.0, CarbonBand::UpTo010),
            (0.0999, CarbonBand::UpTo010),
            (0.10, CarbonBand::From010),
            (0.449, CarbonBand::From025),
            (0.85, CarbonBand::From085),
            (3.0, CarbonBand::From085),
        ] {
            assert_eq!(of(wt), band, "{wt}");
        }
        for pair in CarbonBand::ALL.windows(2) {
            assert_eq!(pair[0].edges().1, Some(pair[1].edges().0));
        }
        assert_eq!(CarbonBand::From085.edges(), (0.85, None));
    }
}
