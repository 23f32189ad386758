//! The JSON form of what photos show; documented on [`super::Answer`].

use super::check_twin::over_time;
use super::estimate_twin::RangeTwin;
use super::photo_note_twin::{NoteTwin, UnusedTwin};
use crate::spark::{Frame, LightFigure, LookedAt, PhotoPiece, ShutterJudged, StreamFigures};
use crate::units::Interval;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct PhotosTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    coupon: Option<PieceTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    untreated: Option<PieceTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    contrast: Option<ContrastTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    mm_per_px: Option<RangeTwin>,
    unused: Vec<UnusedTwin>,
    notes: Vec<NoteTwin>,
    remarks: Vec<RemarkTwin>,
}

#[derive(Debug, Serialize)]
struct PieceTwin {
    photos: Vec<PhotoTwin>,
    touches: Vec<TouchTwin>,
    surface_touches: usize,
    pooled: FiguresTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    over_time: Option<&'static str>,
}

#[derive(Debug, Serialize)]
struct PhotoTwin {
    photo: String,
    /// From 1.
    touch: usize,
    carriers_traced: usize,
    bursts_traced: usize,
    contact_px: [f64; 2],
    contact_sd_px: f64,
    clipped: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    shutter: Option<ShutterTwin>,
    shows: FiguresTwin,
}

#[derive(Debug, Serialize)]
struct ShutterTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    seconds: Option<f64>,
    flights: f64,
    too_short: bool,
    too_long: bool,
}

#[derive(Debug, Serialize)]
struct TouchTwin {
    touch: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    against_first: Option<RangeTwin>,
    shows: FiguresTwin,
}

/// Twin of [`StreamFigures`]; names end in their unit where there is one.
#[derive(Debug, Serialize)]
pub(super) struct FiguresTwin {
    photos: usize,
    resolved: f64,
    #[serde(flatten)]
    ranges: std::collections::BTreeMap<&'static str, RangeTwin>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    light: Vec<LightTwin>,
}

#[derive(Debug, Serialize)]
struct LightTwin {
    along: f64,
    brightness: RangeTwin,
    corrected: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    red_over_green: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    blue_over_green: Option<RangeTwin>,
}

#[derive(Debug, Serialize)]
struct ContrastTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    bursts: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    carriers: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bursts_per_length: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stream_length: Option<RangeTwin>,
}

#[derive(Debug, Serialize)]
pub(super) struct RemarkTwin {
    photo: String,
    remark: String,
}

impl RemarkTwin {
    pub(super) fn all(remarks: &[(String, String)]) -> Vec<Self> {
        let twin = |(photo, remark): &(String, String)| Self { photo: photo.clone(), remark: remark.clone() };
        remarks.iter().map(twin).collect()
    }
}

impl PhotosTwin {
    pub(super) fn new(photos: &LookedAt) -> Self {
        let sparks = photos.sparks.as_ref();
        let mm = sparks.and_then(|s| s.mm_per_px);
        let piece = |piece: &PhotoPiece| PieceTwin::new(piece, mm.as_ref());
        let untreated = sparks.and_then(|s| s.untreated.as_ref());
        let contrast = sparks.filter(|s| s.untreated.is_some()).map(|s| &s.says.contrast);
        Self {
            coupon: sparks.map(|s| piece(&s.coupon)),
            untreated: untreated.map(piece),
            contrast: contrast.map(|c| ContrastTwin {
                bursts: range(c.bursts.as_ref()),
                carriers: range(c.carriers.as_ref()),
                bursts_per_length: range(c.bursts_per_length.as_ref()),
                stream_length: range(c.length.as_ref()),
            }),
            mm_per_px: range(mm.as_ref()),
            unused: photos.unused.iter().map(UnusedTwin::new).collect(),
            notes: sparks.iter().flat_map(|s| &s.notes).map(NoteTwin::new).collect(),
            remarks: RemarkTwin::all(&photos.remarks),
        }
    }
}

fn range(range: Option<&Interval<f64>>) -> Option<RangeTwin> {
    range.map(Into::into)
}

impl PieceTwin {
    fn new(piece: &PhotoPiece, mm: Option<&Interval<f64>>) -> Self {
        let mut photos = Vec::new();
        for (i, frames) in piece.series.touches.iter().enumerate() {
            let figures = piece.photos.get(i).into_iter().flatten();
            let shutters = piece.shutters.get(i).into_iter().flatten();
            for ((frame, figures), shutter) in frames.iter().zip(figures).zip(shutters) {
                photos.push(PhotoTwin::new(frame, i + 1, figures, shutter.as_ref(), mm));
            }
        }
        let ratios = piece.trend.as_ref().map(|t| t.ratios.as_slice()).unwrap_or_default();
        let touch = |(i, figures): (usize, &StreamFigures)| TouchTwin {
            touch: i + 1,
            against_first: range(ratios.get(i).and_then(Option::as_ref)),
            shows: FiguresTwin::new(figures, mm),
        };
        Self {
            photos,
            touches: piece.touches.iter().enumerate().map(touch).collect(),
            surface_touches: piece.surface,
            pooled: FiguresTwin::new(&piece.pooled, mm),
            over_time: piece.trend.as_ref().and_then(|t| t.over_time).map(over_time),
        }
    }
}

impl PhotoTwin {
    fn new(
        frame: &Frame,
        touch: usize,
        figures: &StreamFigures,
        shutter: Option<&ShutterJudged>,
        mm: Option<&Interval<f64>>,
    ) -> Self {
        Self {
            photo: frame.name.clone(),
            touch,
            carriers_traced: frame.carriers_traced(),
            bursts_traced: frame.bursts_traced(),
            contact_px: frame.photo.stream.contact,
            contact_sd_px: frame.photo.stream.contact_sd,
            clipped: frame.photo.clipped,
            shutter: shutter.map(|s| ShutterTwin {
                seconds: s.seconds,
                flights: s.flights,
                too_short: s.too_short,
                too_long: s.too_long,
            }),
            shows: FiguresTwin::new(figures, mm),
        }
    }
}

impl FiguresTwin {
    pub(super) fn new(figures: &StreamFigures, mm: Option<&Interval<f64>>) -> Self {
        let f = figures;
        let lengths = [
            ("length_median_px", "length_median_mm", &f.length),
            ("length_p95_px", "length_p95_mm", &f.longest),
            ("stream_length_px", "stream_length_mm", &f.stream_length),
            ("flight_px", "flight_mm", &f.flight),
        ];
        let plain = [
            ("carriers", &f.carriers),
            ("bursts", &f.bursts),
            ("share_bursting", &f.share_bursting),
            ("share_bursting_in_flight", &f.share_in_flight),
            ("bursts_per_carrier", &f.bursts_per_carrier),
            ("bursts_per_px", &f.bursts_per_px),
            ("bursts_per_s", &f.bursts_per_s),
            ("path_px_per_s", &f.path_per_s),
            ("rays", &f.rays),
            ("secondary_share", &f.secondary_share),
            ("tiers", &f.tiers),
            ("onset", &f.onset),
            ("direction_deg", &f.direction),
            ("opening_deg", &f.opening),
        ];
        let mut ranges = std::collections::BTreeMap::new();
        for (name, value) in plain.into_iter().chain(lengths.map(|(px, _, value)| (px, value))) {
            ranges.extend(value.as_ref().map(|r| (name, r.into())));
        }
        for (_, name, value) in lengths {
            let scaled = value.as_ref().zip(mm).and_then(|(px, mm)| StreamFigures::in_mm(px, mm));
            ranges.extend(scaled.map(|r| (name, (&r).into())));
        }
        let light = f.light.iter().map(LightTwin::new).collect();
        Self { photos: f.photos, resolved: f.resolved, ranges, light }
    }
}

impl LightTwin {
    fn new(light: &LightFigure) -> Self {
        Self {
            along: light.along,
            brightness: (&light.brightness).into(),
            corrected: light.corrected,
            red_over_green: range(light.red_over_green.as_ref()),
            blue_over_green: range(light.blue_over_green.as_ref()),
        }
    }
}
