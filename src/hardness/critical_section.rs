use super::lines::interval;
use crate::sources::Sourced;
use crate::steel::QuenchMedium;
use crate::units::{Depth, Interval};

/// How the bath was stirred, in the words of the table of severities.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stirring {
    /// Neither bath nor piece moved.
    None,
    /// Mild.
    Mild,
    /// Moderate.
    Moderate,
    /// Good.
    Good,
    /// Strong.
    Strong,
    /// Violent: a spray or a jet.
    Violent,
}

impl Stirring {
    /// All words.
    pub const WORDS: [(&'static str, Self); 6] = [
        ("none", Self::None),
        ("mild", Self::Mild),
        ("moderate", Self::Moderate),
        ("good", Self::Good),
        ("strong", Self::Strong),
        ("violent", Self::Violent),
    ];
}

/// Severity of a quench, H = h / 2k.
#[derive(Debug, Clone, PartialEq)]
pub struct Severity {
    /// What it was quenched in.
    pub medium: QuenchMedium,
    /// How that was stirred.
    pub stirring: Stirring,
    /// H, 1/inch.
    pub per_inch: Sourced<Interval<f64>>,
}

/// Body whose middle is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Body {
    /// Long round bar; its size is the diameter.
    Bar,
    /// Wide plate; its size is the thickness.
    Plate,
}

/// Largest bar or plate whose middle becomes half martensite: the middle must fall half of the way
/// to the bath in the same time as the middle of the ideal bar does in a quench of endless severity.
/// An estimate. Principle: M. A. Grossmann, M. Asimow, S. F. Urban (from memory). The time is the
/// first term of the series for a body with Biot number H × size, size in inch; at half of the way
/// the other terms change a size by under 1 %.
///
/// The low end has the least ideal diameter and severity, the high end the most.
pub fn largest_section(
    body: Body,
    ideal: &Interval<Depth>,
    severity: &Interval<f64>,
) -> Option<Interval<Depth>> {
    let sizes = [
        size(body, ideal.low(), severity.low()),
        size(body, ideal.best(), severity.best()),
        size(body, ideal.high(), severity.high()),
    ];
    interval(sizes, Depth::from_metres)
}

/// Size, m, for one ideal diameter and one severity, 1/inch.
fn size(body: Body, ideal: Depth, severity: f64) -> f64 {
    /// Metres per inch, exact.
    const INCH: f64 = 0.0254;
    /// First root of J0, the Biot number being endless.
    const ENDLESS: f64 = 2.404_825_557_695_773;
    let coefficient = 2.0 / (ENDLESS * libm::j1(ENDLESS));
    // times × diffusivity, m²
    let wanted = (ideal.metres() / 2.0).powi(2) * half_way(ENDLESS, coefficient);
    let takes = |size: f64| (size / 2.0).powi(2) * body.half_way(severity * size / INCH);
    let (mut low, mut high) = (0.0, ideal.metres());
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if takes(middle) < wanted { low = middle } else { high = middle }
    }
    low
}

/// Fourier number at which `coefficient` exp(-`root`² Fo) is a half.
fn half_way(root: f64, coefficient: f64) -> f64 {
    libm::log(2.0 * coefficient) / (root * root)
}

impl Body {
    /// Fourier number, on half the size, at which the middle is half of the way to the bath.
    fn half_way(self, biot: f64) -> f64 {
        let root = self.root(biot);
        let coefficient = match self {
            Self::Bar => {
                let (j0, j1) = (libm::j0(root), libm::j1(root));
                2.0 * j1 / (root * (j0 * j0 + j1 * j1))
            }
            Self::Plate => 4.0 * libm::sin(root) / (2.0 * root + libm::sin(2.0 * root)),
        };
        half_way(root, coefficient)
    }

    /// First root of `x J1(x) = Bi J0(x)` or of `x sin x = Bi cos x`.
    fn root(self, biot: f64) -> f64 {
        let beyond = |x: f64| match self {
            Self::Bar => x * libm::j1(x) > biot * libm::j0(x),
            Self::Plate => x * libm::sin(x) > biot * libm::cos(x),
        };
        let (mut low, mut high) = match self {
            Self::Bar => (0.0, 2.404_825_557_695_773),
            Self::Plate => (0.0, std::f64::consts::FRAC_PI_2),
        };
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if beyond(middle) { high = middle } else { low = middle }
        }
        high
    }
}
