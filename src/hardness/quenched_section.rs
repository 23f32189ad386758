use super::Body;
use super::cooling::{Cooling, ideal_half_way};
use super::lines::between;
use crate::units::{Depth, Interval};

/// Metres per inch, exact.
pub(super) const INCH: f64 = 0.0254;
/// Places between face and middle that are solved; straight lines between.
const PLACES: usize = 17;

/// A section in a bath: which steel would become half martensite at each depth of it.
///
/// A place asks for the ideal diameter D of which the middle, in a quench of endless severity, is half of the way to the
/// bath after the same time: the rule of the critical section (M. A. Grossmann, M. Asimow, S. F. Urban; from memory) for
/// every depth instead of the middle alone. An estimate: heat of transformation and the change of h with heat are left out.
#[derive(Debug, Clone, PartialEq)]
pub struct QuenchedSection {
    size: Depth,
    /// Place from middle (0) to face (1), ideal diameter asked for, m: for the highest severity, the best, the lowest.
    asked: [Vec<(f64, f64)>; 3],
}

impl QuenchedSection {
    /// A bar of this diameter or a wide plate of this thickness; the severity is that of [`super::Severity::per_inch`].
    /// `None` without a size.
    pub fn new(body: Body, size: Depth, per_inch: &Interval<f64>) -> Option<Self> {
        if size <= Depth::ZERO {
            return None;
        }
        let ideal = ideal_half_way();
        let table = |severity| {
            let quenched = Cooling::new(body, severity * size.metres() / INCH);
            let place = |i: usize| i as f64 / (PLACES - 1) as f64;
            let asked = |place| size.metres() * (quenched.half_way(place) / ideal).sqrt();
            (0..PLACES).map(|i| (place(i), asked(place(i)))).collect()
        };
        Some(Self { size, asked: [per_inch.high(), per_inch.best(), per_inch.low()].map(table) })
    }

    /// What it was made for: thickness or diameter.
    pub fn size(&self) -> Depth {
        self.size
    }

    /// Ideal diameter of the steel that becomes half martensite this far below the face; beyond the middle that of the
    /// middle.
    pub fn asks_for(&self, depth: Depth) -> Interval<Depth> {
        let place = (1.0 - 2.0 * depth.metres() / self.size.metres()).clamp(0.0, 1.0);
        let at = |table: &Vec<(f64, f64)>| {
            between(table, place).and_then(|metres| Depth::from_metres(metres).ok()).unwrap_or(self.size)
        };
        let [low, best, high] = [0, 1, 2].map(|i| at(&self.asked[i]));
        Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best))
    }
}
