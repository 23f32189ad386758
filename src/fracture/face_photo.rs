use super::{FaceRefusal, SeenGrain};
use crate::photo::ScaleMarks;
use crate::units::{Depth, Interval};

/// What is known of the face before the photo is looked at.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FaceKnown {
    /// Smaller extent of a square or rectangular face, or the diameter of a round one.
    pub thickness: Option<Depth>,
    /// Larger extent of a rectangular face.
    pub width: Option<Depth>,
    /// Two points of the photo in the plane of the face, and how far apart they are; used before the thickness.
    pub marks: Option<ScaleMarks>,
    /// Corners of the face in the photo, px, clockwise, or more points around it.
    pub outline: Vec<[f64; 2]>,
}

impl FaceKnown {
    /// Refuses an outline that leaves a picture of `width` by `height` px.
    pub fn on(&self, width: usize, height: usize) -> Result<(), FaceRefusal> {
        let inside = |p: &[f64; 2]| p[0] <= width as f64 && p[1] <= height as f64;
        if self.outline.iter().all(inside) {
            return Ok(());
        }
        Err(FaceRefusal::BadOutline { why: "a point of it lies outside the picture" })
    }
}

/// The fracture face on one photo, measured.
#[derive(Debug, Clone, PartialEq)]
pub struct FacePhoto {
    /// Its outline in the photo, px: points around it, clockwise.
    pub outline: Vec<[f64; 2]>,
    /// Four straight sides, or one round one.
    pub form: FaceForm,
    /// Pixels of the photo to the millimetre, in the middle of the face, nine times in ten; `None` without a scale.
    pub px_per_mm: Option<Interval<f64>>,
    /// Thickness or diameter of the face as it lies in the photo, px.
    pub thickness_px: f64,
    /// How far round a rim was seen.
    pub rim: SeenRim,
    /// Each side, clockwise.
    pub sides: Vec<SideSeen>,
    /// Depth over which case turns into core, share of the thickness; `None` without a border.
    pub transition: Option<f64>,
    /// How much the case's and the core's light swings, natural logarithm, finest band first, and how bright each
    /// is against the other.
    pub texture: Option<SeenTexture>,
    /// Grain of the case; `None` without a scale or a case.
    pub grain: Option<SeenGrain>,
    /// What should be known about this reading.
    pub notes: Vec<FaceNote>,
}

impl FacePhoto {
    /// Visible case depth of the face: the middle of the medians of its sides, from the lowest low to the highest high,
    /// as a share of the thickness and in mm. `None` without a side that was read.
    pub fn depth(&self) -> Option<(Interval<f64>, Option<Interval<f64>>)> {
        let read: Vec<&SideDepth> = self.sides.iter().filter_map(|s| s.case.as_ref()).collect();
        let together = |of: Vec<Interval<f64>>| {
            let mut best: Vec<f64> = of.iter().map(Interval::best).collect();
            best.sort_by(f64::total_cmp);
            let (upper, lower) = (best.get(best.len() / 2)?, best.get(best.len().checked_sub(1)? / 2)?);
            let low = of.iter().map(Interval::low).fold(f64::INFINITY, f64::min);
            let high = of.iter().map(Interval::high).fold(0.0, f64::max);
            Interval::new(low, f64::midpoint(*lower, *upper), high)
        };
        let share = together(read.iter().map(|s| s.median).collect())?;
        let mm: Vec<Interval<f64>> = read.iter().filter_map(|s| s.median_mm).collect();
        Some((share, together(mm)))
    }
}

impl FacePhoto {
    /// Corners reach this many depths along each side: the gas came from two sides there.
    pub(super) const CORNER: f64 = 1.5;
    /// At least this share of a side, in its middle, is no corner (judgement).
    pub(super) const MIDDLE: f64 = 0.3;

    /// Thickness of the face by its scale, mm.
    pub fn thickness_mm(&self) -> Option<f64> {
        self.px_per_mm.map(|scale| self.thickness_px / scale.best())
    }

    /// Which points of a side's border belong to its corners, whose depth is no part of the side's.
    pub fn corners(&self, side: &SideSeen) -> Vec<bool> {
        let along = side.along();
        let length = along.last().copied().unwrap_or(0.0);
        let depth = self.depth().map_or(0.0, |(share, _)| share.best() * self.thickness_px);
        let reach = (Self::CORNER * depth).min(length * (1.0 - Self::MIDDLE) / 2.0);
        let round = self.form == FaceForm::Round;
        along.iter().map(|at| !round && (*at < reach || *at > length - reach)).collect()
    }
}

impl SideSeen {
    /// How far along the outline each point of the border lies from the first, px of the photo.
    pub fn along(&self) -> Vec<f64> {
        let mut at = 0.0;
        let mut before = self.border.first().map(|p| p.from);
        let step = |p: &BorderPoint| {
            at += before.replace(p.from).map_or(0.0, |from| between(from, p.from));
            at
        };
        self.border.iter().map(step).collect()
    }
}

impl BorderPoint {
    /// Depth there, lowest, best and highest, share of a thickness of so many px.
    pub fn depths(&self, thickness_px: f64) -> [f64; 3] {
        let [low, best, high] = [self.low, self.best, self.high].map(|to| between(self.from, to));
        let scale = if best > 0.0 { self.depth / best } else { 1.0 / thickness_px };
        [low * scale, self.depth, high * scale]
    }
}

fn between(a: [f64; 2], b: [f64; 2]) -> f64 {
    libm::hypot(b[0] - a[0], b[1] - a[1])
}

/// Form of a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FaceForm {
    /// A square or a rectangle.
    Four,
    /// A round bar's.
    Round,
}

/// How far round the rim runs, as seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SeenRim {
    /// No rim.
    None,
    /// On some sides only.
    Partial,
    /// All round a core.
    AllRound,
    /// The whole face looks like rim.
    Through,
    /// It cannot be told.
    Unclear,
}

impl SeenRim {
    /// Whether it ends at a core, so that it has a depth.
    pub fn has_edge(self) -> bool {
        matches!(self, Self::Partial | Self::AllRound)
    }
}

/// One side of the face.
#[derive(Debug, Clone, PartialEq)]
pub struct SideSeen {
    /// Where the side lies in the photo.
    pub name: SideName,
    /// The case along it; `None` where it was not read, or where there is none.
    pub case: Option<SideDepth>,
    /// Why it was not read.
    pub unread: Option<SideUnread>,
    /// Share of it, without its corners, whose border could be read, 0 to 1.
    pub readable: f64,
    /// The border in the photo, px, from one end to the other: where the case most likely ends, and the band that
    /// holds it nine times in ten.
    pub border: Vec<BorderPoint>,
}

/// A point of the border, px of the photo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BorderPoint {
    /// On the outline.
    pub from: [f64; 2],
    /// Where the case ends, nine times in ten at least that deep.
    pub low: [f64; 2],
    /// Where it ends most likely.
    pub best: [f64; 2],
    /// Nine times in ten at most that deep.
    pub high: [f64; 2],
    /// Depth there, share of the thickness.
    pub depth: f64,
    /// Whether it was read there.
    pub read: bool,
}

/// Visible case depth along a side, shares of the thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideDepth {
    /// Median without the corners, with the range that holds it nine times in ten.
    pub median: Interval<f64>,
    /// A tenth and nine tenths of the side are shallower.
    pub spread: [f64; 2],
    /// The same as `median`, mm.
    pub median_mm: Option<Interval<f64>>,
    /// The same as `spread`, mm.
    pub spread_mm: Option<[f64; 2]>,
}

/// A side by where it lies in the upright photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SideName {
    /// The upper side.
    Top,
    /// The right side.
    Right,
    /// The lower side.
    Bottom,
    /// The left side.
    Left,
    /// A round face has one.
    Round,
}

/// Why a side was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SideUnread {
    /// A smooth, striped or dark band lies along it: a notch, a lip or a wall seen at a slant.
    Band,
    /// Hardly any of its border stands out.
    Faint,
}

/// Case and core beside each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenTexture {
    /// Light of the case over light of the core.
    pub brightness: f64,
    /// Roughness of the case over that of the core, finest band first.
    pub roughness: [f64; 4],
}

/// What should be known about a reading.
#[derive(Debug, Clone, PartialEq)]
pub enum FaceNote {
    /// No thickness, scale or marks: depths are shares of the thickness.
    NoScale,
    /// Taken for square: its other extent was not told.
    TakenForSquare,
    /// The face is not square to the camera and its width was not told: lengths along it are less sure.
    WidthUnknown,
}
