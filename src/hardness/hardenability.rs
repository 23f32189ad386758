use super::Alloy;
use super::lines::{interval, three};
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Depth, Interval};

/// One piece of the carbon factor: `k0 + k1 C + k2 C²`, inch, up to `to` wt%.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarbonPiece {
    /// Most carbon that it holds for, wt%.
    pub to: f64,
    /// Constants, inch, for wt% C.
    pub k: [f64; 3],
}

/// Ideal diameter of plain carbon steel, ASTM A255-10, grain size 7: the round bar whose centre
/// becomes half martensite in a quench of endless severity.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardenability {
    /// Pieces of the carbon factor, carbon rising.
    pub carbon: Sourced<Vec<CarbonPiece>>,
    /// Factor 1 + this × Mn, per wt%.
    pub manganese: Sourced<f64>,
    /// Factor 1 + this × Si, per wt%.
    pub silicon: Sourced<f64>,
    /// Manganese that its factor holds for, wt%.
    pub manganese_range: Sourced<Interval<f64>>,
    /// Silicon that its factor holds for, wt%.
    pub silicon_range: Sourced<Interval<f64>>,
    /// Factor on the diameter.
    pub spread: Sourced<Interval<f64>>,
}

impl Hardenability {
    /// Ideal diameter: f(C) (1 + 3.3333 Mn) (1 + 0.7 Si). `carbon` is dissolved carbon; `None` above
    /// 0.90 %C and outside the ranges of manganese and silicon.
    pub fn ideal_diameter(&self, carbon: CarbonPercent, alloy: &Alloy) -> Option<Interval<Depth>> {
        /// Millimetres per inch, exact.
        const INCH: f64 = 25.4;
        let Alloy { manganese, silicon } = *alloy;
        let inside = |range: &Interval<f64>, n: f64| range.low() <= n && n <= range.high();
        if !inside(&self.manganese_range.value, manganese) || !inside(&self.silicon_range.value, silicon) {
            return None;
        }
        let c = carbon.wt_percent();
        let [k0, k1, k2] = self.carbon.value.iter().find(|piece| c <= piece.to)?.k;
        let factor = k0 + c * (k1 + c * k2);
        let alloyed = (1.0 + self.manganese.value * manganese) * (1.0 + self.silicon.value * silicon);
        let millimetres = factor * alloyed * INCH;
        interval(three(&self.spread.value, |share| millimetres * share), Depth::from_millimetres)
    }
}
