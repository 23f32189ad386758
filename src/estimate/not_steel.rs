use crate::features::{FeatureName, SparkFeatures};

/// What a stream looks like that no plain carbon steel throws. Each rests on the US military spark table
/// (TM 9-237 family), read beside machine steel on the same wheel; `tests/reference/sparks.toml` has its rows with
/// how far each was checked. Austenitic manganese steel and nitriding steel look like plain carbon steel there, and
/// are not told apart; nor is malleable iron if nothing is said of its colour and its length is a bare number, which
/// counting by eye may have wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotSteel {
    /// Short stream with bursts: cast iron of any kind, or die steel with tungsten and chromium, which looks much
    /// like it.
    CastIronOrDieSteel,
    /// Short stream without bursts: nickel and its alloys, stellite, cemented carbide.
    NickelOrCarbide,
    /// Red at the wheel beside paler stock, long, hardly a burst: tungsten high-speed steel.
    HighSpeedSteel,
    /// Straw at the wheel and white at the end beside paler stock, too short for so few bursts: stainless steel.
    StainlessSteel,
    /// No stream at all: copper, brass, aluminium.
    NoSparks,
}

/// Carriers of the coupon over those of the stock, below which there is no stream (judgement; the leanest iron of
/// the trend keeps 0.7).
const NO_STREAM: f64 = 0.1;
/// A stream shorter than this share of mild steel's is no plain carbon steel: even tool steel keeps
/// 0.79. Half-way between malleable iron, 0.43, and tool steel: 30 in and 55 in against 70 in; 30 confirmed,
/// the others from memory.
const SHORT_STREAM: f64 = 0.6;
/// A stream shorter than this share of mild steel's has many bursts if it is plain carbon steel. Half-way between
/// stainless steel, 0.71 (50 in confirmed, 70 in from memory), and 0.85, the shortest of the trend up to 0.45 %C.
const SHORT_FOR_FEW_BURSTS: f64 = 0.78;
/// Share of carriers that burst, at most this where bursts are extremely few (judgement; the word `few`).
const HARDLY_ANY: f64 = 0.15;
/// Share of carriers that burst, at most this where they are few or moderate (judgement; the word `half`).
const MODERATE: f64 = 0.55;
/// Tiers of bursts, at most this where they fork and do not repeat (judgement; the word `forked`).
const FORKED: f64 = 2.0;
/// Steps of colour from the stock's that an eye is sure of, such as from white to straw (judgement). A colour by
/// itself says nothing: wheel and light move it, and sources contradict each other on plain carbon steel.
const SURELY_REDDER: f64 = 2.0;

/// What it is, if it is no plain carbon steel as far as sparks tell; `None`: nothing speaks against one.
pub fn not_plain_carbon(features: &SparkFeatures) -> Option<NotSteel> {
    let best = |name| features.get(name).map(|f| f.value.best());
    if best(FeatureName::CarrierRatio).is_some_and(|carriers| carriers < NO_STREAM) {
        return Some(NotSteel::NoSparks);
    }
    let length = features.get(FeatureName::LengthRatio)?.value;
    let redder = best(FeatureName::Redder).is_some_and(|steps| steps >= SURELY_REDDER);
    // what counting by eye is off by is less likely where the colour speaks against steel as well
    if length.high() < SHORT_STREAM || (redder && length.best() < SHORT_STREAM) {
        let bursts = best(FeatureName::ShareBursting).or(best(FeatureName::Rays))?;
        let bursting = bursts > 0.0;
        return Some(if bursting { NotSteel::CastIronOrDieSteel } else { NotSteel::NickelOrCarbide });
    }
    let share = best(FeatureName::ShareBursting).filter(|_| redder && length.best() >= SHORT_STREAM)?;
    let (wheel, tip) = (best(FeatureName::Colour)?, best(FeatureName::ColourTip));
    if wheel >= RED && share <= HARDLY_ANY {
        return Some(NotSteel::HighSpeedSteel);
    }
    let forked = best(FeatureName::Tiers).is_none_or(|tiers| tiers <= FORKED);
    let stainless = wheel <= STRAW && tip == Some(WHITE) && length.best() < SHORT_FOR_FEW_BURSTS;
    (stainless && share <= MODERATE && forked).then_some(NotSteel::StainlessSteel)
}

/// Colours on the scale of [`FeatureName::Colour`].
const WHITE: f64 = 0.0;
const STRAW: f64 = 2.0;
const RED: f64 = 4.0;
