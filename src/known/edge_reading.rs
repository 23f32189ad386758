use crate::sources::Sourced;
use crate::steel::QuenchMedium;
use crate::units::{CarbonPercent, Interval};

/// Quenches that show an edge at different carbon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum EdgeQuench {
    /// Water or brine.
    Water,
    /// Oil.
    Oil,
}

impl EdgeQuench {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::Water, Self::Oil];

    /// That of a medium.
    pub fn of(medium: QuenchMedium) -> Self {
        match medium {
            QuenchMedium::Water | QuenchMedium::Brine => Self::Water,
            QuenchMedium::Oil => Self::Oil,
        }
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Water => "water or brine",
            Self::Oil => "oil",
        }
    }
}

/// What is believed of the visible edge before any coupon, and how coupons tell it: `models/visible-edge.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeReading {
    /// Carbon at the edge in water or brine, wt%: nine in ten coupons.
    pub water: Sourced<Interval<CarbonPercent>>,
    /// The same in oil.
    pub oil: Sourced<Interval<CarbonPercent>>,
    /// From coupon to coupon, standard deviation, wt%.
    pub between_coupons: Sourced<Interval<f64>>,
    /// Carbon at the surface of a case, wt%.
    pub surface: Sourced<Interval<f64>>,
    /// Depth at which a case has lost 1 - 1/e of what it has over the core, mm.
    pub reach: Sourced<Interval<f64>>,
    /// Exponent of its fall, -.
    pub bluntness: Sourced<Interval<f64>>,
    /// How far a true case lies beside its curve, standard deviation, wt%.
    pub off_curve: Sourced<f64>,
    /// How far the depth of a point is off, mm, nine in ten.
    pub point_depth: Sourced<f64>,
    /// How far its carbon is off, wt%, nine in ten.
    pub point_carbon: Sourced<f64>,
    /// How far its hardness is off, HRC, nine in ten.
    pub point_hardness: Sourced<f64>,
    /// Carbon above the core where an etched zone ends, wt%.
    pub etched: Sourced<Interval<f64>>,
    /// Share of martensite in water or brine, 0 to 1.
    pub water_martensite: Sourced<Interval<f64>>,
    /// The same in oil.
    pub oil_martensite: Sourced<Interval<f64>>,
    /// How often a reading is plainly wrong, 0 to 1.
    pub slip: Sourced<f64>,
    /// How deep such a reading may be, mm.
    pub slip_depth: Sourced<f64>,
}

impl EdgeReading {
    /// What is believed of a quench before any coupon, wt%.
    pub fn before(&self, quench: EdgeQuench) -> &Interval<CarbonPercent> {
        match quench {
            EdgeQuench::Water => &self.water.value,
            EdgeQuench::Oil => &self.oil.value,
        }
    }

    /// Share that becomes martensite in a quench, 0 to 1.
    pub fn martensite(&self, quench: EdgeQuench) -> &Interval<f64> {
        match quench {
            EdgeQuench::Water => &self.water_martensite.value,
            EdgeQuench::Oil => &self.oil_martensite.value,
        }
    }
}
