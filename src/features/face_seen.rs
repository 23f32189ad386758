use super::face_words::{FaceReading, RimClass};
use super::fracture::{FaceColumn, together};
use super::settled::settled;
use super::spark::{Feature, Origin};
use super::words::Range;
use crate::fracture::{FaceDescription, RimDepth, SeenRim, ShownFace};
use crate::units::{Depth, Interval, Share};

/// Rim and depths of one face, by what was told and by what its photos show.
pub(super) struct FaceSeen {
    /// How far round: as told, or as depths that were told have it, else as photos show.
    pub(super) rim: Option<RimClass>,
    pub(super) sides: Sides,
    /// Where photos and what was told exclude each other.
    pub(super) disagree: Vec<FaceColumn>,
}

/// Depths of the sides that were read.
pub(super) struct Sides {
    pub(super) mm: Vec<Range>,
    pub(super) shares: Vec<Range>,
}

impl FaceSeen {
    pub(super) fn of(face: &FaceDescription, thickness_mm: Option<f64>, reading: &FaceReading) -> Self {
        let told = Sides::told(face, thickness_mm, reading);
        let inferred = inferred_rim(face, &told);
        let told_rim = face.rim.map(RimClass::from);
        let edge = |rim: Option<RimClass>| matches!(rim, Some(RimClass::Partial | RimClass::AllRound));
        let Some(shown) = face.photographed.as_ref().map(|p| &p.shown) else {
            return Self { rim: told_rim.or(inferred), sides: told, disagree: Vec::new() };
        };
        let shown_rim = class(shown.rim);
        // depths say whether there is a rim; how far round it runs, photos say better
        let told_rim = told_rim.or(inferred.filter(|_| !(edge(inferred) && edge(shown_rim))));
        let rim = told_rim.or(shown_rim);
        let mut disagree = Vec::new();
        if told_rim.zip(shown_rim).is_some_and(|(told, shown)| told != shown) {
            disagree.push(FaceColumn::Rim);
        }
        // no depth of a rim that what was told rules out
        let (sides, apart) = if edge(rim) { told.beside(shown) } else { (told, false) };
        disagree.extend(apart.then_some(FaceColumn::RimShare));
        Self { rim, sides, disagree }
    }
}

impl Sides {
    fn told(face: &FaceDescription, thickness_mm: Option<f64>, reading: &FaceReading) -> Self {
        let (length_mm, share) = (reading.length_mm.value, reading.share.value);
        let told = || face.depth.iter().flatten();
        let mm = |depth: &RimDepth| match depth {
            RimDepth::Length(l) => read(map(l, Depth::millimetres)?, length_mm, f64::INFINITY),
            RimDepth::OfThickness(s) => {
                let whole = thickness_mm?;
                // an eye is off by a share, but never by less than a ruler
                read(map(s, |s| s.fraction() * whole)?, (share * whole).max(length_mm), whole)
            }
        };
        let shares = |depth: &RimDepth| match depth {
            RimDepth::OfThickness(s) => read(map(s, Share::fraction)?, share, 1.0),
            RimDepth::Length(_) => {
                let whole = thickness_mm?;
                map(&mm(depth)?, |mm| (mm / whole).min(1.0))
            }
        };
        Self { mm: told().filter_map(mm).collect(), shares: told().filter_map(shares).collect() }
    }

    /// Depths by the only measure that all of them have.
    fn any(&self) -> &[Range] {
        if self.mm.len() >= self.shares.len() { &self.mm } else { &self.shares }
    }

    /// Together with what photos show, and whether the two exclude each other; then the range of the one side that is
    /// left reaches from one to the other.
    fn beside(self, shown: &ShownFace) -> (Self, bool) {
        let measures = [(&self.mm, shown.depth_mm), (&self.shares, shown.depth)];
        // both measures are settled alike: by mm if both sides of the question have them
        let both = |(told, shown): &(&Vec<Range>, Option<Range>)| Some((together(told)?, (*shown)?));
        let Some((told, photos)) = measures.iter().find_map(both) else {
            let none = shown.depth.is_none();
            let photos = Self { mm: shown.sides_mm.clone(), shares: shown.sides.clone() };
            return (if none { self } else { photos }, false);
        };
        let measured = |value| Some(Feature { value, origin: Origin::Measured });
        let which = settled(measured(told), photos);
        if which.apart {
            let over = |(told, shown): &(&Vec<Range>, Option<Range>)| match (together(told), *shown) {
                (Some(told), Some(shown)) => Some(settled(measured(told), shown).feature.value),
                (told, shown) => told.or(shown),
            };
            let [mm, shares] = [0, 1].map(|i| over(&measures[i]).into_iter().collect());
            return (Self { mm, shares }, true);
        }
        match which.feature.origin {
            Origin::Photo => (Self { mm: shown.sides_mm.clone(), shares: shown.sides.clone() }, false),
            _ => (self, false),
        }
    }
}

fn class(rim: SeenRim) -> Option<RimClass> {
    match rim {
        SeenRim::None => Some(RimClass::None),
        SeenRim::Partial => Some(RimClass::Partial),
        SeenRim::AllRound => Some(RimClass::AllRound),
        SeenRim::Through => Some(RimClass::Through),
        SeenRim::Unclear => None,
    }
}

fn map<T: Copy + PartialOrd>(range: &Interval<T>, to: impl Fn(T) -> f64) -> Option<Range> {
    Interval::new(to(range.low()), to(range.best()), to(range.high()))
}

/// A reading: its own range, or what reading is off by; from 0 to `most`.
pub(super) fn read(told: Range, off: f64, most: f64) -> Option<Range> {
    if !told.is_exact() {
        return Some(told);
    }
    let best = told.best();
    Interval::new((best - off).max(0.0), best, (best + off).min(most).max(best))
}

/// The rim as depths that were told have it.
fn inferred_rim(face: &FaceDescription, sides: &Sides) -> Option<RimClass> {
    let deep = |r: &Range| r.best() > 0.0;
    match sides.any() {
        [] => None,
        read if read.iter().all(deep) && face.depth.iter().all(Option::is_some) => Some(RimClass::AllRound),
        read if read.iter().any(deep) => Some(RimClass::Partial),
        _ if face.depth.iter().all(Option::is_some) => Some(RimClass::None),
        _ => None,
    }
}
