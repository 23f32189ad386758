use super::find::find;
use super::find::shape::{Shape, ellipse_of, quadrangle};
use super::flattened::Flattened;
use super::layout::{Flat, Layout};
use super::outlined::{self, Outlined};
use super::peel::{Peeled, peeled};
use super::quality::Quality;
use super::regions::Regions;
use super::rim::Rim;
use super::sides::{SideCase, quantile};
use super::strip::Strip;
use super::texture::Texture;
use crate::fracture::{
    BorderPoint, FaceForm, FaceKnown, FaceNote, FacePhoto, FaceRefusal, SeenRim, SeenTexture, SideDepth,
    SideName, SideSeen, SideUnread,
};
use crate::photo::Picture;
use crate::units::Interval;

/// Cells across the smaller extent of a face: along a side and inward (judgement).
const CELLS: [f64; 2] = [60.0, 250.0];
/// The least size of a cell, px.
const LEAST_CELL: [f64; 2] = [3.0, 1.0];
/// How well a patch must fit the form of a face.
const FITS: f64 = 0.9;

/// Everything that was worked out on the way.
pub struct Inner {
    pub seen: Outlined,
    pub strips: Vec<Strip>,
    pub regions: Option<Regions>,
    pub cases: Vec<SideCase>,
    pub quality: Quality,
    pub overlap: f64,
    pub off: Vec<Option<Peeled>>,
}

/// Measures the fracture face on a photo.
pub fn measure_face(picture: &Picture, known: &FaceKnown) -> Result<FacePhoto, FaceRefusal> {
    let inner = inner(picture, known)?;
    if let Some(refusal) = inner.quality.refusal() {
        return Err(refusal);
    }
    Ok(summed(&inner, known))
}

pub fn inner(picture: &Picture, known: &FaceKnown) -> Result<Inner, FaceRefusal> {
    let (seen, overlap) = outlined(picture, known)?;
    let texture = Texture::of(&seen.face, &seen.rim.inner);
    let quality = Quality::of(&seen, &texture);
    let sides = seen.layout.sides();
    let across = thickness(&seen.layout);
    let cell: [f64; 2] = std::array::from_fn(|i| (across / CELLS[i]).max(LEAST_CELL[i]));
    let mut strips: Vec<Strip> =
        (0..sides).map(|s| Strip::of(s, &seen.layout, &seen.rim, &texture, cell)).collect();
    let (regions, off) = peeled(&mut strips);
    let cases = regions.as_ref().map(|r| cases(&strips, r, &seen.layout)).unwrap_or_default();
    Ok(Inner { seen, strips, regions, cases, quality, overlap, off })
}

fn cases(strips: &[Strip], regions: &Regions, layout: &Layout) -> Vec<SideCase> {
    // a first look at how deep the case is, for how far corners reach
    let deep = |s: &Strip, b: &super::border::Border| {
        quantile((0..s.columns).map(|c| b.quantile(c, 0.5) * s.cell[1]).collect(), 0.5)
    };
    let depth = strips.iter().zip(&regions.borders).map(|(s, b)| deep(s, b)).fold(0.0, f64::max);
    strips.iter().zip(&regions.borders).map(|(s, b)| SideCase::of(s, b, layout, depth)).collect()
}

fn outlined(picture: &Picture, known: &FaceKnown) -> Result<(Outlined, f64), FaceRefusal> {
    if known.outline.is_empty() {
        let no_face = |overlap: f64| FaceRefusal::NoFace { overlap: 100.0 * overlap, needed: 100.0 * FITS };
        let found = find(picture).ok_or_else(|| no_face(0.0))?;
        if found.overlap < FITS {
            return Err(no_face(found.overlap));
        }
        let shape = found.shape.times(found.look.factor);
        let seen = Outlined::of(picture, &shape).ok_or_else(|| no_face(found.overlap))?;
        return Ok((seen, found.overlap));
    }
    let bad = |why| FaceRefusal::BadOutline { why };
    let shape = told_shape(&known.outline).ok_or_else(|| bad("its points do not go round an area"))?;
    let layout =
        outlined::laid(&shape, outlined::LONGEST).ok_or_else(|| bad("three of its corners lie on a line"))?;
    let rim = Rim::ideal(&layout);
    Ok((Outlined { face: Flattened::of(picture, &layout), rim, layout }, 1.0))
}

/// Four corners, or the form that fits more points better.
fn told_shape(points: &[[f64; 2]]) -> Option<Shape> {
    if let Ok(corners) = <[[f64; 2]; 4]>::try_from(points) {
        let turned = super::find::shape::cross(corners[0], corners[1], corners[2]) < 0.0;
        let [a, b, c, d] = corners;
        return Some(Shape::Four(if turned { [a, d, c, b] } else { corners }));
    }
    if points.len() < 4 {
        return None;
    }
    let four = quadrangle(points);
    let round = ellipse_of(points);
    let _ = four;
    Some(round)
}

/// Smaller extent of the face, px of the flat picture.
pub(super) fn thickness(layout: &Layout) -> f64 {
    match layout.flat {
        Flat::Four([w, h]) => w.min(h),
        Flat::Round(d) => d,
    }
}

/// Millimetres to a px of the flat picture: across it and down it.
fn scale(inner: &Inner, known: &FaceKnown) -> Option<[Interval<f64>; 2]> {
    let layout = &inner.seen.layout;
    let both = |v: f64, off: f64| Interval::new(v * (1.0 - off), v, v * (1.0 + off));
    if let Some(marks) = &known.marks {
        let mm = marks.length.millimetres();
        let back = layout.from_photo()?;
        let (a, b) = (back.map(marks.from), back.map(marks.to));
        let px = libm::hypot(b[0] - a[0], b[1] - a[1]);
        // two clicks of two pixels each
        let off = (1.645 * 2.0 * std::f64::consts::SQRT_2 * layout.px_of_photo() / px).min(0.3);
        return both(mm / px, off).map(|s| [s, s]);
    }
    let mm = known.thickness?.millimetres();
    match layout.flat {
        Flat::Round(d) => both(mm / d, SIDE_OFF / d).map(|s| [s, s]),
        Flat::Four([w, h]) => {
            let small = mm / w.min(h);
            let first = both(small, SIDE_OFF / w.min(h))?;
            let long = w.max(h);
            let second = match known.width.map(|w| w.millimetres()) {
                Some(width) => both(width / long, SIDE_OFF / long)?,
                None if long / w.min(h) < SQUARE => both(mm / long, SIDE_OFF / long)?,
                None => both(small, UNKNOWN_TILT)?,
            };
            Some(if w <= h { [first, second] } else { [second, first] })
        }
    }
}

/// How far a side's ideal line may be off, px of the flat picture (judgement).
const SIDE_OFF: f64 = 1.5;
/// A face longer than this against its thickness is no square seen at a slant (judgement: 20 degrees).
const SQUARE: f64 = 1.10;
/// What a slant of 20 degrees takes off a length.
const UNKNOWN_TILT: f64 = 0.06;

fn summed(inner: &Inner, known: &FaceKnown) -> FacePhoto {
    let layout = &inner.seen.layout;
    let across = thickness(layout);
    let scale = scale(inner, known);
    let rim = rim(inner);
    let mut notes = Vec::new();
    if scale.is_none() {
        notes.push(FaceNote::NoScale);
    }
    let sides = (0..layout.sides()).map(|side| side_seen(inner, side, rim, scale, across)).collect();
    let outline = outline(inner);
    let texture =
        inner.regions.as_ref().filter(|_| matches!(rim, SeenRim::AllRound | SeenRim::Partial)).map(|r| {
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
        transition: None,
        texture,
        notes,
    }
}

/// Regions less apart than this are no case and core (judgement).
const APART: f64 = 1.2;

/// A face without a border: rim or core all over. Fine grain swings less the coarser one looks, torn fibres the more.
fn whole(swings: [f64; 4]) -> SeenRim {
    let coarse = libm::log(swings[3].max(1e-6) / swings[1].max(1e-6));
    if coarse < FINE {
        SeenRim::Through
    } else if coarse > TORN {
        SeenRim::None
    } else {
        SeenRim::Unclear
    }
}

/// Swing of the coarsest band over that of the second, natural logarithm: below it fine grain, above it torn fibres
/// (judgement, on drawn faces).
const FINE: f64 = -0.2;
const TORN: f64 = 0.05;

/// How far round the rim runs.
fn rim(inner: &Inner) -> SeenRim {
    let Some(regions) = &inner.regions else { return SeenRim::Unclear };
    if regions.apart < APART {
        return whole(inner.quality.swings);
    }
    let read: Vec<&SideCase> =
        inner.cases.iter().filter(|c| inner.off[c.side] != Some(Peeled::Band)).collect();
    let least = read.iter().map(|c| c.cased).fold(f64::INFINITY, f64::min);
    let most = read.iter().map(|c| c.cased).fold(0.0, f64::max);
    if read.is_empty() {
        SeenRim::Unclear
    } else if least > 0.9 {
        SeenRim::AllRound
    } else if most > 0.25 {
        SeenRim::Partial
    } else {
        SeenRim::None
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
    let unread = if inner.off[side] == Some(Peeled::Band) {
        Some(SideUnread::Band)
    } else if case.readable < HARDLY {
        Some(SideUnread::Faint)
    } else {
        None
    };
    let cased = matches!(rim, SeenRim::AllRound | SeenRim::Partial) && case.cased > CASED;
    // the way inward from this side: down for top and bottom, across for left and right
    let mm = scale.map(|s| if layout.sides() == 4 && side % 2 == 1 { s[0] } else { s[1] });
    let [low, best, high] = case.median;
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

/// A side of which less can be read is not read (judgement).
const HARDLY: f64 = 0.3;
/// Share of a side that has a case if the side has one (judgement).
const CASED: f64 = 0.25;

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
