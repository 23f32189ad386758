//! Decision trees.
mod coded;
mod draws;
mod engine;
mod fit;
mod fitted;
mod node;
mod settings;
mod side;
mod steadiness;
mod training;
mod walk;

pub use fit::fit;
pub use fitted::{Tree, TreeError};
pub use node::Node;
pub use settings::Settings;
pub use side::Side;
pub use steadiness::{Steadiness, SteadinessError};
pub use training::{FitError, Row, Training};
pub use walk::{Step, Turn, Walk, WalkError};
