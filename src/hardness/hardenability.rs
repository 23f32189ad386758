use super::Alloy;
use super::lines::{between, interval, three};
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Depth, Interval, Share};

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
    /// How many times the ideal diameter that a place asks for gives it 90 % martensite.
    pub times_for_90: Sourced<Interval<f64>>,
    /// And 99 %.
    pub times_for_99: Sourced<Interval<f64>>,
}

impl Hardenability {
    /// Richest steel that the factors hold for, wt%.
    pub fn richest(&self) -> f64 {
        self.carbon.value.last().map_or(0.0, |piece| piece.to)
    }

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

    /// Share of martensite where a place asks for a steel of ideal diameter `asked` and has one of `ideal`: the least,
    /// likeliest and greatest. Half by definition where both are one, 0.90 and 0.99 at their multiples, straight lines
    /// between, 0.99 at most. `None`: less than half, where no table tells any more.
    pub fn martensite(&self, ideal: &Interval<Depth>, asked: &Interval<Depth>) -> [Option<Share>; 3] {
        let log = |over: Depth, under: Depth| libm::log(over.metres() / under.metres());
        let best = log(ideal.best(), asked.best());
        let down = log(ideal.best(), ideal.low()).hypot(log(asked.high(), asked.best()));
        let up = log(ideal.high(), ideal.best()).hypot(log(asked.best(), asked.low()));
        let (ninety, most) = (&self.times_for_90.value, &self.times_for_99.value);
        let share = |log: f64, ninety: f64, most: f64| {
            let times = libm::exp(log).min(most);
            between(&[(1.0, 0.5), (ninety, 0.9), (most, 0.99)], times).and_then(|f| Share::new(f).ok())
        };
        [
            share(best - down, ninety.high(), most.high()),
            share(best, ninety.best(), most.best()),
            share(best + up, ninety.low(), most.low()),
        ]
    }
}
