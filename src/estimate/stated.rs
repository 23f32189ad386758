use crate::steel::CarbonBand;
use crate::units::Interval;

/// The known steels behind an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownBehind {
    /// Steels and days that were read with their day left out of the fit.
    pub judged: usize,
    /// How many of them came out in their band.
    pub right: usize,
    /// Carbon by the corrected trend, the middle of nine tenths of its chance, wt%. Its ends hold as often as the
    /// scatter of the rig is what it seems.
    pub carbon: Interval<f64>,
    /// How many times the usual bursts the rig throws on that day, as what was sparked beside the coupon shows; that is
    /// taken out. `None`: nothing was.
    pub drift: Option<f64>,
    /// What is stated with confidence, if enough was judged.
    pub stated: Option<Stated>,
}

/// What held nine times in ten on the known steels: measured, no guarantee, since a few steels are not any coupon.
#[derive(Debug, Clone, PartialEq)]
pub struct Stated {
    /// Neighbouring bands, from the leanest to the richest.
    pub bands: (CarbonBand, CarbonBand),
    /// Carbon, wt%.
    pub carbon: Interval<f64>,
}
