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

impl Section {
    /// The section of a coupon's shape.
    pub fn of(shape: &Shape) -> Self {
        match *shape {
            Shape::Flat { thickness: Some(t), faces: Faces::Both } => Self::Plate { depth: t.metres() / 2.0 },
            Shape::Flat { thickness: Some(t), faces: Faces::One } => Self::Plate { depth: t.metres() },
            Shape::Round { diameter: Some(d) } => Self::Round { radius: d.metres() / 2.0 },
            Shape::Flat { thickness: None, .. } | Shape::Round { diameter: None } => Self::Thick,
        }
    }

    /// A plate carburized from both faces.
    pub fn both_faces(thickness: Depth) -> Self {
        Self::Plate { depth: thickness.metres() / 2.0 }
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
