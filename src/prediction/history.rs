use crate::stats::JointNormal;

/// What stays with furnace and container from run to run, for the most part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kept {
    /// What the thermometer is off by: true temperature minus reading, K.
    Offset,
    /// How late the steel follows: pore size of the compound, m.
    Lag,
    /// Carbon potential of the pack, as a share of Acm.
    Potential,
}

impl Kept {
    /// All, in the order of [`History::scores`].
    pub const ALL: [Self; 3] = [Self::Offset, Self::Lag, Self::Potential];
}

/// What is nobody's to know and the same in every run: what one run leaves open of it, the next one leaves open too. No run is
/// told of it by others, but what it moved in all of them alike is not taken for the furnace's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Common {
    /// The diffusivity law.
    Law,
    /// How well the compound hands carbon over.
    Transfer,
    /// The carbon at which a case seems to end.
    VisibleEdge,
}

impl Common {
    /// All.
    pub const ALL: [Self; 3] = [Self::Law, Self::Transfer, Self::VisibleEdge];
}

/// What earlier runs of the same furnace and container tell of a run, before anything was seen of it.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// Where each of [`Kept::ALL`] should lie on its own curve of what is not known: 0 its best value, 1 one standard
    /// deviation above. The standard curve of one says that nothing was told of it.
    pub scores: JointNormal,
    /// Which of them earlier runs tell of.
    pub told: Vec<Kept>,
}
