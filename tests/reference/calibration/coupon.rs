use crate::reference::faults::believed::Believed;
use crate::reference::faults::draw::Draw;
use crate::support::models;
use snapspark::crosscheck::{Doubtful, Expected, Eyes, Observation, Seen};
use snapspark::estimate::{CaseAnswer, CaseClass, CaseEstimate, SparkAnswer, SparkEstimate};
use snapspark::features::{FractureFeatures, SparkFeatures};
use snapspark::spark::OverTime;
use snapspark::stats::{NINE_IN_TEN, normal_place};
use snapspark::steel::{CarbonBand, QuenchMedium};
use snapspark::units::Interval;
use snapspark::witness::{FileKind, FileResult, FileTest, WitnessObservation};

/// What a ruler on a broken face leaves open, either way, mm: nine in ten (common practice, no source).
const RULER_MM: f64 = 0.1;
/// How far a plainly wrong depth goes, mm: what the likelihood says.
const SLIP_MM: f64 = 2.0;
/// How often each is told (judgement; those of the drawn smiths in `faults/`).
const TOLD: f64 = 0.8;

/// A coupon as the program itself says it is seen: each observation is drawn from the program's own likelihood.
pub(super) struct Coupon {
    sparks: Option<(SparkFeatures, SparkAnswer)>,
    inward: Option<OverTime>,
    face: (FractureFeatures, CaseAnswer),
    witness: WitnessObservation,
    gain: Option<Doubtful>,
    stock_unknown: bool,
}

impl Coupon {
    /// Quenched, with nothing seen of it yet.
    pub(super) fn unseen(believed: &Believed, stock_unknown: bool) -> Self {
        let medium = match believed.medium {
            "oil" => QuenchMedium::Oil,
            "brine" => QuenchMedium::Brine,
            _ => QuenchMedium::Water,
        };
        let face =
            FractureFeatures { quenched: Some(true), medium: Some(medium), ..FractureFeatures::default() };
        Self {
            sparks: None,
            inward: None,
            face: (face, CaseAnswer::CannotTell { why: Vec::new() }),
            witness: WitnessObservation::default(),
            gain: None,
            stock_unknown,
        }
    }

    /// What is seen of it where this should be seen, slips as often as `eyes` says.
    pub(super) fn looked_at(
        mut self,
        (draw, believed): (&mut Draw, &Believed),
        expected: &Expected<'_>,
        eyes: &Eyes,
    ) -> Self {
        let chance = |seen: Observation| seen.likelihood(expected, eyes);
        let bands = CarbonBand::ALL.map(|band| (band, chance(Observation::Sparks(votes(band)))));
        self.sparks = Some((SparkFeatures::default(), read_as(draw.pick(&bands))));
        if draw.chance(TOLD) {
            let orders = [
                OverTime::RichThenPlain,
                OverTime::PlainThenRichThenPlain,
                OverTime::RichThroughout,
                OverTime::PlainThroughout,
            ];
            self.inward = Some(draw.pick(&orders.map(|order| (order, chance(Observation::Inward(order))))));
        }
        self.face.1 = rim(draw, expected, eyes);
        if draw.chance(TOLD) {
            let told = [FileResult::Skates, FileResult::Bites].map(|result| {
                let stroke =
                    FileTest { which: Some(FileKind::Mill), result: Some(result), after_grinding: None };
                (stroke, chance(observed(stroke, eyes)))
            });
            self.witness.file = vec![draw.pick(&told)];
        }
        if let (Some((_, digits)), Some(gain)) = (believed.mass, &expected.gain) {
            // two weighings, each flat over its last digit
            let balance = 10_f64.powi(3 - digits as i32) * (2.0_f64 / 12.0).sqrt();
            let sd = gain.up.hypot(balance).hypot(eyes.gain_mg.value);
            let best = if draw.chance(eyes.slip.value) {
                // as flat as a tenth of the highest density is wide
                let half = 5.0 * std::f64::consts::TAU.sqrt() * sd;
                draw.between(gain.best - half, gain.best + half)
            } else {
                gain.best + sd * normal_place(draw.unit())
            };
            self.gain = Some(Doubtful { best, down: balance, up: balance });
        }
        self
    }

    pub(super) fn seen(&self) -> Seen<'_> {
        Seen {
            sparks: self.sparks.as_ref().map(|(features, answer)| (features, answer)),
            inward: self.inward,
            face: Some((&self.face.0, &self.face.1)),
            witness: Some(&self.witness),
            gain: self.gain,
            stock_unknown: self.stock_unknown,
            ..Seen::default()
        }
    }
}

/// All votes on one band.
fn votes(band: CarbonBand) -> [f64; 6] {
    CarbonBand::ALL.map(|other| f64::from(u8::from(other == band)))
}

fn read_as(band: CarbonBand) -> SparkAnswer {
    SparkAnswer::Bands(SparkEstimate {
        votes: votes(band),
        band,
        likely: (band, band),
        path: Vec::new(),
        missing: Vec::new(),
        doubts: Vec::new(),
        known: None,
    })
}

/// A stroke as the program takes it.
fn observed(stroke: FileTest, eyes: &Eyes) -> Observation {
    let witness = WitnessObservation { file: vec![stroke], ..WitnessObservation::default() };
    let seen = Seen { witness: Some(&witness), ..Seen::default() };
    seen.observations(&models().hardness, eyes)[0]
}

/// How far round, and how deep where there is an edge and it was measured.
fn rim(draw: &mut Draw, expected: &Expected<'_>, eyes: &Eyes) -> CaseAnswer {
    let classes =
        [CaseClass::None, CaseClass::Partial, CaseClass::AllRound, CaseClass::Through].map(|class| {
            (class, Observation::Rim { class, depth: None, votes: None }.likelihood(expected, eyes))
        });
    let class = draw.pick(&classes);
    let has_edge = matches!(class, CaseClass::Partial | CaseClass::AllRound);
    let depth_mm = (has_edge && draw.chance(TOLD)).then(|| {
        let slip = eyes.slip.value * 0.25 / classes[class as usize].1;
        let mm = if draw.chance(slip) {
            draw.between(0.0, SLIP_MM)
        } else {
            let place = normal_place(draw.unit());
            let own = if place < 0.0 { expected.visible.down } else { expected.visible.up };
            expected.visible.best + own.hypot(RULER_MM / NINE_IN_TEN) * place
        };
        Interval::new(mm - RULER_MM, mm, mm + RULER_MM).unwrap()
    });
    CaseAnswer::Read(CaseEstimate {
        class,
        depth_mm,
        per_side: depth_mm.into_iter().collect(),
        votes: None,
        measured: depth_mm.is_some(),
        path: Vec::new(),
        doubts: Vec::new(),
    })
}
