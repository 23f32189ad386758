use super::{GAS_CONSTANT_J, mole_ratio, wt_percent};
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

    /// Carbon of austenite in which it is `times` less active than at `carbon` wt%, at `kelvin`; times 1 or more.
    pub fn less_active(&self, carbon: f64, times: f64, kelvin: f64) -> f64 {
        /// Steps after which Newton's way has long settled: the curve is convex in the logarithm, and one way.
        const MOST_STEPS: usize = 30;
        /// Relative step at which it has.
        const SETTLED: f64 = 1e-10;
        if carbon <= 0.0 {
            return 0.0;
        }
        let [c0, c1, c2] = self.activity.value;
        let rt = GAS_CONSTANT_J * kelvin;
        let active = |y: f64| libm::log(y / (1.0 - y)) + (c0 + c1 * y - c2 * kelvin) / rt;
        let start = mole_ratio(carbon);
        let wanted = active(start) - libm::log(times);
        let mut y = start / times;
        for _ in 0..MOST_STEPS {
            let step = (active(y) - wanted) / (1.0 / (1.0 - y) + c1 * y / rt);
            y *= libm::exp(-step);
            if step.abs() < SETTLED {
                break;
            }
        }
        wt_percent(y)
    }

    /// A3 of plain iron-carbon in °C for `carbon` of 0.02 to 0.76 wt%.
    pub fn a3_celsius(&self, carbon: CarbonPercent) -> f64 {
        self.a3.value.iter().rev().fold(0.0, |sum, k| sum * carbon.wt_percent() + k)
    }
}
