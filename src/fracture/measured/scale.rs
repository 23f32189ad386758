use super::layout::{Flat, Layout};
use crate::fracture::FaceKnown;
use crate::stats::NINE_IN_TEN;
use crate::units::{Depth, Interval};

/// How far a side's ideal line may be off, px of the flat picture (judgement).
const SIDE_OFF: f64 = 1.5;
/// A face longer than this against its thickness is no square seen at a slant (judgement: 20 degrees).
pub(super) const SQUARE: f64 = 1.10;
/// What a slant of 20 degrees takes off a length.
const UNKNOWN_TILT: f64 = 0.06;
/// A click is off by this, px of the photo, one standard deviation; nine in ten lie within 1.645 of them (judgement).
const CLICK: f64 = 2.0;
/// A scale is never called less sure than this share of itself.
const MOST_UNSURE: f64 = 0.3;

/// Millimetres to a px of the flat picture: across it and down it.
pub(super) fn scale(layout: &Layout, known: &FaceKnown) -> Option<[Interval<f64>; 2]> {
    let both = |v: f64, off: f64| Interval::new(v * (1.0 - off), v, v * (1.0 + off));
    if let Some(marks) = &known.marks {
        let mm = marks.length.millimetres();
        let back = layout.back()?;
        let (a, b) = (back.map(marks.from), back.map(marks.to));
        let px = libm::hypot(b[0] - a[0], b[1] - a[1]);
        // two clicks of two pixels each
        let off =
            (NINE_IN_TEN * CLICK * std::f64::consts::SQRT_2 * layout.px_of_photo() / px).min(MOST_UNSURE);
        return both(mm / px, off).map(|s| [s, s]);
    }
    let mm = known.thickness?.millimetres();
    match layout.flat {
        Flat::Round(d) => both(mm / d, SIDE_OFF / d).map(|s| [s, s]),
        Flat::Four([w, h]) => {
            let small = mm / w.min(h);
            let first = both(small, SIDE_OFF / w.min(h))?;
            let long = w.max(h);
            let second = match known.width.map(Depth::millimetres) {
                Some(width) => both(width / long, SIDE_OFF / long)?,
                None if long / w.min(h) < SQUARE => both(mm / long, SIDE_OFF / long)?,
                None => both(small, UNKNOWN_TILT)?,
            };
            Some(if w <= h { [first, second] } else { [second, first] })
        }
    }
}
