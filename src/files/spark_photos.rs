use super::Models;
use super::named_photos::named_photos;
use crate::photo::ScaleMarks;
use crate::spark::{
    Frame, GroundDepth, Grouping, LookedAt, PhotoConditions, PhotoNote, PhotoPaths, Series, SparkObservation,
    StreamPhoto, Unusable, UnusedPhoto, Wheel, pool_photos,
};
use crate::units::Interval;
use std::path::Path;

/// One photo as it was looked at.
#[derive(Debug)]
pub struct Looked {
    /// What it shows.
    pub photo: StreamPhoto,
    /// Diameter of the wheel's rim, px, if it was looked for and found; nine times in ten.
    pub rim: Option<Interval<f64>>,
    /// What is odd about its file.
    pub remarks: Vec<String>,
}

/// Looks at one photo: reads, decodes, measures. Whatever it holds of the picture it lets go.
pub type Look<'l> = &'l mut dyn FnMut(&Path) -> Result<Looked, Unusable>;

/// Puts the photos themselves in the place of folders and patterns among the paths of an observation, which start at
/// `folder`; gives those that mean none.
pub fn name_photos(told: &mut SparkObservation, folder: &Path) -> Vec<UnusedPhoto> {
    let mut unused = Vec::new();
    let streams = std::iter::once(&mut told.coupon).chain(&mut told.untreated);
    for list in streams.flat_map(|s| s.photos.lists()) {
        *list = named_photos(list, folder, &mut unused);
    }
    unused
}

/// Looks at the photos of an observation, one at a time, and puts together what they show; paths are taken from
/// `folder`. `None`: it has none.
pub fn look_at_photos(
    told: &SparkObservation,
    folder: &Path,
    models: &Models,
    look: Look<'_>,
) -> Option<LookedAt> {
    told.photos().next()?;
    let none = PhotoPaths::default();
    let stock = told.untreated.as_ref().map_or(&none, |s| &s.photos);
    let mut looking =
        Looking { folder, models, look, unused: Vec::new(), remarks: Vec::new(), notes: Vec::new() };
    let coupon = looking.series(&told.coupon.photos);
    let stock = looking.series(stock);
    let conditions = PhotoConditions {
        mm_per_px: told.scale.and_then(|marks| looking.mm_per_px(&marks, &coupon)),
        wheel: told.wheel.and_then(|w| w.diameter),
        speed: told.wheel.as_ref().and_then(Wheel::surface_speed),
        ground: told.ground_depth.and_then(GroundDepth::measured),
        surface: Some(models.spark_words.surface_depth.value),
    };
    let mut sparks = pool_photos(coupon, stock, &conditions, &models.photo_reading);
    if let Some(sparks) = &mut sparks {
        sparks.notes.splice(0..0, looking.notes);
    }
    Some(LookedAt { sparks, unused: looking.unused, remarks: looking.remarks })
}

struct Looking<'s> {
    folder: &'s Path,
    models: &'s Models,
    look: Look<'s>,
    unused: Vec<UnusedPhoto>,
    remarks: Vec<(String, String)>,
    notes: Vec<PhotoNote>,
}

impl Looking<'_> {
    fn series(&mut self, paths: &PhotoPaths) -> Series {
        let grouping = match paths {
            PhotoPaths::Mixed(_) => Grouping::ByTime,
            PhotoPaths::ByTouch(touches) => Grouping::Told(touches.iter().map(Vec::len).collect()),
        };
        let frames = paths.all().into_iter().map(|path| self.frame(path)).collect();
        let (series, note) = Series::of(frames, &grouping, self.models.photo_reading.touch_gap.value);
        self.notes.extend(note.filter(|note| !self.notes.contains(note)));
        series
    }

    /// The scale of the coupon's first photo; points that are not on it are said and give none.
    fn mm_per_px(&mut self, marks: &ScaleMarks, coupon: &Series) -> Option<Interval<f64>> {
        let [width, height] = coupon.frames().next()?.photo.size.map(|px| px as usize);
        match marks.on(width, height) {
            Ok(scale) => Some(scale.millimetres(1.0)),
            Err(e) => {
                self.remarks.push(("scale".into(), format!("{e}; {}", e.help())));
                None
            }
        }
    }

    fn frame(&mut self, path: &str) -> Option<Frame> {
        match (self.look)(&self.folder.join(path)) {
            Ok(Looked { photo, rim, remarks }) => {
                self.remarks.extend(remarks.into_iter().map(|remark| (path.to_string(), remark)));
                Some(Frame::new(path, photo, rim))
            }
            Err(why) => {
                self.unused.push(UnusedPhoto { name: path.to_string(), why });
                None
            }
        }
    }
}
