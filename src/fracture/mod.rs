//! What the fracture face shows: described in words.

mod description;

pub use description::{
    Broken, FaceDescription, FractureDescription, QuenchHeat, Quenching, Rim, RimDepth, Tempering, Texture,
};
