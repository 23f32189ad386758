use super::{BySign, Doubtful, Eyes, Observation, Sign, Signs};
use crate::estimate::{CaseAnswer, SparkAnswer};
use crate::features::{
    BlankRim, FaceTexture, FeatureName, FractureFeatures, HardeningHeat, SparkFeatures, Tempered,
};
use crate::hardness::Hardness;
use crate::prediction::Run;
use crate::soak::Cooled;
use crate::spark::{GroundDepth, OverTime};
use crate::steel::QuenchMedium;
use crate::witness::{FileKind, FileResult, FileTest, Magnet, Skin, WitnessObservation};

/// Touches from which more than a touch has been ground off (judgement).
const MANY_TOUCHES: u32 = 4;
/// Depth from which it is more than a touch, mm (judgement: a light touch takes about 0.05 mm).
const MORE_THAN_A_TOUCH_MM: f64 = 0.15;
/// How much softer a worn file turns, and how much less surely, HRC (judgement).
const WORN_HRC: (f64, f64) = (4.0, 4.0);
/// What a temper of up to 200 °C takes off the hardness of a case, HRC (the chart of tempers: 2 to 4).
const LOW_TEMPER_HRC: f64 = 3.0;
/// Name of an ordinary file in `models/hardness.toml`.
const MILL_FILE: &str = "mill file";

/// Everything that was seen of the coupon, by eye and by the estimate. `None`: nobody said.
#[derive(Debug, Clone, Copy, Default)]
pub struct Seen<'a> {
    /// Sparks as numbers, and what they say.
    pub sparks: Option<(&'a SparkFeatures, &'a SparkAnswer)>,
    /// Whether the coupon was hard when it was sparked.
    pub sparked_hard: Option<bool>,
    /// How they changed while grinding inward.
    pub inward: Option<OverTime>,
    /// Touches taken before they were described.
    pub touches: Option<u32>,
    /// Depth ground off by then.
    pub ground: Option<GroundDepth>,
    /// The face as numbers, and what it says.
    pub face: Option<(&'a FractureFeatures, &'a CaseAnswer)>,
    /// File, skin, magnet.
    pub witness: Option<&'a WitnessObservation>,
    /// Mass gain weighed, mg, with what the balance leaves open.
    pub gain: Option<Doubtful>,
    /// Whether the steel is of unknown grade.
    pub stock_unknown: bool,
}

impl Seen<'_> {
    /// What can be held against a prediction.
    pub fn observations(&self, hardness: &Hardness, eyes: &Eyes) -> Vec<Observation> {
        let mut list = Vec::new();
        if let Some((_, SparkAnswer::Bands(estimate))) = self.sparks {
            list.push(Observation::Sparks(estimate.votes));
        }
        list.extend(self.inward.map(Observation::Inward));
        if let Some((_, CaseAnswer::Read(case))) = self.face {
            list.push(Observation::rim(case));
        }
        let spread = eyes.gain_mg.value;
        list.extend(self.gain.map(|gain| Observation::Gain(gain.read_to(spread))));
        // a temper that softens says nothing of the quench
        let tempered = self.face.and_then(|(f, _)| f.tempered);
        let softened = tempered == Some(Tempered::Softened);
        let strokes = self.witness.iter().flat_map(|w| &w.file).filter(|_| !softened);
        // nobody says whether it was filed before a low temper or after it
        let low = if tempered == Some(Tempered::Low) { LOW_TEMPER_HRC } else { 0.0 };
        list.extend(strokes.filter_map(|stroke| file(stroke, hardness, low)));
        list
    }

    /// What was seen of each sign.
    pub(super) fn signs(&self, run: &Run, eyes: &Eyes) -> Signs {
        let face = self.face.map(|(features, _)| features);
        let blank = face.and_then(|f| f.blank);
        let texture = |ask: fn(FaceTexture) -> bool| face.and_then(|f| f.texture_rim).map(ask);
        BySign(Sign::ALL.map(|sign| match sign {
            Sign::DarkSkin => self.witness.and_then(|w| w.skin).map(|s| s == Skin::DarkScale),
            Sign::Oil => face.and_then(|f| f.medium).map(|m| m == QuenchMedium::Oil),
            Sign::QuenchedHot => self.quenched_hot(run, eyes),
            Sign::BlankSameRim => blank.and_then(|b| b.rim).map(|r| r == BlankRim::Same),
            Sign::BlankCoreHard => blank.and_then(|b| b.core_hardened),
            Sign::ShearLip => face.and_then(|f| f.shear_lip),
            Sign::CoarseRim => texture(|t| matches!(t, FaceTexture::Grainy | FaceTexture::Coarse)),
            Sign::FacetedRim => texture(|t| t == FaceTexture::Faceted),
            Sign::BrittleCore => face.and_then(|f| f.texture_core).map(FaceTexture::is_brittle),
            Sign::HardAgainstSoft => {
                let harder = self.sparks.and_then(|(features, _)| features.get(FeatureName::Harder));
                harder.map(|f| f.value.best() > 0.0)
            }
            Sign::GroundLong => self.ground_long(),
            Sign::NotPlainCarbon => self.not_plain_carbon(),
            Sign::PartlyOut => run.pack.wholly_in_heat.map(|wholly| !wholly),
            Sign::StockUnknown => Some(self.stock_unknown),
        }))
    }

    fn quenched_hot(&self, run: &Run, eyes: &Eyes) -> Option<bool> {
        let (features, _) = self.face?;
        if features.quenched == Some(false) {
            return None;
        }
        match &features.heat {
            Some(HardeningHeat::FromSoak) => Some(true),
            Some(HardeningHeat::JustPastMagnet) => Some(false),
            Some(HardeningHeat::At(heat)) => Some(heat.best() >= eyes.hot.value),
            None => (run.record.cooled == Cooled::QuenchedFromHeat).then_some(true),
        }
    }

    fn ground_long(&self) -> Option<bool> {
        match (self.ground, self.touches) {
            (Some(GroundDepth::FewSeconds), _) => Some(true),
            (Some(GroundDepth::Depth(depth)), _) => Some(depth.best().millimetres() >= MORE_THAN_A_TOUCH_MM),
            (Some(GroundDepth::OneTouch), _) => Some(false),
            (None, touches) => touches.map(|n| n >= MANY_TOUCHES),
        }
    }

    fn not_plain_carbon(&self) -> Option<bool> {
        let magnet = self.witness.and_then(|w| w.magnet).map(|m| m == Magnet::DoesNotStick);
        let sparks = match self.sparks {
            Some((_, SparkAnswer::NotPlainCarbon(_))) => Some(true),
            Some((_, SparkAnswer::Bands(_))) => Some(false),
            _ => None,
        };
        match (magnet, sparks) {
            (Some(a), Some(b)) => Some(a || b),
            (a, b) => a.or(b),
        }
    }
}

/// A stroke whose result was told; a file that nobody named is an ordinary one.
fn file(stroke: &FileTest, hardness: &Hardness, tempered: f64) -> Option<Observation> {
    let result = stroke.result?;
    let kind = stroke.which.unwrap_or(FileKind::Mill);
    let turns = match kind {
        FileKind::Graded(hrc) => hardness
            .file(&format!("{hrc:.0}"))
            .map_or(Doubtful { best: hrc, down: GRADED_HRC, up: GRADED_HRC }, |file| {
                turning(&file.undecided.value)
            }),
        FileKind::Mill => turning(&hardness.file(MILL_FILE)?.undecided.value),
        FileKind::Worn => {
            let mill = turning(&hardness.file(MILL_FILE)?.undecided.value);
            Doubtful { best: mill.best - WORN_HRC.0, ..mill.read_to(WORN_HRC.1) }
        }
    };
    let turns = Doubtful { best: turns.best + 0.5 * tempered, ..turns.read_to(0.5 * tempered) };
    let depth_mm = stroke.after_grinding.map_or(0.0, |depth| depth.best().millimetres());
    Some(Observation::File { turns, skates: result == FileResult::Skates, depth_mm })
}

/// Spread of the hardness at which a graded file of no standard number turns, HRC (judgement: half the
/// undecided band of the standard ones).
const GRADED_HRC: f64 = 1.2;

fn turning(undecided: &crate::units::Interval<crate::units::Hrc>) -> Doubtful {
    let (low, high) = (undecided.low().points(), undecided.high().points());
    Doubtful::of_three(low, f64::midpoint(low, high), high)
}
