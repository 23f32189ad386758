/// What kind of heat a stretch of the run is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StageKind {
    /// In the pack, heating and soaking.
    Soak,
    /// Cooling in the closed pack.
    PackCool,
    /// A later heat of the bare or wrapped piece.
    Reheat,
    /// Cooling in air after the pack was opened hot.
    AirCool,
}

/// What the surface touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surroundings {
    /// A working pack: carbon moves both ways towards the potential.
    Pack,
    /// A cooling pack: see [`CoolingLaw`].
    CoolingPack,
    /// Nothing is exchanged: foil, box without compound, scale paint.
    Sealed,
    /// Open air: carbon burns off; the surface is taken as bare of carbon (worst case).
    Air,
}

/// A stretch of the run with one kind of surface exchange.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stage {
    /// Kind, for naming.
    pub kind: StageKind,
    /// Exchange.
    pub around: Surroundings,
}

impl Stage {
    /// In the pack at heat.
    pub const SOAK: Self = Self { kind: StageKind::Soak, around: Surroundings::Pack };
    /// Cooling in the closed pack.
    pub const PACK_COOL: Self = Self { kind: StageKind::PackCool, around: Surroundings::CoolingPack };
    /// Cooling in air after opening hot.
    pub const AIR_COOL: Self = Self { kind: StageKind::AirCool, around: Surroundings::Air };
    /// A later heat without exchange.
    pub const SEALED_REHEAT: Self = Self { kind: StageKind::Reheat, around: Surroundings::Sealed };
    /// A later heat in air.
    pub const AIR_REHEAT: Self = Self { kind: StageKind::Reheat, around: Surroundings::Air };

    /// Name for reports and files.
    pub fn name(self) -> &'static str {
        match (self.kind, self.around) {
            (StageKind::Soak, _) => "soak",
            (StageKind::PackCool, _) => "cooling in the pack",
            (StageKind::AirCool, _) => "cooling in air",
            (StageKind::Reheat, Surroundings::Air) => "open-air heat",
            (StageKind::Reheat, _) => "sealed heat",
        }
    }
}

/// What the gas in a cooling pack does to the surface. Both are judgements: while the pack cools
/// the gas follows no simple rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoolingLaw {
    /// The surface gives nothing back: carbon still enters while the potential is above it.
    GivesNothingBack,
    /// The potential follows Acm(T) down, and the surface follows the potential.
    FollowsAcm,
}
