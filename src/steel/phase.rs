use super::{GAS_CONSTANT_J, mole_ratio};
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Temperature};

/// `a + b u + c u²`, u = (T - 900 °C) / 100 K, in wt% carbon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quadratic {
    /// Constant term, wt%.
    pub a: f64,
    /// Linear term, wt%.
    pub b: f64,
    /// Quadratic term, wt%.
    pub c: f64,
}

impl Quadratic {
    /// Value in wt% at `kelvin`.
    pub fn at(&self, kelvin: f64) -> f64 {
        let u = (kelvin - 1173.15) / 100.0;
        self.a + u * (self.b + u * self.c)
    }
}

/// Iron-carbon phase limits of austenite, as fitted forms with their range.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseLimits {
    /// Eutectoid temperature A1: below it no austenite, so neither diffusion nor exchange here.
    pub a1: Sourced<Temperature>,
    /// Highest temperature of the fits (Fe-C eutectic): above it the case can melt.
    pub eutectic: Sourced<Temperature>,
    /// Acm: carbon of austenite in equilibrium with cementite.
    pub acm: Sourced<Quadratic>,
    /// Carbon of austenite in equilibrium with graphite.
    pub graphite: Sourced<Quadratic>,
    /// Carbon activity in austenite, graphite = 1:
    /// ln a = ln(y/(1-y)) + (c0 + c1 y - c2 T)/(R T), c in J/mol, y = x/(1-x).
    pub activity: Sourced<[f64; 3]>,
    /// A3 in °C as a cubic in wt% C.
    pub a3: Sourced<[f64; 4]>,
}

impl PhaseLimits {
    /// Acm in wt% at `kelvin`; the fit holds from A1 to the eutectic.
    pub fn acm_wt_percent(&self, kelvin: f64) -> f64 {
        self.acm.value.at(kelvin)
    }

    /// Carbon activity of austenite relative to graphite; carbon above 0.
    pub fn activity(&self, carbon: CarbonPercent, t: Temperature) -> f64 {
        let c = carbon.wt_percent();
        let y = mole_ratio(c);
        let [c0, c1, c2] = self.activity.value;
        let kelvin = t.kelvin();
        libm::exp(libm::log(y / (1.0 - y)) + (c0 + c1 * y - c2 * kelvin) / (GAS_CONSTANT_J * kelvin))
    }

    /// A3 of plain iron-carbon in °C for `carbon` of 0.02 to 0.76 wt%.
    pub fn a3_celsius(&self, carbon: CarbonPercent) -> f64 {
        self.a3.value.iter().rev().fold(0.0, |sum, k| sum * carbon.wt_percent() + k)
    }
}
