//! What a drawn face is, exactly. Pixels: x right, y down, pixel centres at +0.5. Millimetres: on the plane of the
//! face, its middle at the origin. Sides run clockwise as seen in the unturned face; the first is the top one.

use super::camera::Matrix;
use super::kind::Class;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The truth of one picture; one JSON file beside it.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Truth {
    pub(crate) file: String,
    pub(crate) seed: u64,
    pub(crate) usable: bool,
    /// `first`, `turned` (the light), `mate` (the other half) or `blank`.
    pub(crate) take: String,
    /// How it was drawn, or why it must be refused.
    pub(crate) kind: String,
    /// 0 easy, 1 fair, 2 hard.
    pub(crate) difficulty: usize,
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// None: no face in the picture.
    pub(crate) face: Option<Face>,
    /// How it was lit, taken and stored.
    pub(crate) conditions: Map<String, Value>,
}

/// The truth of the face.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Face {
    pub(crate) class: Class,
    /// `square`, `rectangle`, `round` or `wedge`.
    pub(crate) shape: String,
    /// The shorter way through, mm: the diameter of a round one.
    pub(crate) thickness_mm: f64,
    /// Whole extent in x and y before it tore, mm.
    pub(crate) size_mm: [f64; 2],
    /// At the middle of the face.
    pub(crate) px_per_mm: f64,
    /// From mm to px, row by row.
    pub(crate) homography: Matrix,
    /// Corners of the section before rounding, clockwise; side i runs from corner i to the next. None of a round one.
    pub(crate) corners_mm: Vec<[f64; 2]>,
    pub(crate) corners_px: Vec<[f64; 2]>,
    /// What is seen of the outline, with the wall of a nick, without what chipped off.
    pub(crate) outline_mm: Vec<[f64; 2]>,
    pub(crate) outline_px: Vec<[f64; 2]>,
    /// Lines where case and core are half and half; closed if the last point is the first.
    pub(crate) border_mm: Vec<Vec<[f64; 2]>>,
    pub(crate) border_px: Vec<Vec<[f64; 2]>>,
    /// Lips and the wall of a nick, which are neither case nor core: closed outlines from a side inward.
    pub(crate) bands_mm: Vec<Vec<[f64; 2]>>,
    pub(crate) sides: Vec<Side>,
    /// Median over all fair samples of all sides, mm.
    pub(crate) depth_mm: Option<f64>,
    /// From 10 to 90 % case, mm.
    pub(crate) transition_mm: Option<f64>,
    /// ASTM E112 number of the case, where it has grains.
    pub(crate) case_grain: Option<f64>,
    pub(crate) core_grain: Option<f64>,
    /// Side of a nick and how deep it is, mm.
    pub(crate) nick: Option<(usize, f64)>,
}

/// One side of the section; all of a round one.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Side {
    pub(crate) index: usize,
    /// `top`, `right`, `bottom`, `left`, or `round`.
    pub(crate) name: String,
    pub(crate) length_mm: f64,
    pub(crate) nicked: bool,
    pub(crate) chipped: bool,
    /// Over fair samples that show case, mm.
    pub(crate) median_mm: Option<f64>,
    pub(crate) p10_mm: Option<f64>,
    pub(crate) p90_mm: Option<f64>,
    /// Of its fair samples, the share that shows case.
    pub(crate) cased: f64,
    pub(crate) samples: Vec<Sample>,
}

/// The depth of the case at one place.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub(crate) struct Sample {
    /// Along the side, mm.
    pub(crate) along: f64,
    /// On the outline as seen, mm.
    pub(crate) at: [f64; 2],
    /// From there straight inward to the border, mm: 0 is no case, none is case all the way.
    pub(crate) depth: Option<f64>,
    /// Within 1.5 depths of the end of a side.
    pub(crate) corner: bool,
    /// At a chip, a nick or a lip.
    pub(crate) spoiled: bool,
}

impl Sample {
    pub(crate) fn fair(&self) -> bool {
        !self.corner && !self.spoiled
    }
}
