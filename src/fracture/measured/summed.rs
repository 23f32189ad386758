use super::layout::{Flat, Layout};
use super::reading::Inner;
use super::scale::{SQUARE, scale};
use super::sides::SideCase;
use super::transition::transition;
use crate::fracture::{
    BorderPoint, FaceForm, FaceKnown, FaceNote, FacePhoto, SeenRim, SeenTexture, SideDepth, SideName,
    SideSeen, SideUnread,
};
use crate::units::Interval;

pub(super) fn summed(inner: &Inner, known: &FaceKnown) -> FacePhoto {
    let layout = &inner.seen.layout;
    let across = layout.thickness();
    let scale = scale(layout, known);
    let rim = rim(inner);
    let notes = notes(layout, known);
    let sides = (0..layout.sides()).map(|side| side_seen(inner, side, rim, scale, across)).collect();
    let outline = outline(inner);
    let bordered = inner.regions.as_ref().filter(|_| matches!(rim, SeenRim::AllRound | SeenRim::Partial));
    let texture = bordered.map(|r| {
        let [case, core] = r.split.means();
        SeenTexture {
            brightness: libm::exp(case[0] - core[0]),
            roughness: std::array::from_fn(|k| libm::exp(case[k + 1] - core[k + 1])),
        }
    });
    let px = layout.px_of_photo();
    FacePhoto {
        outline,
        form: if layout.sides() == 1 { FaceForm::Round } else { FaceForm::Four },
        px_per_mm: scale.and_then(|[a, _]| {
            Interval::new(1.0 / (px * a.high()), 1.0 / (px * a.best()), 1.0 / (px * a.low()))
        }),
        thickness_px: across / px,
        rim,
        sides,
        transition: bordered
            .and_then(|r| Some(transition(&inner.strips, r)? * inner.strips.first()?.cell[1] / across)),
        texture,
        notes,
    }
}

/// What should be known of the scale.
fn notes(layout: &Layout, known: &FaceKnown) -> Vec<FaceNote> {
    let note = match (layout.flat, known) {
        (_, FaceKnown { thickness: None, marks: None, .. }) => Some(FaceNote::NoScale),
        (_, FaceKnown { marks: Some(_), .. } | FaceKnown { width: Some(_), .. }) | (Flat::Round(_), _) => {
            None
        }
        (Flat::Four([w, h]), _) if w.max(h) < SQUARE * w.min(h) => Some(FaceNote::TakenForSquare),
        (Flat::Four(_), _) => Some(FaceNote::WidthUnknown),
    };
    note.into_iter().collect()
}

/// Regions less apart than this are no case and core (judgement).
const APART: f64 = 1.2;

/// A face without a border: rim or core all over. Fine grain swings less the coarser one looks, torn fibres the more.
fn whole(swings: [f64; 4]) -> SeenRim {
    let coarse = libm::log(swings[2].max(1e-6) / swings[0].max(1e-6));
    if coarse < FINE {
        SeenRim::Through
    } else if coarse > TORN && swings[1] + swings[2] > PLAIN {
        SeenRim::None
    } else {
        SeenRim::Unclear
    }
}

/// Swing of the third band over that of the finest, natural logarithm: below it fine grain, above it torn fibres
/// (judgement, on drawn faces).
const FINE: f64 = -0.32;
const TORN: f64 = -0.2;
/// Least swing of the second and third band together, natural logarithm: what swings less may as well be blurred.
const PLAIN: f64 = 0.1;

/// How far round the rim runs.
fn rim(inner: &Inner) -> SeenRim {
    let Some(regions) = &inner.regions else { return SeenRim::Unclear };
    if regions.apart < APART {
        return whole(inner.quality.swings);
    }
    let read: Vec<&SideCase> = inner.cases.iter().filter(|c| !inner.off.unread(c.side)).collect();
    let least = read.iter().map(|c| c.cased).fold(f64::INFINITY, f64::min);
    let most = read.iter().map(|c| c.cased).fold(0.0, f64::max);
    if read.is_empty() {
        SeenRim::Unclear
    } else if least > 0.9 {
        SeenRim::AllRound
    } else if most > if read.len() == 1 { CASED_ROUND } else { CASED } {
        SeenRim::Partial
    } else {
        whole(inner.quality.swings)
    }
}

fn side_seen(
    inner: &Inner,
    side: usize,
    rim: SeenRim,
    scale: Option<[Interval<f64>; 2]>,
    across: f64,
) -> SideSeen {
    let layout = &inner.seen.layout;
    let name = name(layout, side);
    let (Some(regions), Some(case)) = (&inner.regions, inner.cases.get(side)) else {
        return SideSeen {
            name,
            case: None,
            unread: Some(SideUnread::Faint),
            readable: 0.0,
            border: Vec::new(),
        };
    };
    let (strip, border) = (&inner.strips[side], &regions.borders[side]);
    let points = (0..strip.columns)
        .map(|c| {
            let along = (c as f64 + 0.5) * strip.cell[0];
            let at = |share: f64| border.quantile(c, share) * strip.cell[1];
            let place = |deep: f64| layout.to_photo.map(layout.place(side, along, strip.outline[c] + deep));
            let [low, best, high] = [0.05, 0.5, 0.95].map(at);
            BorderPoint {
                from: place(0.0),
                low: place(low),
                best: place(best),
                high: place(high),
                depth: best / across,
                read: high - low < (0.3 * best).max(4.0 * strip.cell[1]),
            }
        })
        .collect();
    let unread = if inner.off.unread(side) {
        Some(SideUnread::Band)
    } else if case.readable < HARDLY {
        Some(SideUnread::Faint)
    } else {
        None
    };
    let cased = matches!(rim, SeenRim::AllRound | SeenRim::Partial)
        && case.cased > if layout.sides() == 1 { CASED_ROUND } else { CASED };
    // the way inward from this side: down for top and bottom, across for left and right
    let mm = scale.map(|s| if layout.sides() == 4 && side % 2 == 1 { s[0] } else { s[1] });
    let [low, best, high] = widened(case.median, across);
    let depth = Interval::new(low / across, best / across, high / across).map(|median| SideDepth {
        median,
        spread: case.spread.map(|v| v / across),
        median_mm: mm.and_then(|s| Interval::new(low * s.low(), best * s.best(), high * s.high())),
        spread_mm: mm.map(|s| case.spread.map(|v| v * s.best())),
    });
    SideSeen {
        name,
        case: depth.filter(|_| cased && unread.is_none()),
        unread,
        readable: case.readable,
        border: points,
    }
}

/// The range of a median widened by what the drawn borders do not tell: an outline that is off, and looks of case and
/// core that blur into each other. Judged on drawn development faces, where
/// narrower ones held too few.
fn widened([low, best, high]: [f64; 3], across: f64) -> [f64; 3] {
    let more = libm::hypot(OUTLINE_OFF * across, BORDER_OFF * best);
    [(best - libm::hypot(best - low, more)).max(0.0), best, best + libm::hypot(high - best, more)]
}

/// Share of the thickness, and of the depth.
const OUTLINE_OFF: f64 = 0.025;
const BORDER_OFF: f64 = 0.12;
/// A side of which less can be read is not read (judgement).
const HARDLY: f64 = 0.3;
/// Share of a side that has a case if the side has one (judgement).
const CASED: f64 = 0.25;
/// The same on a round face, which has one side.
const CASED_ROUND: f64 = 0.08;

/// Where a side lies in the photo: by where its middle lies from the middle of the face.
fn name(layout: &Layout, side: usize) -> SideName {
    if layout.sides() == 1 {
        return SideName::Round;
    }
    let middle = layout.to_photo.map(layout.place(side, layout.length(side) / 2.0, layout.reach(side)));
    let at = layout.to_photo.map(layout.place(side, layout.length(side) / 2.0, 0.0));
    let (dx, dy) = (at[0] - middle[0], at[1] - middle[1]);
    match (dx.abs() > dy.abs(), dx > 0.0, dy > 0.0) {
        (true, true, _) => SideName::Right,
        (true, false, _) => SideName::Left,
        (false, _, true) => SideName::Bottom,
        (false, _, false) => SideName::Top,
    }
}

fn outline(inner: &Inner) -> Vec<[f64; 2]> {
    let layout = &inner.seen.layout;
    (0..layout.sides())
        .flat_map(|side| {
            let n = (layout.length(side) / 4.0).ceil() as usize;
            (0..n).map(move |i| {
                let along = (i as f64 + 0.5) * layout.length(side) / n as f64;
                layout.to_photo.map(layout.place(side, along, inner.seen.rim.offset(side, along)))
            })
        })
        .collect()
}
