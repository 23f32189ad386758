use crate::soak::WitnessMetal;
use crate::units::Temperature;

/// Two metals whose melting ranges bracket a heat: one must melt, the other must not.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WitnessPair {
    /// All melted well below the heat; the nearest. `None`: none of the table.
    pub melts: Option<WitnessMetal>,
    /// Still whole well above the heat; the nearest.
    pub stays: Option<WitnessMetal>,
}

impl WitnessPair {
    /// The nearest pair of `metals` around `heat`, each at least `step` K away from it.
    pub(super) fn around(heat: Temperature, step: f64, metals: &[WitnessMetal]) -> Self {
        let good = || {
            metals.iter().filter(|m| !m.keep_out && m.solidus.value.is_exact() && m.liquidus.value.is_exact())
        };
        let solidus = |m: &WitnessMetal| m.solidus.value.best().kelvin();
        let liquidus = |m: &WitnessMetal| m.liquidus.value.best().kelvin();
        let below = good().filter(|m| liquidus(m) <= heat.kelvin() - step);
        let above = good().filter(|m| solidus(m) >= heat.kelvin() + step);
        Self {
            melts: below.max_by(|a, b| solidus(a).total_cmp(&solidus(b))).cloned(),
            stays: above.min_by(|a, b| liquidus(a).total_cmp(&liquidus(b))).cloned(),
        }
    }

    /// What it proves when one melted and the other did not, °C: at least, and less than.
    pub fn bracket(&self) -> (Option<f64>, Option<f64>) {
        let at_least = self.melts.as_ref().map(|m| m.solidus.value.low().celsius());
        (at_least, self.stays.as_ref().map(|m| m.liquidus.value.high().celsius()))
    }
}
