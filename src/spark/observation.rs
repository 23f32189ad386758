use super::{
    Amount, Compared, FineSparking, Forking, Onset, PartOf, Photographed, Reach, StreamColour, Told, Wheel,
};
use crate::photo::ScaleMarks;
use crate::steel::Grade;
use crate::units::{Depth, Interval, Share};

/// Whether a piece was sparked soft or hard: a hardened one throws more than its carbon says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SteelState {
    /// Annealed, normalised or slowly cooled.
    Soft,
    /// Quenched, tempered or not.
    Hardened,
}

/// What was told of the stream while one piece was ground. `None`: not said.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StreamObservation {
    /// Soft or hardened.
    pub state: Option<SteelState>,
    /// Bursts in the stream at a moment, or on one photo.
    pub bursts: Option<Told<Interval<f64>, Amount>>,
    /// Bursts on one carrier line.
    pub bursts_per_carrier: Option<Told<Interval<f64>, Amount>>,
    /// Length of one carrier line.
    pub carrier_length: Option<Told<Interval<Depth>, Reach>>,
    /// Length of the whole stream.
    pub stream_length: Option<Told<Interval<Depth>, Reach>>,
    /// Carrier lines in the stream at a moment, or on one photo.
    pub carriers: Option<Told<Interval<f64>, Amount>>,
    /// Carriers that burst at least once, of all.
    pub share_bursting: Option<Told<Interval<Share>, PartOf>>,
    /// Rays of a burst.
    pub rays: Option<Told<Interval<f64>, Amount>>,
    /// Tiers: 1 a plain burst, 2 a burst whose rays burst again, and so on.
    pub tiers: Option<Told<Interval<f64>, Forking>>,
    /// Where bursts begin, from the wheel, as a share of the stream's length.
    pub onset: Option<Told<Interval<Share>, Onset>>,
    /// Fine sparking; as a number 0 none, 1 some, 2 much.
    pub fine_sparking: Option<Told<Interval<f64>, FineSparking>>,
    /// Colour at the wheel.
    pub colour: Option<StreamColour>,
    /// Colour at the outer end.
    pub colour_tip: Option<StreamColour>,
    /// Photos of it, as paths in the run sheet's folder: for each touch its frames, or one list of which nobody said
    /// what touch they are of.
    pub photos: PhotoPaths,
}

impl StreamObservation {
    /// Allowed bursts in the stream.
    pub const BURSTS: (f64, f64) = (0.0, 10_000.0);
    /// Allowed bursts on one carrier.
    pub const BURSTS_PER_CARRIER: (f64, f64) = (0.0, 50.0);
    /// Allowed carriers in the stream.
    pub const CARRIERS: (f64, f64) = (0.0, 10_000.0);
    /// Allowed rays of a burst.
    pub const RAYS: (f64, f64) = (0.0, 12.0);
    /// Allowed tiers.
    pub const TIERS: (f64, f64) = (0.0, 5.0);
    /// Allowed numbers for fine sparking.
    pub const FINE_SPARKING: (f64, f64) = (0.0, 2.0);
}

/// Photos of one stream, as paths.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PhotoPaths {
    /// In order; the time that the camera wrote tells touches apart, if anything does.
    Mixed(Vec<String>),
    /// Frames of each touch, in order.
    ByTouch(Vec<Vec<String>>),
}

impl Default for PhotoPaths {
    fn default() -> Self {
        Self::Mixed(Vec::new())
    }
}

impl PhotoPaths {
    /// Each list of them: the frames of a touch, or all.
    pub fn lists(&mut self) -> Vec<&mut Vec<String>> {
        match self {
            Self::Mixed(paths) => vec![paths],
            Self::ByTouch(touches) => touches.iter_mut().collect(),
        }
    }

    /// All of them, in order.
    pub fn all(&self) -> Vec<&str> {
        match self {
            Self::Mixed(paths) => paths.iter().map(String::as_str).collect(),
            Self::ByTouch(touches) => touches.iter().flatten().map(String::as_str).collect(),
        }
    }
}

/// Which known steel throws the same sparks.
#[derive(Debug, Clone, PartialEq)]
pub enum LooksLike {
    /// Like this one.
    One(Grade),
    /// Between these two.
    Between(Grade, Grade),
}

/// How the sparks changed as the grinding went inward.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OverTime {
    /// A case.
    RichThenPlain,
    /// A decarburised skin on a case.
    PlainThenRichThenPlain,
    /// Cased through, or a richer stock than thought.
    RichThroughout,
    /// No case, or one that the first touch took off.
    PlainThroughout,
}

impl OverTime {
    /// All, in order.
    pub const ALL: [Self; 4] =
        [Self::RichThenPlain, Self::PlainThenRichThenPlain, Self::RichThroughout, Self::PlainThroughout];
}

/// How deep the sparks came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GroundDepth {
    /// One light touch.
    OneTouch,
    /// A few seconds of grinding.
    FewSeconds,
    /// Measured.
    Depth(Interval<Depth>),
}

impl GroundDepth {
    /// The depth, if it was measured.
    pub fn measured(self) -> Option<Depth> {
        match self {
            Self::Depth(depth) => Some(depth.best()),
            Self::OneTouch | Self::FewSeconds => None,
        }
    }
}

/// The sparks of a coupon, with those of untreated stock if they were looked at: told in words and numbers, measured
/// on photos, or both.
/// `None`: not said, never "none seen".
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SparkObservation {
    /// The coupon.
    pub coupon: StreamObservation,
    /// Untreated stock on the same wheel.
    pub untreated: Option<StreamObservation>,
    /// Coupon against stock, all in all.
    pub compared: Option<Compared>,
    /// Known steel that looks the same.
    pub looks_like: Option<LooksLike>,
    /// Change while grinding inward.
    pub over_time: Option<OverTime>,
    /// Touches taken before the sparks that are described, these included.
    pub touches: Option<u32>,
    /// Depth ground off by then.
    pub ground_depth: Option<GroundDepth>,
    /// The grinder.
    pub wheel: Option<Wheel>,
    /// Two points on the first photo and how far apart they are.
    pub scale: Option<ScaleMarks>,
    /// What photos show of both, once they were measured.
    pub photographed: Option<Photographed>,
}

impl SparkObservation {
    /// Allowed number of touches.
    pub const TOUCHES: (u32, u32) = (1, 200);

    /// Paths of all photos, those of the stock last.
    pub fn photos(&self) -> impl Iterator<Item = &str> {
        std::iter::once(&self.coupon).chain(&self.untreated).flat_map(|s| s.photos.all())
    }

    /// Whether the sparks came from deeper than `surface`; `None`: not said. A measured depth decides,
    /// else a second touch or a few seconds are too much.
    pub fn deeper_than(&self, surface: Depth) -> Option<bool> {
        let again = self.touches.map(|touches| touches > 1);
        match self.ground_depth {
            Some(GroundDepth::Depth(depth)) => Some(depth.best() > surface),
            Some(GroundDepth::FewSeconds) => Some(true),
            Some(GroundDepth::OneTouch) => Some(again.unwrap_or(false)),
            None => again,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measured_depth_decides_before_words_and_touches() {
        let mm = |mm| Depth::from_millimetres(mm).unwrap();
        let told = |touches, ground_depth| {
            SparkObservation { touches, ground_depth, ..SparkObservation::default() }.deeper_than(mm(0.08))
        };
        let measured = |depth| Some(GroundDepth::Depth(Interval::exact(mm(depth))));
        assert_eq!(told(None, None), None);
        assert_eq!(told(Some(1), None), Some(false));
        assert_eq!(told(Some(2), None), Some(true));
        assert_eq!(told(Some(2), Some(GroundDepth::OneTouch)), Some(true));
        assert_eq!(told(None, Some(GroundDepth::OneTouch)), Some(false));
        assert_eq!(told(Some(1), Some(GroundDepth::FewSeconds)), Some(true));
        assert_eq!(told(Some(9), measured(0.08)), Some(false));
        assert_eq!(told(Some(1), measured(0.081)), Some(true));
    }
}
