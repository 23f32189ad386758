use crate::sources::Sourced;
use crate::steel::GAS_CONSTANT_J;

/// Iron per oxygen in scale, by weight, -: most of it is wustite, 3.49 with full lattice and less with the iron that
/// it lacks (from memory).
const IRON_PER_OXYGEN: f64 = 3.45;
/// Density of iron near its heat treatment, g/cm³ (from memory).
const IRON_G_CM3: f64 = 7.86;
/// Share of oxygen in scale by weight, -, and its density, g/cm³ (from memory).
const OXYGEN_SHARE: f64 = 0.2265;
const SCALE_G_CM3: f64 = 5.6;

/// How iron scales in open air: the square of the oxygen taken up grows with time, kp = `rate` exp(-`activation` / RT).
#[derive(Debug, Clone, PartialEq)]
pub struct Scaling {
    /// g² cm⁻⁴ s⁻¹.
    pub rate: Sourced<f64>,
    /// J/mol.
    pub activation: Sourced<f64>,
}

/// What a heat in open air took off the surface.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Scaled {
    /// Oxygen taken up, g/cm².
    pub oxygen: f64,
}

impl Scaling {
    /// After this temperature history in open air (seconds, kelvin; straight between points), on metal that was `before`
    /// scaled already.
    pub fn after(&self, before: Scaled, points: &[(f64, f64)]) -> Scaled {
        // the square of the gain is additive in time
        let squared: f64 = points.windows(2).map(|w| self.square(w[0], w[1])).sum();
        Scaled { oxygen: (before.oxygen * before.oxygen + squared).sqrt() }
    }

    /// ∫ kp dt between two points, g²/cm⁴, by Simpson's rule on pieces of at most 10 K.
    fn square(&self, (t0, k0): (f64, f64), (t1, k1): (f64, f64)) -> f64 {
        let pieces = ((k1 - k0).abs() / 10.0).ceil().max(1.0);
        let rate =
            |kelvin: f64| self.rate.value * libm::exp(-self.activation.value / (GAS_CONSTANT_J * kelvin));
        let width = 1.0 / pieces;
        (0..pieces as usize)
            .map(|i| {
                let at = |share: f64| rate(k0 + (k1 - k0) * (i as f64 + share) * width);
                (at(0.0) + 4.0 * at(0.5) + at(1.0)) / 6.0 * width * (t1 - t0)
            })
            .sum()
    }
}

impl Scaled {
    /// Metal turned into scale, m.
    pub fn metal_lost(&self) -> f64 {
        IRON_PER_OXYGEN * self.oxygen / IRON_G_CM3 * 1e-2
    }

    /// Thickness of the scale, m.
    pub fn thickness(&self) -> f64 {
        self.oxygen / (OXYGEN_SHARE * SCALE_G_CM3) * 1e-2
    }
}
