use crate::sources::Sourced;
use crate::steel::{GAS_CONSTANT_J, mole_ratio};
use crate::units::{CarbonPercent, Diffusivity, Interval, OutOfRange, Temperature};

/// Gas constant in thermochemical calories, cal/(mol K).
const R_CAL: f64 = 1.987_204_259;
/// The formula of a diffusivity law; constants come from `models/diffusivity.toml`.
/// C is wt% carbon, x its mole fraction, y = x/(1-x), T kelvin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// D = d0 exp(-q / RT); d0 m²/s, q J/mol.
    Arrhenius {
        /// m²/s.
        d0: f64,
        /// J/mol.
        q: f64,
    },
    /// D = (a + b C) exp(-q / RT); a, b m²/s, q cal/mol.
    LinearArrhenius {
        /// m²/s.
        a: f64,
        /// m²/s per wt%.
        b: f64,
        /// cal/mol.
        q: f64,
    },
    /// D = d0 (1 + y(1-y) w/T) exp(-(1/T - t0)(q - p y)); d0 m²/s, w q p in K, t0 in 1/K.
    Agren {
        /// m²/s.
        d0: f64,
        /// K.
        w: f64,
        /// 1/K.
        t0: f64,
        /// K.
        q: f64,
        /// K.
        p: f64,
    },
    /// D = d0 exp(-a C - (q - p C) / RT); d0 m²/s, a 1/wt%, q p in cal/mol.
    Tibbetts {
        /// m²/s.
        d0: f64,
        /// 1/wt%.
        a: f64,
        /// cal/mol.
        q: f64,
        /// cal/mol per wt%.
        p: f64,
    },
    /// D = (d0 - d1 C) exp(-(q0 - q1 C + q2 C²) / RT), no alloy; d0 d1 m²/s, q in J/mol.
    Lee {
        /// m²/s.
        d0: f64,
        /// m²/s per wt%.
        d1: f64,
        /// J/mol.
        q0: f64,
        /// J/mol per wt%.
        q1: f64,
        /// J/mol per wt%².
        q2: f64,
    },
    /// D = d0 exp(-a x)/(1 - b x) exp(-(q - p x) / RT); d0 m²/s, q p in J/mol.
    Slycke {
        /// m²/s.
        d0: f64,
        /// -
        a: f64,
        /// -
        b: f64,
        /// J/mol.
        q: f64,
        /// J/mol.
        p: f64,
    },
}

/// Use that a law may be put to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Fit for predictions.
    Prediction,
    /// Constant pairs, kept only to reproduce textbook answers.
    Textbook,
}

/// A diffusivity law of carbon in austenite.
#[derive(Debug, Clone, PartialEq)]
pub struct Law {
    /// Name used in run sheets, author and year.
    pub name: String,
    /// Formula with its constants and their source.
    pub form: Sourced<Form>,
    /// Temperatures that it was made for.
    pub range: Interval<Temperature>,
    /// What it may be used for.
    pub purpose: Purpose,
}

impl Law {
    /// Diffusivity at a temperature and a carbon content.
    pub fn diffusivity(&self, t: Temperature, c: CarbonPercent) -> Result<Diffusivity, OutOfRange> {
        Diffusivity::new(self.form.value.at(t.kelvin(), c.wt_percent()))
    }
}

impl Form {
    /// Diffusivity in m²/s at `kelvin` and `wt` percent carbon.
    pub fn at(&self, kelvin: f64, wt: f64) -> f64 {
        use libm::exp;
        match *self {
            Self::Arrhenius { d0, q } => d0 * exp(-q / (GAS_CONSTANT_J * kelvin)),
            Self::LinearArrhenius { a, b, q } => (a + b * wt) * exp(-q / (R_CAL * kelvin)),
            Self::Agren { d0, w, t0, q, p } => {
                let y = mole_ratio(wt);
                d0 * (1.0 + y * (1.0 - y) * w / kelvin) * exp(-(1.0 / kelvin - t0) * (q - p * y))
            }
            Self::Tibbetts { d0, a, q, p } => d0 * exp(-a * wt - (q - p * wt) / (R_CAL * kelvin)),
            Self::Lee { d0, d1, q0, q1, q2 } => {
                (d0 - d1 * wt) * exp(-(q0 - q1 * wt + q2 * wt * wt) / (GAS_CONSTANT_J * kelvin))
            }
            Self::Slycke { d0, a, b, q, p } => {
                let y = mole_ratio(wt);
                let x = y / (1.0 + y);
                d0 * exp(-a * x) / (1.0 - b * x) * exp(-(q - p * x) / (GAS_CONSTANT_J * kelvin))
            }
        }
    }
}
