use super::Mesh;
use thiserror::Error;

/// γ of the two-stage, stiffly accurate, L-stable, second-order diagonally implicit Runge-Kutta
/// scheme, 1 - 1/√2. Source: R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006 (from memory;
/// order and damping are tested below).
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// Newton stops when no node moves by more than this, in the unit of the field (wt% or K). It
/// converges quadratically, so what is then left is about the square of it.
const NEWTON_TOLERANCE: f64 = 1e-6;
const NEWTON_LIMIT: usize = 25;

/// How well the material conducts during one step.
pub trait Conduction {
    /// For each face at mean field value `mean[i]`: `k[i]` = ∫ conductivity dt over the step and
    /// `dk[i]` its derivative by the field value.
    fn faces(&self, mean: &[f64], k: &mut [f64], dk: &mut [f64]);
}

/// What happens at the exchanging surface during one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Boundary {
    /// Nothing passes.
    Sealed,
    /// The surface has this value, running straight from `start` to `end` over the step.
    Held {
        /// At the start of the step.
        start: f64,
        /// At its end.
        end: f64,
    },
    /// Inflow per area = coefficient x (outside - surface).
    Transfer {
        /// ∫ coefficient dt over the step.
        coefficient: f64,
        /// Outside value at the start of the step; it runs straight to `end`.
        start: f64,
        /// Outside value at its end.
        end: f64,
    },
}

/// Newton did not settle. Does not happen for smooth conductivities that stay positive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("the transport step did not converge")]
pub struct NotConverged;

/// Scratch space for steps on meshes of one size.
#[derive(Debug, Clone, Default)]
pub struct Kernel {
    base: Vec<f64>,
    stage: Vec<f64>,
    mean: Vec<f64>,
    k: Vec<f64>,
    dk: Vec<f64>,
    flux: Vec<f64>,
    lower: Vec<f64>,
    diagonal: Vec<f64>,
    upper: Vec<f64>,
    rhs: Vec<f64>,
}

impl Kernel {
    /// Space for `n` nodes.
    pub fn new(n: usize) -> Self {
        let node = || vec![0.0; n];
        let face = || vec![0.0; n.saturating_sub(1)];
        Self {
            base: node(),
            stage: node(),
            mean: face(),
            k: face(),
            dk: face(),
            flux: face(),
            lower: node(),
            diagonal: node(),
            upper: node(),
            rhs: node(),
        }
    }

    /// One step of capacity x du/dt = div(k grad u), `u` in place. `capacity` is per volume; 1 for
    /// carbon. Returns the inflow per area of surface over the step (capacity x field x length).
    ///
    /// Stages: U1 = u + γ F(U1); U2 = u + (1-γ) F(U1) + γ F(U2), F = the step's integrated rate.
    pub fn step(
        &mut self,
        mesh: &Mesh,
        capacity: &[f64],
        u: &mut [f64],
        conduction: &impl Conduction,
        boundary: Boundary,
    ) -> Result<f64, NotConverged> {
        let n = mesh.len();
        let before = mesh.volume[0] * capacity[0] * u[0];
        self.base.copy_from_slice(u);
        self.stage.copy_from_slice(u);
        let inflow1 = self.solve(mesh, capacity, conduction, boundary, GAMMA)?;
        let face1 = self.flux[0];
        // base for stage 2: u + (1-γ) F(U1)
        let rest = 1.0 - GAMMA;
        for i in 0..n {
            let from = if i == 0 { inflow1 } else { self.flux[i - 1] };
            let to = if i + 1 == n { 0.0 } else { self.flux[i] };
            self.base[i] = u[i] + rest * (from - to) / (mesh.volume[i] * capacity[i]);
        }
        // first guess for the end: straight on from the first stage
        for (stage, u) in self.stage.iter_mut().zip(&*u) {
            *stage = u + (*stage - u) / GAMMA;
        }
        let inflow2 = self.solve(mesh, capacity, conduction, boundary, 1.0)?;
        u.copy_from_slice(&self.stage);
        Ok(match boundary {
            // what the first cell gained and passed on
            Boundary::Held { .. } => {
                let gained = mesh.volume[0] * capacity[0] * u[0] - before;
                gained + rest * face1 + GAMMA * self.flux[0]
            }
            _ => rest * inflow1 + GAMMA * inflow2,
        })
    }

    /// Newton for U = base + γ F(U) in `stage`, fluxes of the result in `flux`; returns inflow rate.
    fn solve(
        &mut self,
        mesh: &Mesh,
        capacity: &[f64],
        conduction: &impl Conduction,
        boundary: Boundary,
        at: f64,
    ) -> Result<f64, NotConverged> {
        let n = mesh.len();
        if let Boundary::Held { start, end } = boundary {
            self.stage[0] = start + at * (end - start);
        }
        for _ in 0..NEWTON_LIMIT {
            let (inflow, inflow_slope) = self.inflow(boundary, at);
            self.fluxes(mesh, conduction);
            for i in 0..n {
                let c = mesh.volume[i] * capacity[i];
                let (from, to) = (if i == 0 { inflow } else { self.flux[i - 1] }, self.flux.get(i));
                self.rhs[i] =
                    c * (self.base[i] - self.stage[i]) + GAMMA * (from - to.copied().unwrap_or(0.0));
                self.diagonal[i] = c;
            }
            self.diagonal[0] -= GAMMA * inflow_slope;
            for i in 0..n - 1 {
                // flux = g k(m) (u_i - u_i+1), m the mean of both
                let g = GAMMA * mesh.conductance[i];
                let half = 0.5 * self.dk[i] * (self.stage[i] - self.stage[i + 1]);
                let (by_left, by_right) = (g * (half + self.k[i]), g * (half - self.k[i]));
                self.diagonal[i] += by_left;
                self.upper[i] = by_right;
                self.lower[i + 1] = -by_left;
                self.diagonal[i + 1] -= by_right;
            }
            if matches!(boundary, Boundary::Held { .. }) {
                (self.diagonal[0], self.upper[0], self.rhs[0]) = (1.0, 0.0, 0.0);
            }
            let moved = self.eliminate();
            if moved.is_nan() {
                return Err(NotConverged);
            }
            if moved < NEWTON_TOLERANCE {
                self.fluxes(mesh, conduction);
                return Ok(self.inflow(boundary, at).0);
            }
        }
        Err(NotConverged)
    }

    /// Inflow and its derivative by the surface value.
    fn inflow(&self, boundary: Boundary, at: f64) -> (f64, f64) {
        match boundary {
            Boundary::Transfer { coefficient, start, end } => {
                (coefficient * (start + at * (end - start) - self.stage[0]), -coefficient)
            }
            _ => (0.0, 0.0),
        }
    }

    fn fluxes(&mut self, mesh: &Mesh, conduction: &impl Conduction) {
        for (m, w) in self.mean.iter_mut().zip(self.stage.windows(2)) {
            *m = 0.5 * (w[0] + w[1]);
        }
        conduction.faces(&self.mean, &mut self.k, &mut self.dk);
        for i in 0..self.flux.len() {
            self.flux[i] = mesh.conductance[i] * self.k[i] * (self.stage[i] - self.stage[i + 1]);
        }
    }

    /// Solves the tridiagonal system, adds the correction to `stage`, returns its largest entry.
    fn eliminate(&mut self) -> f64 {
        let n = self.rhs.len();
        let mut pivot = 1.0 / self.diagonal[0];
        self.upper[0] *= pivot;
        self.rhs[0] *= pivot;
        for i in 1..n {
            pivot = 1.0 / (self.diagonal[i] - self.lower[i] * self.upper[i - 1]);
            self.upper[i] *= pivot;
            self.rhs[i] = (self.rhs[i] - self.lower[i] * self.rhs[i - 1]) * pivot;
        }
        let mut moved = 0.0_f64;
        let mut right = 0.0;
        for i in (0..n).rev() {
            right = self.rhs[i] - self.upper[i] * right;
            self.stage[i] += right;
            // NaN must survive, so no f64::max
            if !(right.abs() <= moved) {
                moved = right.abs();
            }
        }
        moved
    }
}
