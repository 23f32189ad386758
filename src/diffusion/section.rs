use crate::steel::{Faces, Shape};
use crate::units::Depth;

/// The cross-section that carbon moves through, from one exchanging surface inward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// So thick that the far side is not felt.
    Thick,
    /// A plate down to where nothing passes: its middle, or its sealed far face.
    Plate {
        /// Surface to sealed plane, m.
        depth: f64,
    },
    /// A round bar packed all round.
    Round {
        /// Radius, m.
        radius: f64,
    },
}

/// Nothing that is soaked is thinner, m (judgement): a mesh needs some depth.
const THINNEST: f64 = 1e-6;

impl Section {
    /// The section of a coupon's shape.
    pub fn of(shape: &Shape) -> Self {
        match *shape {
            Shape::Flat { thickness: Some(t), faces: Faces::Both } => Self::both_faces(t),
            Shape::Flat { thickness: Some(t), faces: Faces::One } => {
                Self::Plate { depth: t.metres().max(THINNEST) }
            }
            Shape::Round { diameter: Some(d) } => Self::Round { radius: (d.metres() / 2.0).max(THINNEST) },
            Shape::Flat { thickness: None, .. } | Shape::Round { diameter: None } => Self::Thick,
        }
    }

    /// A plate carburized from both faces.
    pub fn both_faces(thickness: Depth) -> Self {
        Self::Plate { depth: (thickness.metres() / 2.0).max(THINNEST) }
    }

    /// With `metres` gone from its surface.
    #[must_use]
    pub fn less(self, metres: f64) -> Self {
        let left = |size: f64| (size - metres).max(THINNEST);
        match self {
            Self::Thick => Self::Thick,
            Self::Plate { depth } => Self::Plate { depth: left(depth) },
            Self::Round { radius } => Self::Round { radius: left(radius) },
        }
    }

    /// How deep it is, m; infinite if thick.
    pub fn depth(&self) -> f64 {
        match *self {
            Self::Thick => f64::INFINITY,
            Self::Plate { depth } => depth,
            Self::Round { radius } => radius,
        }
    }
}
