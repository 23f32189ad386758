use crate::known::{Measured, MeasuredPhoto};
use crate::spark::StreamFigures;
use crate::units::Interval;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Version of the file.
const VERSION: u32 = 1;

/// Twin of [`Measured`]. A range is written as low, best, high, each with as many digits as it takes to read the same
/// number back.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct MeasuredTwin {
    measured: u32,
    measuring: u32,
    used: usize,
    picture_px: Option<u32>,
    focal_mm: Option<f64>,
    #[serde(default)]
    unused: Vec<UnusedTwin>,
    photo: Vec<PhotoTwin>,
    figures: Option<FiguresTwin>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct UnusedTwin {
    photo: String,
    code: String,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PhotoTwin {
    sha256: String,
    touch: Option<u32>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FiguresTwin {
    photos: usize,
    resolved: f64,
    exposed_s: Option<f64>,
    ranges: BTreeMap<String, [f64; 3]>,
}

/// What was measured, as the text of its file.
pub fn write_measured(measured: &Measured) -> Result<String, toml::ser::Error> {
    let m = measured;
    let unused = m.unused.iter().map(|(photo, code)| UnusedTwin { photo: photo.clone(), code: code.clone() });
    let photo = m.photos.iter().map(|p| PhotoTwin { sha256: p.hash.clone(), touch: p.touch });
    toml::to_string(&MeasuredTwin {
        measured: VERSION,
        measuring: m.measuring,
        used: m.used,
        picture_px: m.picture_px,
        focal_mm: m.focal_mm,
        unused: unused.collect(),
        photo: photo.collect(),
        figures: m.figures.as_ref().map(FiguresTwin::of),
    })
}

/// What was measured, from the text of its file; `None`: the text is no such thing, and the photos are measured again.
pub fn read_measured(text: &str) -> Option<Measured> {
    let twin: MeasuredTwin = toml::from_str(text).ok()?;
    let photos = twin.photo.into_iter().map(|p| MeasuredPhoto { hash: p.sha256, touch: p.touch });
    (twin.measured == VERSION).then_some(())?;
    Some(Measured {
        measuring: twin.measuring,
        photos: photos.collect(),
        used: twin.used,
        unused: twin.unused.into_iter().map(|u| (u.photo, u.code)).collect(),
        picture_px: twin.picture_px,
        focal_mm: twin.focal_mm,
        figures: match twin.figures {
            Some(figures) => Some(figures.figures()?),
            None => None,
        },
    })
}

impl FiguresTwin {
    fn of(figures: &StreamFigures) -> Self {
        let f = figures;
        let named = [
            ("carriers", &f.carriers),
            ("bursts", &f.bursts),
            ("length", &f.length),
            ("longest", &f.longest),
            ("share_bursting", &f.share_bursting),
            ("share_in_flight", &f.share_in_flight),
            ("bursts_per_carrier", &f.bursts_per_carrier),
            ("bursts_per_px", &f.bursts_per_px),
            ("bursts_per_s", &f.bursts_per_s),
            ("path_per_s", &f.path_per_s),
            ("rays", &f.rays),
            ("secondary_share", &f.secondary_share),
            ("tiers", &f.tiers),
            ("onset", &f.onset),
            ("stream_length", &f.stream_length),
            ("flight", &f.flight),
            ("direction", &f.direction),
            ("opening", &f.opening),
        ];
        let range = |(name, range): (&str, &Option<Interval<f64>>)| {
            range.as_ref().map(|r| (name.to_string(), [r.low(), r.best(), r.high()]))
        };
        let ranges = named.into_iter().filter_map(range).collect();
        Self { photos: f.photos, resolved: f.resolved, exposed_s: f.exposed_s, ranges }
    }

    /// `None`: a range runs backwards, or has a name that no figure has.
    fn figures(mut self) -> Option<StreamFigures> {
        let mut wrong = false;
        let mut take = |name: &str| {
            let [low, best, high] = self.ranges.remove(name)?;
            let range = Interval::new(low, best, high);
            wrong |= range.is_none();
            range
        };
        let figures = StreamFigures {
            photos: self.photos,
            carriers: take("carriers"),
            bursts: take("bursts"),
            length: take("length"),
            longest: take("longest"),
            share_bursting: take("share_bursting"),
            share_in_flight: take("share_in_flight"),
            bursts_per_carrier: take("bursts_per_carrier"),
            bursts_per_px: take("bursts_per_px"),
            exposed_s: self.exposed_s,
            bursts_per_s: take("bursts_per_s"),
            path_per_s: take("path_per_s"),
            rays: take("rays"),
            secondary_share: take("secondary_share"),
            tiers: take("tiers"),
            onset: take("onset"),
            stream_length: take("stream_length"),
            flight: take("flight"),
            direction: take("direction"),
            opening: take("opening"),
            resolved: self.resolved,
            light: Vec::new(),
        };
        (!wrong && self.ranges.is_empty()).then_some(figures)
    }
}
