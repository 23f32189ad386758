use super::{Bath, Need, Part, Question};
use crate::hardness::{Alloy, Body, Hardness, Stirring, largest_section};
use crate::prediction::Run;
use crate::steel::{Bevels, QuenchMedium, Shape};
use crate::units::{CarbonPercent, Depth};

/// What the piece is to be quenched in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Quenching {
    /// Thickness that must harden, mm, if known.
    pub(super) thickness_mm: Option<f64>,
    /// The medium that is advised.
    pub(super) medium: QuenchMedium,
    /// That section in it. `None`: without a thickness, or where the tables have no such bath.
    pub(super) bath: Option<Bath>,
}

impl Quenching {
    /// For this part of the piece, with so much carbon, wt%.
    pub(super) fn of(question: &Question<'_>, part: Part, edge_untold: bool, wt: f64) -> Self {
        let Question { run, need, hardness, .. } = *question;
        let manganese = run.stock.manganese;
        let thickness_mm = if edge_untold { None } else { thickness(run, part) };
        let medium = quenchant(hardness, &need.alloy(manganese), wt, thickness_mm);
        let body = match (run.piece, run.coupon.shape) {
            (None, Shape::Round { .. }) => Body::Bar,
            (Some(_), _) | (None, Shape::Flat { .. }) => Body::Plate,
        };
        let size = thickness_mm.and_then(|mm| Depth::from_millimetres(mm).ok());
        let bath = size.and_then(|size| Bath::of(hardness, need, manganese, medium, (body, size)));
        Self { thickness_mm, medium, bath }
    }
}

impl Need {
    /// What else is in the steel; manganese as told, low to high.
    pub fn alloy(&self, manganese: Option<(f64, f64)>) -> Alloy {
        let manganese = manganese.map_or(self.manganese.value.best(), |(low, high)| f64::midpoint(low, high));
        Alloy { manganese, silicon: self.silicon.value }
    }
}

/// Thickness of what must harden: the finished edge, else the body, else the coupon.
fn thickness(run: &Run, part: Part) -> Option<f64> {
    let edge = run.piece.and_then(|p| {
        let off = p.metal_off.unwrap_or(Depth::ZERO).millimetres();
        let sides = if p.bevels == Some(Bevels::One) { 1.0 } else { 2.0 };
        Some(p.edge_thickness?.millimetres() - sides * off).filter(|left| *left > 0.0)
    });
    let edge = edge.filter(|_| part == Part::FinishedEdge);
    let body = || run.piece.and_then(|p| p.body).map(|(thickness, _)| thickness.millimetres());
    let coupon = || run.coupon.shape.size().map(Depth::millimetres);
    edge.or_else(body).or_else(coupon)
}

/// Oil where the section surely hardens in it, or nobody knows how thin it is; else water.
pub fn quenchant(hardness: &Hardness, alloy: &Alloy, wt: f64, thickness_mm: Option<f64>) -> QuenchMedium {
    let hardens = || {
        let carbon = CarbonPercent::new(wt.min(hardness.hardenability.richest())).ok()?;
        let ideal = hardness.hardenability.ideal_diameter(carbon, alloy)?;
        let severity = hardness.severity(QuenchMedium::Oil, Stirring::Moderate)?;
        let section = largest_section(Body::Plate, &ideal, &severity.per_inch.value)?;
        Some(thickness_mm.is_none_or(|mm| mm <= section.low().millimetres()))
    };
    if hardens() == Some(true) { QuenchMedium::Oil } else { QuenchMedium::Water }
}
