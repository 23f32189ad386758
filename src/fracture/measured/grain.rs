use super::layout::Layout;
use super::mosaic::Mosaic;
use super::outlined::LONGEST;
use super::reading::Inner;
use super::variogram::Variogram;
use crate::fracture::{SeenGrain, grain_number};
use crate::units::Interval;

/// Least diameter of a grain that is told, px of the flat picture and of the photo. One third of the grain is the most
/// for a pixel; photos are a little blurred, so that a quarter is asked (judgement).
const LEAST: f64 = 4.0;
/// The same in blurs, one standard deviation (judgement).
const LEAST_BLURS: f64 = 4.0;
/// Least contrast: variance of the logarithm of facets' light. Light 15 to 30 degrees high on facets that lean by 10
/// degrees gives 0.1 to 0.4; what lies wide and low on the case of a face with finer grains gives less (judgement).
const LEAST_CONTRAST: f64 = 0.13;
/// A mosaic that is farther off what is seen is none (judgement).
const MOST_OFF: f64 = 0.1;
/// A grain's diameter over that of the facets that light shows: grains are domed, stepped and grooved. Measured on drawn
/// faces 1000 to 1129, held against others of 10000 to 10999.
const OVER_FACETS: f64 = 1.52;
/// How much coarser and how much finer than told a grain is one time in twenty each, numbers: measured on the 18
/// that were told of drawn faces 1000 to 1126 and 12000 to 12146. Finer by far more than coarser: what lies wide on fine
/// grain is taken for a coarse one.
const COARSER: f64 = 1.0;
const FINER: f64 = 3.2;
/// Coarser grains have no number on the scale.
const COARSEST: f64 = 1.0;
/// What is left out along the outline and along the border, shares of the smaller extent, and px at least (judgement).
const AWAY: f64 = 0.015;
const AWAY_PX: f64 = 3.0;

/// Grain of the case where the sides that are `cased` have one, or of the whole face; `mm` to a px of the flat picture.
pub(super) fn grain(inner: &Inner, cased: &[bool], through: bool, mm: f64) -> Option<SeenGrain> {
    let case = case(inner, cased, through)?;
    let layout = &inner.seen.layout;
    let least = LEAST * layout.px_of_photo().max(1.0);
    let longest = (0..layout.sides()).map(|s| 2.0 * layout.reach(s)).fold(0.0, f64::max);
    let finest = grain_number(least * mm);
    let nearest = grain_number(LEAST * mm * longest / LONGEST).max(finest);
    let told = Mosaic::of(&Variogram::of(&inner.seen.face.light, &case)).and_then(|m| number(&m, least, mm));
    Some(told.map_or(SeenGrain::NotSeen { finest, nearest }, SeenGrain::Number))
}

/// Grain number of a mosaic that can be one of grains.
fn number(mosaic: &Mosaic, least: f64, mm: f64) -> Option<Interval<f64>> {
    let across = OVER_FACETS * mosaic.diameter;
    let plain = mosaic.contrast >= LEAST_CONTRAST && mosaic.off < MOST_OFF;
    if !plain || across < least.max(LEAST_BLURS * mosaic.blur) {
        return None;
    }
    let best = grain_number(across * mm);
    Interval::new(best - COARSER, best, best + FINER).filter(|_| best >= COARSEST)
}

/// Where the flat picture shows case for sure; `None` if nowhere.
fn case(inner: &Inner, cased: &[bool], through: bool) -> Option<Vec<bool>> {
    let layout = &inner.seen.layout;
    let away = (AWAY * layout.thickness()).max(AWAY_PX);
    let ends: Vec<Vec<f64>> = if through { Vec::new() } else { ends(inner, cased, away)? };
    let mask = &inner.seen.rim.inner;
    let shows = |i: usize| {
        let at = [(i % mask.width) as f64 + 0.5, (i / mask.width) as f64 + 0.5];
        let Some((side, column, deep)) = below(inner, layout, at) else { return false };
        deep > away && (through || ends[side].get(column).is_some_and(|end| deep < *end))
    };
    let case: Vec<bool> = (0..mask.values.len()).map(|i| mask.values[i] != 0.0 && shows(i)).collect();
    case.contains(&true).then_some(case)
}

/// How deep the case is for sure below the outline, px, column by column of each side; `None` without a case.
fn ends(inner: &Inner, cased: &[bool], away: f64) -> Option<Vec<Vec<f64>>> {
    let borders = &inner.regions.as_ref()?.borders;
    let of_side = |side: usize| {
        let strip = &inner.strips[side];
        let end = |c: usize| borders[side].quantile(c, 0.25) * strip.cell[1] - away;
        if cased.get(side) == Some(&true) { (0..strip.columns).map(end).collect() } else { Vec::new() }
    };
    Some((0..inner.strips.len()).map(of_side).collect())
}

/// The nearest side of a place, its column, and how deep below the outline it lies, px.
fn below(inner: &Inner, layout: &Layout, at: [f64; 2]) -> Option<(usize, usize, f64)> {
    let on = |side: usize| (side, layout.on_side(side, at));
    let (side, [along, deep]) = (0..layout.sides()).map(on).min_by(|a, b| a.1[1].total_cmp(&b.1[1]))?;
    let strip = &inner.strips[side];
    let column = (along.max(0.0) / strip.cell[0]) as usize;
    Some((side, column, deep - strip.outline.get(column)?))
}
