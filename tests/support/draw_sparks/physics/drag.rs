//! Drag of a small sphere in cold air.

/// Density of air, kg/m3, at 20 C and 1 atm (ISO 2533:1975 standard atmosphere gives 1.225 at 15 C).
const AIR_DENSITY: f64 = 1.2;
/// Dynamic viscosity of air, Pa s, at 20 C (ISO 2533:1975, Sutherland's law: 1.81e-5).
const AIR_VISCOSITY: f64 = 1.81e-5;
/// Density of the drop, kg/m3: iron with oxide and gas; 7000 liquid iron to 7870 solid, 5200 magnetite.
/// The value is a judgement in that range.
pub(crate) const DROP_DENSITY: f64 = 7200.0;

/// Drag coefficient: 24/Re (1 + 0.15 Re^0.687), for Re up to about 800 (L. Schiller and A. Naumann, *Z.
/// VDI* 77 (1933) 318), and 0.44 above 1000 (Newton's range; from memory).
pub(crate) fn drag_coefficient(reynolds: f64) -> f64 {
    let re = reynolds.max(1e-9);
    if re < 1000.0 { 24.0 / re * (1.0 + 0.15 * re.powf(0.687)) } else { 0.44 }
}

/// Reynolds number at a speed (m/s) of a sphere (m).
pub(crate) fn reynolds(speed: f64, diameter: f64) -> f64 {
    AIR_DENSITY * speed * diameter / AIR_VISCOSITY
}

/// Deceleration per speed, 1/s: `3 Cd rho v / (4 rho_p d)`.
pub(crate) fn drag_rate(speed: f64, diameter: f64) -> f64 {
    let cd = drag_coefficient(reynolds(speed, diameter));
    0.75 * cd * AIR_DENSITY * speed / (DROP_DENSITY * diameter)
}
