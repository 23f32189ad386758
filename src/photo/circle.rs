//! One large round thing in a picture: the rim of a wheel, bright or dark, perhaps partly hidden or out of view.
//!
//! Edges vote for the centres they may curve around; for the best centres the radius is the distance at which
//! most edges stand upright to it; a least-squares circle through those edges is refined with ever less
//! tolerance. What is found must be seen over enough of its turn and be round, or there is no answer.

mod candidates;
mod edges;
mod fit;
#[cfg(test)]
mod tests;

use super::{Picture, Shrink};
use candidates::{apart, candidates};
use edges::Edges;
use fit::Rim;
use thiserror::Error;

/// Longest side at which a circle is looked for, px: judgement. A rim is fixed to a tenth of a px by the fit.
const LOOKED_AT_PX: usize = 800;
/// Least of its turn that a rim must be seen over, degrees. A shorter arc leaves its radius open: judgement.
const LEAST_ARC_DEG: f64 = 90.0;
/// Least share of the edges along a rim that lie on the circle: an ellipse or a spiral has less. Judgement.
const LEAST_SHARE: f64 = 0.45;
/// Most pieces of 5 degrees in which a rim may run on beside the circle: a wheel seen at a slant does. Judgement.
const MOST_LEAVING: usize = 1;
/// Most root mean square distance of a rim's edges from the circle, px at the scale looked at. Edges spread evenly
/// over the tolerance of 2 px would have 1.15: they gather on a circle only below that. Judgement.
const MOST_RESIDUAL_PX: f64 = 0.7;
/// Most standard deviation of a radius, as a share of it: judgement.
const MOST_UNSURE: f64 = 0.04;

/// Where the rim must pass: the place from which the sparks come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RimHint {
    /// (x, y) in px of the full picture.
    pub at: [f64; 2],
    /// How far from there the rim may pass, px.
    pub within: f64,
}

/// A circle, in px of the full picture; whole numbers are the middles of pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Centre (x, y), px; may lie outside the picture.
    pub centre: [f64; 2],
    /// Standard deviation of the centre, px, in x and y.
    pub centre_sd: [f64; 2],
    /// Radius, px.
    pub radius: f64,
    /// Standard deviation of the radius, px.
    pub radius_sd: f64,
    /// How much of its turn was seen, degrees.
    pub arc_deg: f64,
    /// Share of the edges along the rim that lie on the circle, 0 to 1.
    pub share: f64,
    /// Root mean square distance of those edges from the circle, px.
    pub residual: f64,
}

/// Why no circle is given. `Display` says what is wrong; [`CircleError::help`] what to do.
#[derive(Debug, Clone, PartialEq, Error)]
#[allow(missing_docs)] // the variants' fields are shown by Display
pub enum CircleError {
    #[error("no rim of a wheel is seen")]
    None,
    #[error("only {got:.0} degrees of the wheel's rim are seen; allowed: {least:.0} and more")]
    ArcTooShort { got: f64, least: f64 },
    #[error(
        "what could be the wheel is not round: {got:.2} of its edges lie on a circle; allowed: {least:.2} and more"
    )]
    NotRound { got: f64, least: f64 },
    #[error(
        "the wheel is seen at a slant: over {got} degrees its rim runs beside the circle; allowed: up to {most}"
    )]
    Slanted { got: usize, most: usize },
    #[error("the wheel's rim is no clear circle: its edges lie {got:.2} px off it; allowed: up to {most:.2}")]
    Rough { got: f64, most: f64 },
    #[error("the wheel's radius is uncertain by {got:.0} %; allowed: up to {most:.0} %")]
    Unsure { got: f64, most: f64 },
    #[error(
        "two round things could be the wheel: radius {first:.0} px around {first_at}, and {second:.0} px around {second_at}"
    )]
    Ambiguous { first: f64, first_at: String, second: f64, second_at: String },
}

impl CircleError {
    /// What to do about it.
    pub fn help(&self) -> &'static str {
        match self {
            Self::NotRound { .. } | Self::Slanted { .. } | Self::Rough { .. } => {
                "take the photo square to the wheel's side, or give two points: --scale x1,y1,x2,y2=100mm"
            }
            Self::Ambiguous { .. } => "give two points instead: --scale x1,y1,x2,y2=100mm",
            Self::None | Self::ArcTooShort { .. } | Self::Unsure { .. } => {
                "have at least a third of the wheel's rim in the picture, lit against its background,\n\
                 or give two points: --scale x1,y1,x2,y2=100mm"
            }
        }
    }
}

/// Finds the rim of a wheel. Without a hint it may be anything round and large: a mask, a pipe, a lamp. With the
/// place that the sparks come from it is what they are ground on.
pub fn find(picture: &Picture, hint: Option<RimHint>) -> Result<Circle, CircleError> {
    let longest = picture.width().max(picture.height());
    let shrink = Shrink::by(longest.div_ceil(LOOKED_AT_PX).clamp(1, 8)).unwrap_or(Shrink::NONE);
    let factor = shrink.factor() as f64;
    let to_full = |cell: f64| (cell + 0.5) * factor - 0.5;
    let to_cell = |px: f64| (px + 0.5) / factor - 0.5;
    let hint = hint
        .map(|h| RimHint { at: h.at.map(to_cell), within: h.within.max(0.0) / factor })
        .filter(|h| h.at.iter().all(|v| v.is_finite()));
    let rim = rim_of(&Edges::of(&picture.linear(shrink)), hint)?;
    Ok(Circle {
        centre: rim.centre.map(to_full),
        centre_sd: rim.centre_sd.map(|sd| sd * factor),
        radius: rim.radius * factor,
        radius_sd: rim.radius_sd * factor,
        arc_deg: rim.arc_deg,
        share: rim.share,
        residual: rim.residual * factor,
    })
}

/// The best rim among the candidates, if it is good enough and the only one.
fn rim_of(edges: &Edges, hint: Option<RimHint>) -> Result<Rim, CircleError> {
    let mut rims: Vec<Rim> = candidates(edges, hint.as_ref())
        .into_iter()
        .filter_map(|start| fit::refine(edges, start))
        .filter(|rim| hint.is_none_or(|h| rim.misses(h.at) <= h.within))
        .collect();
    rims.sort_by(|a, b| b.seen().total_cmp(&a.seen()));
    let best = rims.first().ok_or(CircleError::None)?;
    let Some(found) = rims.iter().find(|rim| rim.fault().is_none()) else {
        return Err(best.fault().unwrap_or(CircleError::None));
    };
    // Of rings around one centre the outermost is the wheel's; another wheel is another answer.
    let good = || rims.iter().filter(|rim| rim.fault().is_none());
    let outer = good().filter(|rim| rim.around(found) && rim.seen() > 0.5 * found.seen());
    let outer = outer.max_by(|a, b| a.radius.total_cmp(&b.radius)).unwrap_or(found);
    if let Some(other) = good().find(|rim| !rim.around(outer) && rim.seen() > 0.6 * outer.seen()) {
        let at = |rim: &Rim| format!("{:.0},{:.0}", rim.centre[0], rim.centre[1]);
        return Err(CircleError::Ambiguous {
            first: outer.radius,
            first_at: at(outer),
            second: other.radius,
            second_at: at(other),
        });
    }
    Ok(*outer)
}

impl Rim {
    /// What keeps it from being an answer.
    fn fault(&self) -> Option<CircleError> {
        if self.arc_deg < LEAST_ARC_DEG {
            return Some(CircleError::ArcTooShort { got: self.arc_deg, least: LEAST_ARC_DEG });
        }
        if self.share < LEAST_SHARE {
            return Some(CircleError::NotRound { got: self.share, least: LEAST_SHARE });
        }
        if self.leaving > MOST_LEAVING {
            return Some(CircleError::Slanted { got: 5 * self.leaving, most: 5 * MOST_LEAVING });
        }
        if self.residual > MOST_RESIDUAL_PX {
            return Some(CircleError::Rough { got: self.residual, most: MOST_RESIDUAL_PX });
        }
        let unsure = self.radius_sd / self.radius;
        if !unsure.is_finite() || unsure > MOST_UNSURE {
            return Some(CircleError::Unsure { got: 100.0 * unsure, most: 100.0 * MOST_UNSURE });
        }
        None
    }

    /// Whether the two have one centre, as the rings of a wheel have.
    fn around(&self, other: &Self) -> bool {
        apart(self.centre, other.centre) < 0.1 * self.radius.min(other.radius)
    }

    /// Length of rim seen, px, weighed by how round it is.
    fn seen(&self) -> f64 {
        self.arc_deg.to_radians() * self.radius * self.share
    }

    /// How far from `point` it passes, px.
    fn misses(&self, point: [f64; 2]) -> f64 {
        (apart(point, self.centre) - self.radius).abs()
    }
}
