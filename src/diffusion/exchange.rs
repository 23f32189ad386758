use crate::steel::{PhaseLimits, Quadratic};

/// Carbon potential of the surroundings: the surface carbon in equilibrium with them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Potential {
    /// The same at every temperature, wt%.
    Fixed(f64),
    /// A share of Acm(T).
    ShareOfAcm(f64),
}

impl Potential {
    /// wt% at `kelvin`.
    pub fn at(self, kelvin: f64, acm: &Quadratic) -> f64 {
        match self {
            Self::Fixed(wt) => wt,
            Self::ShareOfAcm(share) => share * acm.at(kelvin),
        }
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
        let acm = &phase.acm.value;
        match self.direction {
            Direction::Closed => 0.0,
            _ => self.potential.at(kelvin.0, acm).max(self.potential.at(kelvin.1, acm)),
        }
    }
}
