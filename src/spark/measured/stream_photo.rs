use super::Exposed;
use crate::units::Interval;

/// A place in a photo, pixels from its top left corner: x to the right, y down; the middle of the first
/// pixel is (0.5, 0.5).
pub type Spot = [f64; 2];

/// What one photo of a spark stream shows. Lengths in pixels of the photo as it stands upright.
#[derive(Debug, Clone, PartialEq)]
pub struct StreamPhoto {
    /// Width and height, px.
    pub size: [u32; 2],
    /// Full width at half its brightness of a usual carrier, px.
    pub line_width: f64,
    /// The carriers that could be told apart.
    pub carriers: Vec<Carrier>,
    /// The bursts that could be told apart.
    pub bursts: Vec<Burst>,
    /// Where the stream comes from and goes to.
    pub stream: Stream,
    /// Share of the stream's light in which sparks could be told apart, 0 to 1; the rest was not counted.
    pub resolved: f64,
    /// Patches of the picture that were left out, and why.
    pub left_out: Vec<LeftOut>,
    /// Light along the stream, from the contact outward.
    pub light: Vec<LightAt>,
    /// Share of the carriers' light that is at the sensor's limit, 0 to 1: there brightness and colour say nothing.
    pub clipped: f64,
    /// What the camera wrote about the exposure.
    pub exposed: Exposed,
}

/// One unbroken luminous track, from the wheel outward.
#[derive(Debug, Clone, PartialEq)]
pub struct Carrier {
    /// Middle line, from the wheel outward.
    pub path: Vec<Spot>,
    /// Length along it, px.
    pub length: f64,
    /// The end towards the wheel.
    pub start: CarrierEnd,
    /// The outer end.
    pub end: CarrierEnd,
    /// Bursts on it, as indices into [`StreamPhoto::bursts`].
    pub bursts: Vec<usize>,
    /// Chance that it is one carrier and no other light, 0 to 1.
    pub certainty: f64,
}

/// How a carrier ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CarrierEnd {
    /// Nothing goes on: the spark dies, or the shutter opened or closed.
    Free,
    /// At the wheel.
    AtWheel,
    /// In light that could not be told apart: it may be longer.
    Hidden,
    /// At the edge of the picture or of what stands in front: it is longer.
    Cut,
    /// In a burst.
    Burst,
}

impl Carrier {
    /// Whether it is longer than what was seen of it.
    pub fn is_censored(&self) -> bool {
        let open = |end| matches!(end, CarrierEnd::Hidden | CarrierEnd::Cut);
        open(self.start) || open(self.end)
    }
}

/// One burst.
#[derive(Debug, Clone, PartialEq)]
pub struct Burst {
    /// Its middle.
    pub at: Spot,
    /// Tips of the rays that could be traced.
    pub rays: Vec<Spot>,
    /// Number of its rays: the mean of what its light tells of all, also those that lie over others, and of what could be
    /// traced.
    pub ray_count: f64,
    /// 1: on a carrier; 2: on a ray of such a burst; and so on.
    pub tier: u32,
    /// The burst on whose ray it sits, as an index into [`StreamPhoto::bursts`].
    pub parent: Option<usize>,
    /// Chance that it is a burst and no crossing or other light, 0 to 1.
    pub certainty: f64,
}

/// Where the stream comes from and goes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    /// Where it leaves the wheel, which may lie outside the picture.
    pub contact: Spot,
    /// How far off the contact may be, px, one standard deviation.
    pub contact_sd: f64,
    /// Mean direction at the contact: degrees, 0 to the right, counter-clockwise, -180 to 180.
    pub direction: Interval<f64>,
    /// Angle that the middle four fifths of the carriers fill, degrees.
    pub opening: Interval<f64>,
    /// From the contact to where one carrier in twenty is left, px; `None`: it leaves the picture before.
    pub length: Option<Interval<f64>>,
    /// Mean path of one spark from the wheel to its end, px, whatever part of it the shutter recorded.
    pub flight: Option<Interval<f64>>,
}

/// A patch of the picture that was not read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOut {
    /// Left, top, right, bottom, px.
    pub patch: [f64; 4],
    /// Why.
    pub why: WhyLeftOut,
}

/// Why a patch was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyLeftOut {
    /// Sparks lie too densely over each other.
    Dense,
    /// At the sensor's limit.
    Blown,
    /// Other light or things: lamps, rims, hands, tools.
    Clutter,
}

/// Mean light of the carriers at one stretch of the stream.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LightAt {
    /// Middle of the stretch, share of the stream's length from the contact.
    pub along: f64,
    /// Brightness of a carrier's middle line above the background, linear light, 1 the sensor's limit.
    pub brightness: f64,
    /// Red over green, linear light; `None`: grey picture, or at the sensor's limit.
    pub red_over_green: Option<f64>,
    /// Blue over green, linear light.
    pub blue_over_green: Option<f64>,
}
