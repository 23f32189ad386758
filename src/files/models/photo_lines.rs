use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Single, bounded};
use crate::known::{PhotoLine, PhotoLines, SparkMeasure};
use crate::sources::Sourced;
use crate::units::OutOfRange;
use serde::Deserialize;

const FILE: &str = "photo-lines.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    photos: PhotosTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PhotosTwin {
    lines: Single<Vec<LineTwin>>,
}

/// Twin of [`PhotoLine`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LineTwin {
    measure: String,
    offset: Option<f64>,
    offset_sd: Option<f64>,
    slope: f64,
    slope_sd: f64,
    drift: f64,
    scatter: f64,
}

/// Reads `photo-lines.toml`: shares, rays and tiers have an offset, ratios have none.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<Sourced<PhotoLines>, ModelsError> {
    let twins = parse::<FileTwin>(FILE, text)?.photos.lines;
    let at = At { file: FILE, entry: "photos", field: "lines" };
    let mut wrong = None;
    let read = twins.sourced(books, at, |twins| {
        let mut lines = PhotoLines::default();
        for twin in twins {
            let known = SparkMeasure::ALL.into_iter().find(|m| m.column().column() == twin.measure);
            match known.filter(|m| lines[*m as usize].is_none() && m.is_amount() == twin.offset.is_none()) {
                Some(measure) => lines[measure as usize] = Some(twin.line()?),
                None => wrong = wrong.take().or(Some(twin.measure)),
            }
        }
        Ok(lines)
    })?;
    let allowed =
        "columns of training-data/photo_points.csv, each once; ratios without an offset, all others with one";
    wrong.map_or(Ok(read), |measure| Err(ModelsError::value(at, measure, allowed)))
}

impl LineTwin {
    fn line(&self) -> Result<PhotoLine, OutOfRange> {
        let spread = bounded("standard deviation", "", 0.001, 10.0);
        let offset = match self.offset {
            Some(offset) => {
                let sd = spread(self.offset_sd.unwrap_or_default())?;
                Some((bounded("offset", "", -20.0, 20.0)(offset)?, sd))
            }
            None => None,
        };
        Ok(PhotoLine {
            offset,
            slope: (bounded("slope", "", 0.0, 20.0)(self.slope)?, spread(self.slope_sd)?),
            drift: spread(self.drift)?,
            scatter: spread(self.scatter)?,
        })
    }
}
