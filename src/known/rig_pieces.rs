use super::Piece;

/// What the records of one rig are to a fit.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RigPieces {
    /// Those that can be used, in the order of the records.
    pub pieces: Vec<Piece>,
    /// What their days are called, by number.
    pub days: Vec<String>,
    /// Those that cannot, each with the reason.
    pub unused: Vec<(String, UnusedRecord)>,
}

/// Why a record takes no part in a fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnusedRecord {
    /// Sparked hardened: it throws more than its carbon says, and a rig is fitted on soft steels.
    Hardened,
    /// None of its photos can be used, or none was measured.
    NoPhoto,
    /// Nothing that was told tells carbon.
    NothingTold,
}
