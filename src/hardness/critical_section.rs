use super::cooling::{Cooling, ideal_half_way};
use super::lines::interval;
use super::quenched_section::INCH;
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
/// An estimate. Principle: M. A. Grossmann, M. Asimow, S. F. Urban (from memory).
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
    let wanted = ideal.metres().powi(2) * ideal_half_way();
    let takes = |size: f64| size * size * Cooling::new(body, severity * size / INCH).half_way(0.0);
    let (mut low, mut high) = (0.0, ideal.metres());
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if takes(middle) < wanted { low = middle } else { high = middle }
    }
    low
}
