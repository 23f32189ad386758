use crate::units::{Depth, Mass};

/// Which faces of a flat coupon had charcoal against them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Faces {
    /// Packed all round: the middle is half a thickness from the carbon.
    Both,
    /// One face only; the other counts as sealed.
    One,
}

/// Shape of a coupon. A missing size means "not known": then it counts as thick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Flat bar or plate.
    Flat {
        /// Thickness across the packed faces.
        thickness: Option<Depth>,
        /// Packed faces.
        faces: Faces,
    },
    /// Round bar packed all round.
    Round {
        /// Diameter.
        diameter: Option<Depth>,
    },
}

impl Shape {
    /// Whether one face of it was packed and the other was not.
    pub fn one_face(&self) -> bool {
        matches!(self, Self::Flat { faces: Faces::One, .. })
    }

    /// Thickness or diameter, if known.
    pub fn size(&self) -> Option<Depth> {
        match *self {
            Self::Flat { thickness, .. } => thickness,
            Self::Round { diameter } => diameter,
        }
    }
}

/// Density of steel, kg/m³ (common practice, no source; the reference cases use the same).
pub const STEEL_DENSITY_KG_M3: f64 = 7850.0;

impl Coupon {
    /// Packed surface in m²: from its sizes, ends and narrow edges with it; else from mass and thickness or diameter, where
    /// those are left out.
    pub fn packed_area(&self) -> Option<f64> {
        self.area_by_sizes().or_else(|| {
            let per_volume = match self.shape {
                Shape::Flat { thickness, faces: Faces::Both } => 2.0 / thickness?.metres(),
                Shape::Flat { thickness, faces: Faces::One } => 1.0 / thickness?.metres(),
                Shape::Round { diameter } => 4.0 / diameter?.metres(),
            };
            let area = self.mass_before?.kilograms() / STEEL_DENSITY_KG_M3 * per_volume;
            area.is_finite().then_some(area)
        })
    }

    fn area_by_sizes(&self) -> Option<f64> {
        let (l, w) = (self.length?.metres(), self.width.map(Depth::metres));
        Some(match self.shape {
            Shape::Flat { thickness, faces: Faces::Both } => {
                let t = thickness?.metres();
                2.0 * (l * w? + l * t + w? * t)
            }
            Shape::Flat { faces: Faces::One, .. } => l * w?,
            Shape::Round { diameter } => {
                let d = diameter?.metres();
                std::f64::consts::PI * d * (l + d / 2.0)
            }
        })
    }

    /// What its sizes would weigh, kg.
    pub fn mass_by_sizes(&self) -> Option<f64> {
        let l = self.length?.metres();
        let volume = match self.shape {
            Shape::Flat { thickness, .. } => l * self.width?.metres() * thickness?.metres(),
            Shape::Round { diameter } => std::f64::consts::FRAC_PI_4 * diameter?.metres().powi(2) * l,
        };
        Some(volume * STEEL_DENSITY_KG_M3)
    }

    /// Mass gain as weighed, g/m² of packed surface.
    pub fn gain_g_per_m2(&self) -> Option<f64> {
        Some((self.mass_after?.grams() - self.mass_before?.grams()) / self.packed_area()?)
    }
}

/// The piece of the same stock that rode along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coupon {
    /// Its shape.
    pub shape: Shape,
    /// How long it is.
    pub length: Option<Depth>,
    /// How wide, if it is flat.
    pub width: Option<Depth>,
    /// Mass before the soak, skin clean.
    pub mass_before: Option<Mass>,
    /// Mass after the soak, cooled in the closed pack, brushed, before any other heat.
    pub mass_after: Option<Mass>,
}

/// Which sides of the edge are ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bevels {
    /// Ground from both sides: the finished edge is the middle of the section.
    Both,
    /// Ground from one side: the finished edge is the other face.
    One,
}

/// Where the coupon sat compared with the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CouponPlace {
    /// Beside it, as hot.
    Same,
    /// In a hotter place than the piece.
    Hotter,
    /// In a colder place than the piece.
    Colder,
    /// Not known.
    Unknown,
}

/// The work itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What it is, in the user's words.
    pub what: String,
    /// Thickness and width of its body, for the heat that it takes up.
    pub body: Option<(Depth, Depth)>,
    /// Thickness of the edge during the soak.
    pub edge_thickness: Option<Depth>,
    /// Angle between the faces of the edge, degrees.
    pub edge_angle: Option<f64>,
    /// From the edge to the back.
    pub height: Option<Depth>,
    /// Metal that comes off each ground side after the soak.
    pub metal_off: Option<Depth>,
    /// Bevels, where known.
    pub bevels: Option<Bevels>,
    /// Where the coupon sat.
    pub coupon_place: CouponPlace,
}
