/// Something that is not known exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doubt {
    /// What the thermometer, the eye or the witness is off by.
    Temperature,
    /// How late the steel follows the outside.
    HeatThrough,
    /// Scatter between diffusivity laws.
    Law,
    /// Carbon potential of the pack.
    Potential,
    /// How fast the surface takes carbon up.
    Transfer,
    /// What the surface does while the pack cools.
    CoolingLaw,
    /// How long it cooled, where nobody said.
    CoolingTime,
    /// How long it was at heat and on the way there, where only that is known.
    TimeAtHeat,
    /// Carbon of the stock.
    Stock,
    /// Carbon at the edge that an eye sees.
    VisibleEdge,
    /// Whether the piece was as hot as the coupon.
    PiecePlace,
}
