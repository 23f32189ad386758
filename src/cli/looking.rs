use super::drawings::Drawings;
use crate::files::{self, Looked, PhotoProgress};
use crate::net::UNet;
use crate::photo::circle::{self, RimHint};
use crate::photo::{Exposure, Limits, Picture};
use crate::report;
use crate::spark::{self, Exposed, Stream, Unusable};
use crate::stats::NINE_IN_TEN;
use crate::units::{Depth, Interval, Time};
use std::path::Path;

/// Looks at photos one after the other; draws what was found, if that is wanted, and says how far it is.
pub(super) struct Looking {
    done: usize,
    progress: PhotoProgress,
    drawings: Drawings,
    rim: bool,
    net: Result<UNet, files::NetError>,
}

impl Looking {
    /// At `all` photos; `overlay` is where drawings go, `rim` whether the wheel's rim is looked for.
    pub(super) fn new(all: usize, overlay: Option<&Path>, rim: bool) -> Self {
        let (progress, drawings) = (PhotoProgress::new(all), Drawings::new(overlay, all));
        Self { done: 0, progress, drawings, rim, net: files::burst_net() }
    }

    /// One photo; its picture is let go of before the next.
    pub(super) fn look(&mut self, path: &Path) -> Result<Looked, Unusable> {
        self.done += 1;
        self.progress.show(self.done, &path.to_string_lossy());
        let photo = files::read_photo(path, &Limits::default())
            .map_err(|p| Unusable::NotRead { message: p.message, help: p.help.unwrap_or_default() })?;
        let net = self.net.as_ref().map_err(|e| Unusable::NotRead {
            message: format!("models/{e}"),
            help: "build the program with the models that ship".into(),
        })?;
        let found = spark::measure(&photo.picture, exposed(&photo.exposure), net);
        let drawing = || report::overlay(&photo.picture, found.as_ref(), report::LONGEST_SIDE);
        self.drawings.save(self.done, drawing);
        let remarks = photo.notes.iter().map(ToString::to_string).collect();
        let rim =
            found.as_ref().ok().filter(|_| self.rim).and_then(|found| rim(&photo.picture, &found.stream));
        found.map(|photo| Looked { photo, rim, remarks }).map_err(Unusable::Refused)
    }

    /// The drawings, to be judged before anything is drawn.
    pub(super) fn drawings(&self) -> &Drawings {
        &self.drawings
    }

    /// What could not be drawn, ready to be shown.
    pub(super) fn finish(self) -> Result<(), String> {
        self.drawings.finish()
    }
}

/// The wheel's rim goes past the contact at no more than this share of the picture's longer side (judgement).
const RIM_WITHIN: f64 = 0.05;

/// Diameter of the wheel's rim, px, nine times in ten.
fn rim(picture: &Picture, stream: &Stream) -> Option<Interval<f64>> {
    let within = RIM_WITHIN * picture.width().max(picture.height()) as f64 + NINE_IN_TEN * stream.contact_sd;
    let rim = circle::find(picture, Some(RimHint { at: stream.contact, within })).ok()?;
    let off = 2.0 * NINE_IN_TEN * rim.radius_sd;
    let across = 2.0 * rim.radius;
    Interval::new(across - off, across, across + off)
}

fn exposed(exposure: &Exposure) -> Exposed {
    Exposed {
        seconds: exposure.time.map(Time::seconds),
        f_number: exposure.f_number,
        iso: exposure.iso,
        focal_mm: exposure.focal_length.map(Depth::millimetres),
        taken: exposure.taken_at.clone(),
    }
}
