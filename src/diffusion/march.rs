//! The solver: legs of temperature and exchange in, one carbon profile per leg out.

use super::averaged::DiffusivityTable;
use super::exchange::{Direction, Exchange, Potential};
use super::plan::{StepPlan, steps};
use super::stretch::Stretch;
use super::{Form, Profile, Section};
use crate::steel::PhaseLimits;
use crate::transport::{Boundary, Kernel, Mesh, NotConverged};

/// A stretch of the run with one kind of exchange.
#[derive(Debug, Clone)]
pub struct Leg<'a> {
    /// Temperature of the steel: seconds, kelvin; straight between points, times not falling.
    pub points: &'a [(f64, f64)],
    /// What the surface does.
    pub exchange: Exchange,
}

/// Everything that one solve needs besides its legs.
#[derive(Debug, Clone)]
pub struct Case<'a> {
    /// Diffusivity law.
    pub form: &'a Form,
    /// Factor on the diffusivity, - (for the scatter between laws).
    pub factor: f64,
    /// Phase limits.
    pub phase: &'a PhaseLimits,
    /// Cross-section.
    pub section: Section,
    /// Carbon before the soak, wt%, even through the section.
    pub core: f64,
    /// Fineness; [`Fineness::DEFAULT`] unless convergence is studied.
    pub fineness: Fineness,
}

/// How fine mesh and steps are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fineness {
    /// Nodes per asinh-unit of the graded mesh: spacing near depth x is x over this.
    pub nodes_per_unit: f64,
    /// Steps in the leg with the most diffusion.
    pub steps: usize,
}

impl Fineness {
    /// Within 0.0005 mm and 0.001 wt% of converged on the reference soaks.
    pub const DEFAULT: Self = Self { nodes_per_unit: 28.0, steps: 32 };
    /// Within 0.003 wt%, and 0.002 mm where the profile is not flat, of the default on soaks of a pack, four times as
    /// fast: for stories by the thousand, of which each lies much farther from its neighbours.
    pub const DRAWN: Self = Self { nodes_per_unit: 12.0, steps: 13 };
}

/// Profiles and what passed through the surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    /// The profile at the end of each leg.
    pub profiles: Vec<Profile>,
    /// Carbon that entered through the surface, per area, wt% m; equals what the last profile took up in these
    /// legs.
    pub inflow: f64,
}

/// Diffusion lengths √∫D dt between surface and the end of the mesh in a thick section:
/// erfc(7/2) = 7e-7 of the surface's rise is left there.
const MESH_LENGTHS: f64 = 7.0;
/// In the layer that a transfer coefficient makes, the spacing may grow this much faster than in the
/// body: the layer holds little carbon, only its own surface value is read.
const LAYER_GROWTH: f64 = 7.0;
/// How many times the steps of another leg a held surface asks for that may give nothing back: what
/// it holds just before it is sealed stays in the profile.
const LETTING_GO: f64 = 3.0;
/// How often a step is halved to find when a surface stops taking carbon up.
const HALVINGS: u32 = 5;
/// A held surface within this of the potential is level with it, wt%.
const LEVEL_WT: f64 = 1e-6;
/// Share of all diffusion below which a leg does not set the finest spacing.
const NEGLIGIBLE_SHARE: f64 = 1e-4;

/// Solves the legs one after another.
pub fn march(case: &Case, legs: &[Leg]) -> Result<Solution, NotConverged> {
    march_from(case, None, legs)
}

/// Solves the legs for steel that has this profile already, in the section of `case`. What `case` calls the
/// core counts as what the steel had before anything.
pub fn march_on(case: &Case, profile: &Profile, legs: &[Leg]) -> Result<Solution, NotConverged> {
    march_from(case, Some(profile), legs)
}

fn march_from(case: &Case, start: Option<&Profile>, legs: &[Leg]) -> Result<Solution, NotConverged> {
    let highest = highest_carbon(case, legs).max(start.map_or(0.0, Profile::peak));
    let table = DiffusivityTable::new(case.form, case.factor, temperature_range(legs, case.phase), highest);
    let a1 = case.phase.a1.value.kelvin();
    let stretches: Vec<Vec<Stretch>> = legs.iter().map(|l| Stretch::of(l.points, a1, &table)).collect();
    let most = stretches.iter().flatten().map(|s| s.progress).fold(0.0, f64::max);
    let mesh = mesh(case, start, legs, &stretches, &table);

    let mut body = Body { kernel: Kernel::new(mesh.len()), capacity: vec![1.0; mesh.len()], mesh };
    let mut carbon: Vec<f64> =
        body.mesh.x.iter().map(|x| start.map_or(case.core, |profile| profile.at(*x))).collect();
    let mut inflow = 0.0;
    let mut profiles = Vec::with_capacity(legs.len());
    for (leg, stretches) in legs.iter().zip(&stretches) {
        for (i, stretch) in stretches.iter().enumerate() {
            // the error of a stretch falls with the cube of its steps' share of all diffusion; what
            // the surface did last is seen undimmed
            let least = if i + 1 == stretches.len() { 0.5 } else { 0.15 };
            let share = libm::cbrt(stretch.progress / most).max(least);
            // a fixed potential does not sink below the surface that it holds
            let sinks = !matches!(leg.exchange.potential, Potential::Fixed(_));
            let lets_go =
                leg.exchange.direction == Direction::Inward && leg.exchange.transfer.is_infinite() && sinks;
            let more = if lets_go { LETTING_GO } else { 1.0 };
            let n = case.fineness.steps as f64 * share * stretch.unrest * more;
            for step in steps(stretch, n.ceil() as usize, &leg.exchange, case.phase, &table) {
                inflow += body.advance(&mut carbon, &leg.exchange, &step, HALVINGS)?;
            }
        }
        profiles.push(Profile::new(&body.mesh, &carbon, case.core));
    }
    Ok(Solution { profiles, inflow })
}

/// The section with the scratch space to solve on it.
struct Body {
    mesh: Mesh,
    capacity: Vec<f64>,
    kernel: Kernel,
}

impl Body {
    /// One step; returns what entered. A held surface that may give nothing back is sealed from the
    /// moment when holding it would draw carbon out; halving the step finds that moment.
    fn advance(
        &mut self,
        carbon: &mut [f64],
        exchange: &Exchange,
        step: &StepPlan,
        halvings: u32,
    ) -> Result<f64, NotConverged> {
        let mut boundary = boundary(exchange, step, carbon[0]);
        if exchange.direction == Direction::Inward && matches!(boundary, Boundary::Held { .. }) {
            let mut tried = carbon.to_vec();
            let gained = self.kernel.step(
                &self.mesh,
                &self.capacity,
                &mut tried,
                &step.diffusivity,
                boundary,
                step.seconds,
            )?;
            if gained >= 0.0 {
                carbon.copy_from_slice(&tried);
                return Ok(gained);
            }
            if halvings > 0 {
                let [first, second] = step.halves();
                return Ok(self.advance(carbon, exchange, &first, halvings - 1)?
                    + self.advance(carbon, exchange, &second, halvings - 1)?);
            }
            boundary = Boundary::Sealed;
        }
        self.kernel.step(&self.mesh, &self.capacity, carbon, &step.diffusivity, boundary, step.seconds)
    }
}

/// What the kernel is told about the surface for one step.
fn boundary(exchange: &Exchange, step: &StepPlan, surface: f64) -> Boundary {
    let held = exchange.transfer.is_infinite();
    let (start, mut end) = if held { step.held } else { step.outside };
    let mut coefficient = exchange.transfer * step.seconds;
    let passes = match exchange.direction {
        Direction::BothWays => true,
        // level with the potential counts: carbon that diffuses inward is made up for
        Direction::Inward if held => start.max(end) > surface - LEVEL_WT,
        Direction::Inward => {
            if start > surface && end < surface {
                // open until the potential has come down to the surface, closed from there
                coefficient *= (start - surface) / (start - end);
                end = surface;
            }
            start.max(end) > surface
        }
        Direction::Closed => false,
    };
    match (passes, held) {
        (false, _) => Boundary::Sealed,
        (true, true) => Boundary::Held { start, end },
        (true, false) => Boundary::Transfer { coefficient, start, end },
    }
}

fn mesh(
    case: &Case,
    start: Option<&Profile>,
    legs: &[Leg],
    stretches: &[Vec<Stretch>],
    table: &DiffusivityTable,
) -> Mesh {
    let per_leg: Vec<f64> = stretches.iter().map(|s| s.iter().map(|s| s.progress).sum()).collect();
    let total: f64 = per_leg.iter().sum();
    // a thick section without any diffusion still needs a mesh: 1 mm
    let reach = if total > 0.0 { MESH_LENGTHS * total.sqrt() } else { 1e-3 };
    // what is there already spreads on from where it ends
    let depth = start.map_or(reach, |p| p.extent().hypot(reach)).min(case.section.depth());
    let shortest = per_leg.iter().copied().filter(|p| *p > NEGLIGIBLE_SHARE * total).fold(total, f64::min);
    let per_unit = case.fineness.nodes_per_unit;
    let b = shortest.sqrt().max(1e-7);
    // a transfer coefficient makes a layer D/β of its own, thinnest where the leg is coldest
    let layer = legs
        .iter()
        .zip(stretches)
        .filter(|(l, _)| l.exchange.transfer > 0.0)
        .flat_map(|(l, s)| s.iter().map(|s| s.coldest(table) / l.exchange.transfer))
        .filter(|layer| *layer > 0.0)
        .fold(f64::INFINITY, f64::min);
    let spacing = |x: f64| {
        let body = libm::hypot(x, b) / per_unit;
        let told = start.map_or(f64::INFINITY, |profile| profile.spacing_at(x));
        body.min((layer + x) * LAYER_GROWTH / per_unit).min(told)
    };
    let x = Mesh::graded(depth, spacing);
    match case.section {
        Section::Round { radius } => Mesh::round(x, radius),
        _ => Mesh::plate(x),
    }
}

fn temperature_range(legs: &[Leg], phase: &PhaseLimits) -> (f64, f64) {
    let a1 = phase.a1.value.kelvin();
    let all = || legs.iter().flat_map(|l| l.points).map(|p| p.1);
    let top = all().fold(a1, f64::max);
    (all().fold(top, f64::min).max(a1), top)
}

/// Upper end of the carbon that can occur, with a little room.
fn highest_carbon(case: &Case, legs: &[Leg]) -> f64 {
    let range = temperature_range(legs, case.phase);
    let potential = legs.iter().map(|l| l.exchange.highest(range, case.phase)).fold(case.core, f64::max);
    1.02 * potential + 0.02
}
