//! What a drawn picture holds, exactly. Positions are pixels of the stored picture after EXIF
//! orientation, x right, y down, pixel centres at +0.5. Angles are degrees, 0 right, up 90.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The truth of one picture; one JSON file beside it.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Truth {
    pub(crate) file: String,
    pub(crate) seed: u64,
    /// `usable`, or the name of a kind that must be refused.
    pub(crate) kind: String,
    pub(crate) carbon_wt_pct: Option<f64>,
    pub(crate) rig: String,
    pub(crate) conditions: Map<String, Value>,
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) px_per_mm: Option<f64>,
    pub(crate) shutter_s: Option<f64>,
    /// Typical full width at half maximum of a carrier.
    pub(crate) line_width_px: Option<f64>,
    /// Where the stream leaves the wheel; may lie outside the frame.
    pub(crate) contact: Option<[f64; 2]>,
    pub(crate) direction_deg: Option<f64>,
    /// 10 to 90 % of its carriers' angles.
    pub(crate) opening_deg: Option<f64>,
    pub(crate) carriers: Vec<Carrier>,
    pub(crate) bursts: Vec<Burst>,
}

/// One recorded streak.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
pub(crate) struct Carrier {
    /// Centre line inside the frame, from the wheel outward, steps of at most 8 px.
    pub(crate) path: Vec<[f64; 2]>,
    /// First to last point at 3 noise sd, inside the frame.
    pub(crate) length_px: f64,
    /// The same without a frame.
    pub(crate) whole_length_px: f64,
    /// Pixels along it at 3 noise sd.
    pub(crate) visible_px: f64,
    /// Of those, where all other sparks' light is below half of its own.
    pub(crate) apart_px: f64,
    /// At least 12 px visible and more than half of them apart.
    pub(crate) resolvable: bool,
    pub(crate) cut_by_frame: bool,
    /// Bursts of tier 1 that sit on it.
    pub(crate) bursts: Vec<usize>,
}

/// One burst.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Burst {
    pub(crate) at: [f64; 2],
    pub(crate) carrier: usize,
    pub(crate) tier: usize,
    /// The burst on whose ray it sits.
    pub(crate) parent: Option<usize>,
    /// Rays thrown; the carrier's own continuation is none.
    pub(crate) rays: usize,
    /// Rays with at least 4 px at 3 noise sd.
    pub(crate) rays_visible: usize,
    /// Of those, with at least 4 px apart from all other light.
    pub(crate) rays_apart: usize,
    /// Mean visible length of its visible rays.
    pub(crate) mean_ray_px: f64,
    /// At least one ray visible, and its middle inside the frame and behind nothing.
    pub(crate) visible: bool,
    /// At least two rays apart, its middle inside the frame and behind nothing, and burst while the shutter was open.
    pub(crate) resolvable: bool,
    /// It burst while the shutter was open: else its rays fly on from a point that was not recorded.
    #[serde(default = "yes")]
    pub(crate) in_shutter: bool,
}

fn yes() -> bool {
    true
}

impl Truth {
    /// Carriers that can be told apart.
    pub(crate) fn resolvable(&self) -> impl Iterator<Item = &Carrier> {
        self.carriers.iter().filter(|c| c.resolvable)
    }
}
