use crate::fracture::{FacePhoto, SeenRim};
use crate::stats::{Group, NINE_IN_TEN, pool};
use crate::units::Interval;

/// What photos show of a face in the terms that a description of it has.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownFace {
    /// How far round the rim runs.
    pub rim: SeenRim,
    /// Visible case depth of the face, share of the thickness, nine times in ten.
    pub depth: Option<Interval<f64>>,
    /// The same, mm.
    pub depth_mm: Option<Interval<f64>>,
    /// Depth of each side that was read, share of the thickness, if there is one photo; else of the face as one: nobody
    /// says which side of one photo is which of the next.
    pub sides: Vec<Interval<f64>>,
    /// The same, mm.
    pub sides_mm: Vec<Interval<f64>>,
}

impl ShownFace {
    /// Of photos of one face whose rim is agreed on.
    pub(super) fn of(rim: SeenRim, photos: &[&FacePhoto]) -> Self {
        let read: Vec<_> = photos.iter().filter(|p| rim.has_edge() && p.rim.has_edge()).collect();
        let depths: Vec<_> = read.iter().filter_map(|p| p.depth()).collect();
        let depth = together(&depths.iter().map(|(share, _)| *share).collect::<Vec<_>>());
        let depth_mm = together(&depths.iter().filter_map(|(_, mm)| *mm).collect::<Vec<_>>());
        let (sides, sides_mm) = match read.as_slice() {
            [one] if photos.len() == 1 => {
                let cases = || one.sides.iter().filter_map(|side| side.case);
                (cases().map(|c| c.median).collect(), cases().filter_map(|c| c.median_mm).collect())
            }
            _ => (depth.into_iter().collect(), depth_mm.into_iter().collect()),
        };
        Self { rim, depth, depth_mm, sides, sides_mm }
    }
}

/// Standard deviation that is expected from photo to photo of one face before any is seen, share of the depth (judgement:
/// a border that light from one side shows sharper than light from the other).
const FROM_PHOTO_TO_PHOTO: f64 = 0.03;
/// Standard deviation below which no photo counts for more, share of the depth (judgement).
const SUREST: f64 = 0.01;

/// Depths of one face from several photos. What they have in common, the thickness that was told and the place where an
/// eye or a rule sees the border, does not average out: the range never becomes narrower than the narrowest of theirs, and
/// where they differ it is wider.
fn together(depths: &[Interval<f64>]) -> Option<Interval<f64>> {
    if let [one] = depths {
        return Some(*one);
    }
    let half = |d: &Interval<f64>| (d.high() - d.low()) / 2.0;
    let middle = depths.iter().map(Interval::best).sum::<f64>() / depths.len().max(1) as f64;
    let group = |d: &Interval<f64>| {
        let variance = (half(d) / NINE_IN_TEN).powi(2);
        Group { value: d.best(), variance, weight: 1.0 / (variance + (SUREST * middle).powi(2)) }
    };
    let groups: Vec<Group> = depths.iter().map(group).collect();
    let pooled = pool(&groups, FROM_PHOTO_TO_PHOTO * middle)?;
    let narrowest = depths.iter().map(half).fold(f64::INFINITY, f64::min);
    let off = (NINE_IN_TEN * pooled.variance.sqrt()).max(narrowest);
    Interval::new((pooled.value - off).max(0.0), pooled.value, pooled.value + off)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(low: f64, best: f64, high: f64) -> Interval<f64> {
        Interval::new(low, best, high).unwrap_or(Interval::exact(best))
    }

    #[test]
    fn photos_of_one_face_never_narrow_its_depth() {
        let one = range(0.5, 0.6, 0.7);
        assert_eq!(together(&[one]), Some(one));
        for n in 2..12 {
            let all = together(&vec![one; n]).unwrap_or(Interval::exact(0.0));
            assert!((all.best() - 0.6).abs() < 1e-12);
            assert!(all.high() - all.low() >= 0.2 - 1e-12, "{n}: {all:?}");
        }
    }

    #[test]
    fn photos_that_differ_widen_it_and_the_surer_one_counts_for_more() {
        let apart = together(&[range(0.5, 0.55, 0.6), range(0.8, 0.85, 0.9)]).unwrap_or(Interval::exact(0.0));
        assert!(apart.low() < 0.56 && apart.high() > 0.84, "{apart:?}");
        let unlike =
            together(&[range(0.58, 0.6, 0.62), range(0.3, 0.8, 1.3)]).unwrap_or(Interval::exact(0.0));
        assert!((unlike.best() - 0.6).abs() < 0.01, "{unlike:?}");
        assert_eq!(together(&[]), None);
    }
}
