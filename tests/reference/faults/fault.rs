/// What went wrong, exactly one in a run. Magnitudes are drawn evenly from ranges in which the fault matters to
/// a smith, and a draw that hardly changes the coupon is thrown away (`truth.rs`); both are judgements of the
/// trade, none is taken from the program's own table of causes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::reference) enum Fault {
    /// 40 to 120 K colder than all doubt of the thermometer says, or hot 30 to 80 % of the time at heat late.
    ColdSteel,
    /// 35 to 100 K hotter.
    HotSteel,
    /// Potential 0.3 to 0.75 of what it was, or a surface fed 10 to 100 times slower than live charcoal does.
    WeakPack,
    /// Open air, 4 to 15 min at 820 to 900 °C, or a pack that took back what its falling potential did not hold.
    CarbonLost,
    /// Open air under 2 min at 800 to 880 °C over a good case.
    DecarburisedSkin,
    /// In oil, the edge of the seen rim at 0.48 to 0.65 %C; or nothing hardened at all.
    SlackQuench,
    /// Potential 1.1 to 1.35 of what it was, quenched from 900 to 980 °C or straight from the soak.
    OverCarburised,
    /// Ground to where the case is all but gone.
    GroundThrough,
    /// Steel of 0.30 to 0.60 %C, at least 0.1 above the believed grade.
    WrongStock,
    /// Coupon of untold size, thin enough to be case from side to side.
    ThinCoupon,
    /// Mild steel of 0.16 %C and more that hardened to the middle in water.
    CoreHardened,
    /// A smooth lip of 0.25 to 0.9 mm taken for the rim, at least 0.2 mm off it.
    ShearLip,
    /// Sparks 0.10 to 0.30 %C too rich: hard coupon beside soft stock.
    HardAgainstSoft,
}

impl Fault {
    pub(super) const ALL: [Self; 13] = [
        Self::ColdSteel,
        Self::HotSteel,
        Self::WeakPack,
        Self::CarbonLost,
        Self::DecarburisedSkin,
        Self::SlackQuench,
        Self::OverCarburised,
        Self::GroundThrough,
        Self::WrongStock,
        Self::ThinCoupon,
        Self::CoreHardened,
        Self::ShearLip,
        Self::HardAgainstSoft,
    ];

    /// Its key among the causes.
    pub(super) fn key(self) -> &'static str {
        match self {
            Self::ColdSteel => "cold_steel",
            Self::HotSteel => "hot_steel",
            Self::WeakPack => "weak_pack",
            Self::CarbonLost => "carbon_lost",
            Self::DecarburisedSkin => "decarburised_skin",
            Self::SlackQuench => "slack_quench",
            Self::OverCarburised => "over_carburised",
            Self::GroundThrough => "ground_through",
            Self::WrongStock => "wrong_stock",
            Self::ThinCoupon => "thin_coupon",
            Self::CoreHardened => "core_hardened",
            Self::ShearLip => "shear_lip",
            Self::HardAgainstSoft => "hard_against_soft",
        }
    }
}
