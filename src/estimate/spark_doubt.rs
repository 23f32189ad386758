use crate::features::{FeatureName, Origin, SparkFeatures};

/// Why an answer from sparks is doubtful.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SparkDoubt {
    /// Nothing was compared with untreated stock.
    NoStock,
    /// Coupon hard, stock soft: it reads too rich.
    HardAgainstSoft,
    /// Nobody said whether both were soft.
    StateUnknown,
    /// Fewer than half of the features are known.
    FewFeatures,
    /// All from words, nothing counted.
    OnlyWords,
    /// The wheel runs slower than any source asks for: it reads too lean.
    SlowWheel,
    /// The wheel runs faster than any source prefers, as angle grinders do: it reads too rich.
    FastWheel,
    /// The sparks come from deeper than one light touch: they are not the surface's.
    GroundDeep,
    /// Photos and what was told of this feature exclude each other; the range reaches from one to the other.
    PhotosDisagree(FeatureName),
    /// Photos were turned into what an eye would tell by what drawn rigs show, not by known steels of this one.
    RigUnknown,
    /// Photos show another change inward than was told, which stands.
    InwardDisagrees,
}

/// What makes an answer from these features doubtful; `at_rig`: it is read by the known steels of a rig.
pub(super) fn doubts(features: &SparkFeatures, at_rig: bool) -> Vec<SparkDoubt> {
    let mut doubts = Vec::new();
    let against_stock = [FeatureName::BurstRatio, FeatureName::CarrierRatio, FeatureName::LengthRatio];
    if against_stock.iter().all(|n| features.get(*n).is_none()) {
        doubts.push(SparkDoubt::NoStock);
    }
    match features.get(FeatureName::Harder) {
        Some(f) if f.value.best() > 0.0 => doubts.push(SparkDoubt::HardAgainstSoft),
        Some(_) => {}
        None => doubts.push(SparkDoubt::StateUnknown),
    }
    if 2 * features.known() < FeatureName::OF_CARBON.len() {
        doubts.push(SparkDoubt::FewFeatures);
    }
    let counted = |n: &FeatureName| features.get(*n).is_some_and(|f| f.origin != Origin::Described);
    if !FeatureName::OF_CARBON.iter().any(counted) {
        doubts.push(SparkDoubt::OnlyWords);
    }
    let by_photos = |n: &FeatureName| features.get(*n).is_some_and(|f| f.origin == Origin::Photo);
    if !at_rig && FeatureName::OF_CARBON.iter().any(by_photos) {
        doubts.push(SparkDoubt::RigUnknown);
    }
    let grinding = [
        (features.wheel_too_slow(), SparkDoubt::SlowWheel),
        (features.wheel_fast(), SparkDoubt::FastWheel),
        (features.from_deeper(), SparkDoubt::GroundDeep),
        (features.inward_disagrees(), SparkDoubt::InwardDisagrees),
    ];
    doubts.extend(features.disagreeing().iter().map(|name| SparkDoubt::PhotosDisagree(*name)));
    doubts.extend(grinding.into_iter().filter(|(holds, _)| *holds).map(|(_, doubt)| doubt));
    doubts
}
