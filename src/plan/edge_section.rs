use super::PlanError;
use crate::diffusion::Profile;
use crate::prediction::{PredictError, Prediction, Stories, Story};
use crate::steel::Wedge;
use crate::units::{Depth, Interval};

/// Carbon in a blade's cross-section, from its edge backward.
///
/// Where the section is thin carbon moves across it: so far behind the edge the blade is a plate as thick as it is
/// there. What the thinner and the thicker neighbour give and take is added to first order. Close to the edge carbon
/// comes from there too; the two are put together as in a corner, where what is still missing of the potential
/// multiplies. Against a solution in two dimensions on edges of 15, 20 and 30° the middle is within 0.02 %C from 1 mm
/// behind the edge on (`tests/reference/wedge.rs`).
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeSection {
    /// Its shape.
    pub wedge: Wedge,
    /// From the edge to the back, evenly spaced.
    pub stations: Vec<Station>,
    /// Carbon that the edge wants, wt%.
    pub wanted: f64,
    /// How far behind the edge the middle has it, mm, over all doubts; `None`: not even the edge has.
    pub reaches: Option<Interval<f64>>,
    /// How far behind the edge the middle is hard when quenched (visible case), mm, best story.
    pub through_to: Option<f64>,
}

/// One place behind the edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// Behind the edge, mm.
    pub behind: f64,
    /// Thickness there, mm.
    pub thickness: f64,
    /// From the face to the middle: depth mm, carbon wt%.
    pub across: Vec<(f64, f64)>,
}

/// Stations from edge to back.
const STATIONS: usize = 64;
/// Points from a face to the middle.
const ACROSS: usize = 9;
/// A place is known to this, mm; a range of places to the second.
const CLOSE_MM: f64 = 0.02;
const CLOSE_RANGE_MM: f64 = 0.1;
/// Neighbours of a place are looked at where the plate is so much thinner and thicker, as a share.
const NEIGHBOUR: f64 = 0.2;

impl EdgeSection {
    /// After the soak of `prediction`, solved in `stories`.
    pub(super) fn of(
        wedge: Wedge,
        wanted: f64,
        visible: f64,
        stories: &Stories,
        prediction: &Prediction,
    ) -> Result<Self, PlanError> {
        let best = Cut::of(wedge, stories, &prediction.story)?;
        let height = wedge.height().metres();
        let stations = (0..STATIONS)
            .map(|i| best.station(height * i as f64 / (STATIONS - 1) as f64))
            .collect::<Result<_, _>>()?;
        let reach = best.reach(wanted, CLOSE_MM, |behind| best.middle(behind))?;
        let plainly = |cut: &Cut| {
            let place = cut.reach(wanted, CLOSE_RANGE_MM, |behind| cut.without_neighbours(behind));
            place.map(Option::unwrap_or_default)
        };
        let reaches = match reach {
            None => None,
            Some(mm) => {
                // what a doubt moves is the same with and without neighbours, but for little
                let plain = plainly(&best)?;
                let moved = |story| Ok::<f64, PlanError>(plainly(&Cut::of(wedge, stories, story)?)? - plain);
                let (mut down, mut up) = (0.0_f64, 0.0_f64);
                for (_, low, high) in &prediction.ends {
                    let (a, b) = (moved(low)?, moved(high)?);
                    down = down.hypot(a.min(b).min(0.0));
                    up = up.hypot(a.max(b).max(0.0));
                }
                Interval::new((mm - down).max(0.0), mm, (mm + up).min(height * 1e3).max(mm))
            }
        };
        Ok(Self {
            wedge,
            stations,
            wanted,
            reaches,
            through_to: best.reach(visible, CLOSE_MM, |behind| best.middle(behind))?,
        })
    }
}

/// The cross-section in one story.
pub struct Cut<'a> {
    wedge: Wedge,
    stories: &'a Stories<'a>,
    story: &'a Story,
    /// From the edge backward, as into a thick piece.
    back: Profile,
    /// What all of it comes to in endless time, wt%.
    potential: f64,
}

impl<'a> Cut<'a> {
    /// Of a story that was solved.
    pub fn of(wedge: Wedge, stories: &'a Stories<'a>, story: &'a Story) -> Result<Self, PlanError> {
        let back = stories.thick(story).map_err(PredictError::from)?;
        let potential = stories.potential(story).max(back.surface());
        Ok(Self { wedge, stories, story, back, potential })
    }

    /// Carbon in the middle, `behind` m behind the edge, wt%.
    pub fn middle(&self, behind: f64) -> Result<f64, PlanError> {
        let half = self.wedge.half(behind);
        let there = self.plate(half)?.far();
        Ok(self.corner(there + self.neighbours(half, there)?, behind))
    }

    fn without_neighbours(&self, behind: f64) -> Result<f64, PlanError> {
        Ok(self.corner(self.plate(self.wedge.half(behind))?.far(), behind))
    }

    /// A plate with half this thickness, m.
    fn plate(&self, half: f64) -> Result<Profile, PlanError> {
        let thickness = Depth::from_metres(2.0 * half).unwrap_or(Depth::ZERO);
        Ok(self.stories.plate(self.story, thickness).map_err(PredictError::from)?)
    }

    /// What the middle of a plate gains from its neighbours along the blade, wt%: D ∂²C/∂x², growing evenly with time,
    /// in the slowest mode of the plate, which dies away as exp(-μ D t), μ = (π / 2 half)². To first order.
    fn neighbours(&self, half: f64, there: f64) -> Result<f64, PlanError> {
        let step = NEIGHBOUR * half;
        let (thinner, thicker) = (self.plate(half - step)?.far(), self.plate(half + step)?.far());
        let along = self.wedge.half_per_metre().powi(2) * (thinner - 2.0 * there + thicker) / (step * step);
        let mu = (std::f64::consts::FRAC_PI_2 / half).powi(2);
        let died = mu * self.stories.spread(self.story);
        if died <= 0.0 {
            return Ok(0.0);
        }
        Ok(along / mu * (1.0 + libm::expm1(-died) / died))
    }

    /// What comes in from the edge, on top of what comes from the faces.
    fn corner(&self, from_faces: f64, behind: f64) -> f64 {
        let core = self.story.inputs.core;
        let span = self.potential - core;
        if span <= 0.0 {
            return from_faces;
        }
        let missing = |wt: f64| ((self.potential - wt) / span).clamp(0.0, 1.0);
        self.potential - span * missing(from_faces) * missing(self.back.at(behind))
    }

    fn station(&self, behind: f64) -> Result<Station, PlanError> {
        let half = self.wedge.half(behind);
        let plate = self.plate(half)?;
        let more = self.neighbours(half, plate.far())?;
        // the slowest mode: nothing at the face, all of it in the middle
        let mode = |depth: f64| libm::sin(std::f64::consts::FRAC_PI_2 * depth / half);
        let across = (0..ACROSS)
            .map(|i| half * i as f64 / (ACROSS - 1) as f64)
            .map(|depth| (depth * 1e3, self.corner(plate.at(depth) + more * mode(depth), behind)))
            .collect();
        Ok(Station { behind: behind * 1e3, thickness: self.wedge.thickness(behind) * 1e3, across })
    }

    /// How far behind the edge the `middle` has `wt` or more, mm; the height at most. `None`: nowhere.
    fn reach(
        &self,
        wt: f64,
        close_mm: f64,
        middle: impl Fn(f64) -> Result<f64, PlanError>,
    ) -> Result<Option<f64>, PlanError> {
        let height = self.wedge.height().metres();
        let (mut low, mut high) = (0.0, height);
        if middle(low)? < wt {
            return Ok(None);
        }
        if middle(high)? >= wt {
            return Ok(Some(height * 1e3));
        }
        while (high - low) * 1e3 > close_mm {
            let between = f64::midpoint(low, high);
            if middle(between)? >= wt { low = between } else { high = between }
        }
        Ok(Some(low * 1e3))
    }
}
