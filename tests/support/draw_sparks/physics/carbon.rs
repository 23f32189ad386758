//! How sparks of plain steel change with carbon: low, typical and high value in ten bands, from 0.025 to
//! 1.15 %C. All numbers: the starter table of features by carbon, compiled from trade texts (burst
//! classes: JIS G 0566, OD1643, NAVEDTRA 14345, Chinese heat-treaters' texts; most cells are
//! interpolations between those anchors and so judgements).

use crate::support::draw_sparks::dice::Dice;

type Cell = (f64, f64, f64);

/// Middle of each band, %C.
const BANDS: [f64; 10] = [0.025, 0.075, 0.14, 0.215, 0.30, 0.40, 0.525, 0.70, 0.90, 1.15];

/// Share of carriers with a burst.
const BURST_FRACTION: [Cell; 10] = [
    (0.0, 0.02, 0.05),
    (0.02, 0.08, 0.15),
    (0.05, 0.15, 0.3),
    (0.15, 0.27, 0.4),
    (0.25, 0.4, 0.55),
    (0.4, 0.55, 0.7),
    (0.6, 0.7, 0.85),
    (0.7, 0.82, 0.95),
    (0.8, 0.9, 1.0),
    (0.85, 0.93, 1.0),
];
/// Rays of a first burst; the table stops at 8, "many".
const RAYS: [Cell; 10] = [
    (1.0, 1.5, 2.0),
    (2.0, 2.5, 3.0),
    (3.0, 4.0, 5.0),
    (5.0, 6.0, 8.0),
    (6.0, 7.0, 8.0),
    (7.0, 8.0, 9.0),
    (7.0, 8.5, 11.0),
    (7.0, 9.0, 12.0),
    (7.0, 9.0, 13.0),
    (7.0, 9.0, 13.0),
];
/// Bursts with a ray that bursts again, share.
const SECONDARY: [Cell; 10] = [
    (0.0, 0.0, 0.0),
    (0.0, 0.0, 0.02),
    (0.0, 0.01, 0.05),
    (0.0, 0.03, 0.1),
    (0.05, 0.2, 0.35),
    (0.25, 0.45, 0.65),
    (0.45, 0.65, 0.85),
    (0.6, 0.8, 0.95),
    (0.7, 0.88, 1.0),
    (0.75, 0.9, 1.0),
];
/// Highest tier seen in a quarter of the bursts.
const TIERS: [Cell; 10] = [
    (0.0, 0.0, 0.0),
    (1.0, 1.0, 1.0),
    (1.0, 1.0, 1.0),
    (1.0, 1.0, 1.0),
    (1.0, 1.5, 2.0),
    (2.0, 2.0, 3.0),
    (2.0, 2.5, 3.0),
    (3.0, 3.0, 3.0),
    (3.0, 3.0, 4.0),
    (3.0, 3.0, 4.0),
];
/// Where the first quarter of the bursts lies, share of the stream's length.
const ONSET: [Cell; 10] = [
    (0.85, 0.9, 0.95),
    (0.8, 0.87, 0.95),
    (0.7, 0.83, 0.95),
    (0.6, 0.75, 0.9),
    (0.5, 0.68, 0.8),
    (0.45, 0.62, 0.8),
    (0.3, 0.47, 0.65),
    (0.15, 0.32, 0.5),
    (0.05, 0.18, 0.35),
    (0.0, 0.12, 0.25),
];
/// Bursts per area of stream, over those of 0.2 %C.
const DENSITY: [f64; 10] = [0.05, 0.35, 0.7, 1.0, 1.6, 2.1, 2.8, 3.4, 3.9, 4.1];
/// Carriers over those of 0.2 %C.
const COUNT: [Cell; 10] = [
    (0.7, 0.85, 1.0),
    (0.8, 0.9, 1.0),
    (0.9, 0.97, 1.05),
    (0.95, 1.0, 1.05),
    (1.0, 1.15, 1.3),
    (1.1, 1.3, 1.6),
    (1.3, 1.6, 2.0),
    (1.5, 1.9, 2.5),
    (1.7, 2.1, 2.8),
    (1.8, 2.2, 3.0),
];
/// Length over that of 0.2 %C.
const LENGTH: [Cell; 10] = [
    (0.85, 0.93, 1.0),
    (0.9, 0.97, 1.05),
    (0.95, 1.0, 1.05),
    (0.95, 1.0, 1.05),
    (0.9, 1.0, 1.1),
    (0.85, 0.98, 1.1),
    (0.8, 0.95, 1.1),
    (0.75, 0.87, 1.0),
    (0.7, 0.82, 0.95),
    (0.65, 0.78, 0.9),
];
/// Brightness over that of 0.2 %C.
const BRIGHTNESS: [Cell; 10] = [
    (0.5, 0.6, 0.7),
    (0.6, 0.7, 0.8),
    (0.7, 0.85, 0.95),
    (0.95, 1.0, 1.05),
    (1.0, 1.15, 1.3),
    (1.1, 1.3, 1.5),
    (1.2, 1.4, 1.6),
    (1.0, 1.25, 1.5),
    (0.8, 1.05, 1.3),
    (0.7, 0.95, 1.2),
];
/// Pollen, 0 none to 2 much.
const POLLEN: [f64; 10] = [0.0, 0.0, 0.0, 0.0, 0.5, 1.0, 1.5, 2.0, 2.0, 2.0];
/// Dim red share of the length at the wheel.
const DARK_ROOT: [f64; 10] = [0.03, 0.03, 0.04, 0.05, 0.07, 0.09, 0.12, 0.17, 0.22, 0.26];
/// Share of carriers with a burst where `DENSITY` and `COUNT` are 1 (0.2 %C).
const BURSTS_PER_CARRIER_AT_1: f64 = 0.29;

/// How one piece of steel sparks on one touch: drawn once for a picture.
pub(crate) struct Steel {
    pub(crate) carbon_wt_pct: f64,
    pub(crate) burst_fraction: f64,
    pub(crate) rays: f64,
    pub(crate) secondary_share: f64,
    pub(crate) tiers: usize,
    pub(crate) onset: f64,
    /// Bursts beyond the first on a carrier that bursts.
    pub(crate) more_bursts: f64,
    pub(crate) count_rel: f64,
    pub(crate) length_rel: f64,
    pub(crate) brightness_rel: f64,
    pub(crate) pollen: f64,
    pub(crate) dark_root: f64,
}

impl Steel {
    pub(crate) fn draw(carbon_wt_pct: f64, dice: &mut Dice) -> Self {
        let c = carbon_wt_pct;
        let mut draw = |cells: &[Cell; 10]| {
            let side = |f: fn(&Cell) -> f64| between(c, |i| f(&cells[i]));
            // half the table's scatter is from steel to steel and touch to touch: judgement
            let (low, typical, high) = (side(|x| x.0), side(|x| x.1), side(|x| x.2));
            0.5 * typical + 0.5 * dice.triangle(low, typical, high)
        };
        let burst_fraction = draw(&BURST_FRACTION).clamp(0.0, 1.0);
        let count_rel = draw(&COUNT);
        let rays = draw(&RAYS);
        let secondary_share = draw(&SECONDARY);
        let tiers = draw(&TIERS);
        let (onset, length_rel, brightness_rel) = (draw(&ONSET), draw(&LENGTH), draw(&BRIGHTNESS));
        let per_carrier = BURSTS_PER_CARRIER_AT_1 * between(c, |i| DENSITY[i] / COUNT[i].1);
        // the table's density leaves hardly a second burst per carrier; trade pictures of rich steel show
        // many ("fine, repeating"), so at least a tenth to a half: judgement
        let more_bursts = (per_carrier / burst_fraction.max(0.05) - 1.0).max(0.08 + 0.5 * c.min(1.0));
        Self {
            carbon_wt_pct,
            burst_fraction,
            rays,
            secondary_share,
            tiers: (tiers + dice.unit() * 0.999) as usize,
            onset,
            more_bursts,
            count_rel,
            length_rel,
            brightness_rel,
            pollen: between(c, |i| POLLEN[i]),
            dark_root: between(c, |i| DARK_ROOT[i]),
        }
    }
}

/// Linear between the bands' middles.
fn between(carbon: f64, at: impl Fn(usize) -> f64) -> f64 {
    let next = BANDS.iter().position(|b| *b >= carbon).unwrap_or(BANDS.len() - 1).max(1);
    let share = ((carbon - BANDS[next - 1]) / (BANDS[next] - BANDS[next - 1])).clamp(0.0, 1.0);
    at(next - 1) * (1.0 - share) + at(next) * share
}
