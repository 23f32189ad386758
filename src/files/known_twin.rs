//! The JSON form of known steels; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::known_coupon_twin::{CouponTwin, range};
use super::known_set::{KnownReading, KnownSet};
use super::photos_twin::FiguresTwin;
use super::problem::Problem;
use super::run_sheet::spark::state_word;
use crate::known::{KnownFace, KnownPhoto, Measured};
use crate::units::CarbonPercent;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct KnownTwin {
    set: String,
    records: Vec<RecordTwin>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    coupons: Vec<CouponTwin>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    broken: Vec<ProblemTwin>,
}

#[derive(Debug, Serialize)]
struct RecordTwin {
    name: String,
    steel: String,
    carbon_wt_pct: RangeTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    state: Option<&'static str>,
    rig: String,
    session: String,
    reference: bool,
    #[serde(skip_serializing_if = "String::is_empty")]
    notes: String,
    told: bool,
    photos: Vec<PhotoTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured: Option<MeasuredTwin>,
}

#[derive(Debug, Serialize)]
struct PhotoTwin {
    photo: String,
    sha256: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    touch: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    link: Option<String>,
}

#[derive(Debug, Serialize)]
struct MeasuredTwin {
    up_to_date: bool,
    used: usize,
    unused: Vec<UnusedTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pooled: Option<FiguresTwin>,
}

#[derive(Debug, Serialize)]
struct UnusedTwin {
    photo: String,
    code: String,
}

#[derive(Debug, Serialize)]
struct ProblemTwin {
    file: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    field: Option<String>,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<String>,
}

impl KnownTwin {
    pub(super) fn new(set: &KnownSet, readings: &[KnownReading<'_>], faces: &[(&str, &KnownFace)]) -> Self {
        Self {
            set: set.folder().display().to_string(),
            records: readings.iter().map(RecordTwin::new).collect(),
            coupons: faces.iter().map(|(name, face)| CouponTwin::new(name, face)).collect(),
            broken: set.broken().iter().map(ProblemTwin::new).collect(),
        }
    }
}

impl RecordTwin {
    fn new(reading: &KnownReading<'_>) -> Self {
        let s = reading.steel;
        Self {
            name: reading.name.to_string(),
            steel: s.name.clone(),
            carbon_wt_pct: range(&s.carbon, CarbonPercent::wt_percent),
            state: s.state.map(|_| state_word(s.state)),
            rig: s.rig.clone(),
            session: s.session.to_string(),
            reference: s.reference,
            notes: s.notes.clone(),
            told: s.seen.photos().is_empty(),
            photos: s.seen.photos().iter().map(PhotoTwin::new).collect(),
            measured: reading.measured.as_ref().map(|m| MeasuredTwin::new(m, reading.fresh)),
        }
    }
}

impl PhotoTwin {
    fn new(photo: &KnownPhoto) -> Self {
        let KnownPhoto { name, hash, touch, link } = photo.clone();
        Self { photo: name, sha256: hash, touch, link }
    }
}

impl MeasuredTwin {
    fn new(measured: &Measured, up_to_date: bool) -> Self {
        let unused = measured.unused.iter();
        Self {
            up_to_date,
            used: measured.used,
            unused: unused.map(|(p, c)| UnusedTwin { photo: p.clone(), code: c.clone() }).collect(),
            pooled: measured.figures.as_ref().map(|f| FiguresTwin::new(f, None)),
        }
    }
}

impl ProblemTwin {
    fn new(problem: &Problem) -> Self {
        let Problem { file, line, field, message, help, .. } = problem.clone();
        Self { file, line, field, message, help }
    }
}
