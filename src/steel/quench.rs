/// What the steel was quenched in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuenchMedium {
    /// Water.
    Water,
    /// Salt water.
    Brine,
    /// Oil of any kind.
    Oil,
}

impl QuenchMedium {
    /// All media with the word used in run sheets.
    pub const WORDS: [(&'static str, Self); 3] =
        [("water", Self::Water), ("brine", Self::Brine), ("oil", Self::Oil)];
}
