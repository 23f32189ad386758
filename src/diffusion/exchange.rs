use crate::steel::PhaseLimits;

/// Carbon potential of the surroundings: the surface carbon in equilibrium with them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Potential {
    /// The same at every temperature, wt%.
    Fixed(f64),
    /// A share of Acm(T).
    ShareOfAcm(f64),
    /// The same over charcoal that air leaks to: so many times the CO2 to the square of CO that it would keep, above 1.
    /// Carbon is as many times less active. Source: CO2 + C = 2 CO at rest (O. Boudouard, Comptes Rendus 128 (1899) 98, from
    /// memory).
    Leaking {
        /// Share of Acm(T) without the leak.
        share: f64,
        /// CO2, as a multiple.
        co2: f64,
    },
}

impl Potential {
    /// wt% at `kelvin`.
    pub fn at(self, kelvin: f64, phase: &PhaseLimits) -> f64 {
        match self {
            Self::Fixed(wt) => wt,
            Self::ShareOfAcm(share) => share * phase.acm_wt_percent(kelvin),
            Self::Leaking { share, co2 } => {
                phase.less_active(share * phase.acm_wt_percent(kelvin), co2, kelvin)
            }
        }
    }

    /// Its number without any leak: wt% where it is fixed, else its share of Acm.
    pub fn number(self) -> f64 {
        match self {
            Self::Fixed(number) | Self::ShareOfAcm(number) | Self::Leaking { share: number, .. } => number,
        }
    }

    /// So many times as strong, as leaky as before.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        match self {
            Self::Fixed(wt) => Self::Fixed(wt * factor),
            Self::ShareOfAcm(share) | Self::Leaking { share, .. } => self.with_share(share * factor),
        }
    }

    /// With another share of Acm, as leaky as before.
    #[must_use]
    pub fn with_share(self, share: f64) -> Self {
        match self {
            Self::Leaking { co2, .. } => Self::Leaking { share, co2 },
            Self::Fixed(_) | Self::ShareOfAcm(_) => Self::ShareOfAcm(share),
        }
    }

    /// With so many times the CO2 that it has now; a fixed one stays what it is.
    #[must_use]
    pub fn with_co2(self, factor: f64) -> Self {
        let (share, co2) = match self {
            Self::Fixed(_) => return self,
            Self::ShareOfAcm(share) => (share, factor),
            Self::Leaking { share, co2 } => (share, co2 * factor),
        };
        if co2 > 1.0 { Self::Leaking { share, co2 } } else { Self::ShareOfAcm(share) }
    }
}

/// Which way carbon may pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// In or out, towards the potential.
    BothWays,
    /// In only: the surface gives nothing back.
    Inward,
    /// Not at all.
    Closed,
}

/// How the surface exchanges carbon with what is around it during one leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchange {
    /// Potential outside.
    pub potential: Potential,
    /// Transfer coefficient β in m/s, flux = β (potential - surface), both wt%;
    /// infinity: the surface is held at the potential.
    pub transfer: f64,
    /// Way.
    pub direction: Direction,
}

impl Exchange {
    /// Nothing passes.
    pub const CLOSED: Self =
        Self { potential: Potential::Fixed(0.0), transfer: 0.0, direction: Direction::Closed };

    /// The surface is held bare of carbon: worst case of open air.
    pub const BARE: Self =
        Self { potential: Potential::Fixed(0.0), transfer: f64::INFINITY, direction: Direction::BothWays };

    /// Highest potential between two temperatures, wt%.
    pub fn highest(&self, kelvin: (f64, f64), phase: &PhaseLimits) -> f64 {
        match self.direction {
            Direction::Closed => 0.0,
            _ => self.potential.at(kelvin.0, phase).max(self.potential.at(kelvin.1, phase)),
        }
    }
}
