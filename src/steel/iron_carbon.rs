//! Constants of the iron-carbon system that several laws share.

/// Gas constant, J/(mol K). CODATA 2018, exact.
pub const GAS_CONSTANT_J: f64 = 8.314_462_618;
/// Molar mass of carbon, g/mol.
const M_C: f64 = 12.011;
/// Molar mass of iron, g/mol.
const M_FE: f64 = 55.845;

/// Moles of carbon per mole of iron, y = x/(1-x), of `wt` percent carbon by weight.
pub fn mole_ratio(wt: f64) -> f64 {
    (wt / M_C) / ((100.0 - wt) / M_FE)
}

/// Percent by weight of so many moles of carbon per mole of iron: [`mole_ratio`] turned round.
pub fn wt_percent(moles: f64) -> f64 {
    100.0 * moles * M_C / (moles * M_C + M_FE)
}
