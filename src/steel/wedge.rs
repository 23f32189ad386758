use crate::units::Depth;

/// The edge of a blade in cross-section, as it stands in the pack: faces that open from the edge at an angle, until
/// the height is reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wedge {
    /// Half of the angle between the faces, radians; above 0, under π/4.
    half_angle: f64,
    /// Thickness of the edge.
    edge: Depth,
    /// From the edge to the back.
    height: Depth,
}

impl Wedge {
    /// Widest angle between the faces, degrees: more is a chisel's, whose corner is no thin section.
    pub const WIDEST_DEGREES: f64 = 60.0;

    /// From the angle between the faces. `None` unless it is above 0 and at most [`Self::WIDEST_DEGREES`].
    pub fn new(degrees: f64, edge: Depth, height: Depth) -> Option<Self> {
        let fits = degrees > 0.0 && degrees <= Self::WIDEST_DEGREES && height > Depth::ZERO;
        fits.then(|| Self { half_angle: degrees.to_radians() / 2.0, edge, height })
    }

    /// An angle between faces as people write it: `20`, `20 degrees`, `20°`. `Err`: what is wrong.
    pub fn degrees_of(text: &str) -> Result<f64, String> {
        let bare =
            text.trim().trim_end_matches("degrees").trim_end_matches("deg").trim_end_matches('°').trim();
        let degrees: f64 =
            bare.parse().map_err(|_| format!("`{bare}` is no angle; write degrees, such as 20"))?;
        if degrees > 0.0 && degrees <= Self::WIDEST_DEGREES {
            Ok(degrees)
        } else {
            Err(format!("allowed: more than 0 to {} degrees between the faces", Self::WIDEST_DEGREES))
        }
    }

    /// Angle between the faces, degrees.
    pub fn degrees(&self) -> f64 {
        (2.0 * self.half_angle).to_degrees()
    }

    /// Thickness of the edge.
    pub fn edge(&self) -> Depth {
        self.edge
    }

    /// From the edge to the back.
    pub fn height(&self) -> Depth {
        self.height
    }

    /// Thickness across, so far behind the edge, m.
    pub fn thickness(&self, behind: f64) -> f64 {
        self.edge.metres() + 2.0 * behind * libm::tan(self.half_angle)
    }

    /// From the middle straight to the nearer face, so far behind the edge, m: half of the plate that carbon moves
    /// through there.
    pub fn half(&self, behind: f64) -> f64 {
        // both faces were turned about the ends of the edge
        self.edge.metres() / 2.0 + behind * libm::sin(self.half_angle)
    }

    /// What [`Self::half`] grows by for every metre behind the edge, -.
    pub fn half_per_metre(&self) -> f64 {
        libm::sin(self.half_angle)
    }

    /// How far behind the edge the middle is so far from either face, m; 0 if it is everywhere.
    pub fn behind(&self, half: f64) -> f64 {
        ((half - self.edge.metres() / 2.0) / libm::sin(self.half_angle)).max(0.0)
    }

    /// How far the edge moves back, m, when `off` is ground off both faces; 0 if the edge is thick enough for it.
    pub fn set_back(&self, off: Depth) -> f64 {
        self.behind(off.metres())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(mm: f64) -> Depth {
        Depth::from_millimetres(mm).unwrap()
    }

    /// Common practice: bevel height × angle in radians is the thickness for small angles; 20° over 10 mm: 3.53 mm.
    #[test]
    fn bevel_arithmetic() {
        let wedge = Wedge::new(20.0, Depth::ZERO, mm(30.0)).unwrap();
        assert!((wedge.thickness(0.010) - 3.527e-3).abs() < 1e-6);
        assert!((wedge.half(0.010) - 1.736e-3).abs() < 1e-6);
        assert!((wedge.behind(wedge.half(0.004)) - 0.004).abs() < 1e-12);
        // 0.2 mm off each face of a sharp 20° edge takes 0.2 / sin 10° = 1.15 mm of its height
        assert!((wedge.set_back(mm(0.2)) - 1.152e-3).abs() < 1e-6);
        let blunt = Wedge::new(20.0, mm(1.5), mm(30.0)).unwrap();
        assert_eq!(blunt.set_back(mm(0.2)), 0.0);
        assert!((blunt.degrees() - 20.0).abs() < 1e-12);
        assert!(Wedge::new(0.0, mm(1.0), mm(1.0)).is_none() && Wedge::new(61.0, mm(1.0), mm(1.0)).is_none());
    }
}
