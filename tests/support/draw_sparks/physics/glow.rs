//! Light of hot steel, by temperature.

/// Second radiation constant, m K (CODATA 2018: 1.438777e-2).
const C2: f64 = 1.438_777e-2;
/// Temperature whose light is white to the sensor, K: daylight, D55 (ISO 7589).
const WHITE_K: f64 = 5500.0;
/// Temperature at which the light counts as 1, K. A unit, not a finding.
const REFERENCE_K: f64 = 2000.0;
/// Wavelengths, m, and weights of a camera's red, green and blue response: broad bands about 610, 535 and
/// 460 nm. Judgement: published responses differ by model.
const BANDS: [[(f64, f64); 3]; 3] = [
    [(580e-9, 0.3), (610e-9, 0.5), (650e-9, 0.2)],
    [(500e-9, 0.25), (535e-9, 0.5), (580e-9, 0.25)],
    [(430e-9, 0.3), (460e-9, 0.5), (495e-9, 0.2)],
];

/// Planck's law per wavelength, arbitrary unit.
fn planck(wavelength: f64, kelvin: f64) -> f64 {
    wavelength.powi(-5) / ((C2 / (wavelength * kelvin)).exp() - 1.0)
}

fn bands(kelvin: f64) -> [f64; 3] {
    BANDS.map(|band| band.iter().map(|(l, w)| w * planck(*l, kelvin)).sum())
}

/// Red, green and blue light of a surface, over the mean light of the same surface at 2000 K.
pub(crate) fn glow(kelvin: f64) -> [f64; 3] {
    let (white, reference) = (bands(WHITE_K), bands(REFERENCE_K));
    let unit = (0..3).map(|c| reference[c] / white[c]).sum::<f64>() / 3.0;
    let here = bands(kelvin);
    [0, 1, 2].map(|c| here[c] / white[c] / unit)
}

/// `glow` by table, 800 to 3000 K: it is asked for millions of times.
pub(crate) struct GlowTable(Vec<[f64; 3]>);

impl GlowTable {
    const LOW_K: f64 = 800.0;
    const STEP_K: f64 = 10.0;

    pub(crate) fn new() -> Self {
        Self((0..=220).map(|i| glow(Self::LOW_K + Self::STEP_K * f64::from(i))).collect())
    }

    pub(crate) fn at(&self, kelvin: f64) -> [f64; 3] {
        let i = ((kelvin - Self::LOW_K) / Self::STEP_K).clamp(0.0, (self.0.len() - 1) as f64);
        self.0[i as usize]
    }
}
