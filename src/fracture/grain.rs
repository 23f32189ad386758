use crate::units::Interval;

/// Grain number of a grain a millimetre across (ASTM E112: 3.321928 log10 of the grains per mm2, less 2.954).
const OF_A_MILLIMETRE: f64 = -2.954;

/// Grain of a hard case, as seen.
///
/// A Shepherd fracture number is the ASTM number of the same grain (Vander Voort, Metallography: Principles and
/// Practice, p. 460). It is meant for a hard rim that breaks along its grains, never for a torn core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SeenGrain {
    /// ASTM E112 number: coarse end, best, fine end of the range that held it 16 times in 18, on the drawn faces that it
    /// was set on.
    Number(Interval<f64>),
    /// No grain stands out: it is finer than pixels or focus show, or hardly catches the light.
    NotSeen {
        /// The finest number that such pixels can show.
        finest: f64,
        /// The finest that they can on a face of this size from as near as it fits the picture.
        nearest: f64,
    },
}

/// ASTM E112 number of grains of a mean diameter, mm: above 0.
pub fn grain_number(diameter: f64) -> f64 {
    -2.0 * libm::log2(diameter) + OF_A_MILLIMETRE
}

/// Mean diameter of grains of an ASTM E112 number, mm.
pub fn grain_diameter(number: f64) -> f64 {
    libm::exp2((OF_A_MILLIMETRE - number) / 2.0)
}
