use super::Mesh;
use thiserror::Error;

/// γ of the two-stage, stiffly accurate, L-stable, second-order diagonally implicit Runge-Kutta
/// scheme, 1 - 1/√2. Source: R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006 (from memory;
/// order and damping are tested below).
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// Newton stops when no node moves by more than this, in the unit of the field (wt% or K). It
/// converges quadratically: what is then left is of the order of its square. Nothing is lost by it,
/// since in- and outflow are those of the linear system that was solved.
const NEWTON_TOLERANCE: f64 = 5e-4;
const NEWTON_LIMIT: usize = 25;

/// How well the material conducts during one step.
pub trait Conduction {
    /// Fills one entry per face, that is per pair of neighbours of `u`, all integrated over the
    /// time of the step: `drop` = ∫ k du from the right node's value to the left one's, `left` and
    /// `right` = k at the two nodes' values, in the material of the face. `u` starts at node 0 and
    /// may be shorter than the mesh. With k > 0 the flux rises with the left value and falls with
    /// the right one, so that Newton finds the one solution however steep the field is.
    fn faces(&self, u: &[f64], drop: &mut [f64], left: &mut [f64], right: &mut [f64]);
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
    drop: Vec<f64>,
    left: Vec<f64>,
    right: Vec<f64>,
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
            drop: face(),
            left: face(),
            right: face(),
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
        let rest = 1.0 - GAMMA;
        self.base.copy_from_slice(u);
        self.stage.copy_from_slice(u);
        let first = self.solve(mesh, capacity, conduction, boundary, GAMMA)?;
        // γ F(U1) = U1 - u, so base 2 is u + (1-γ)/γ (U1 - u); the guess runs on to the end
        for ((base, stage), u) in self.base.iter_mut().zip(&mut self.stage).zip(&*u) {
            let rate = (*stage - u) / GAMMA;
            *base = u + rest * rate;
            *stage = u + rate;
        }
        let second = self.solve(mesh, capacity, conduction, boundary, 1.0)?;
        // a held surface also fills its own cell
        let filled = match boundary {
            Boundary::Held { .. } => mesh.volume[0] * capacity[0] * (self.stage[0] - u[0]),
            _ => 0.0,
        };
        u.copy_from_slice(&self.stage);
        Ok(filled + rest * first + GAMMA * second)
    }

    /// Newton for U = base + γ F(U), in `stage`. Returns what enters through the surface over the
    /// step at that rate; for a held surface what leaves its cell inward.
    fn solve(
        &mut self,
        mesh: &Mesh,
        capacity: &[f64],
        conduction: &impl Conduction,
        boundary: Boundary,
        at: f64,
    ) -> Result<f64, NotConverged> {
        if let Boundary::Held { start, end } = boundary {
            self.stage[0] = start + at * (end - start);
        }
        for _ in 0..NEWTON_LIMIT {
            conduction.faces(&self.stage, &mut self.drop, &mut self.left, &mut self.right);
            let (moved, first_flux) = self.correct(mesh, capacity, boundary, at);
            if moved.is_nan() {
                return Err(NotConverged);
            }
            if moved < NEWTON_TOLERANCE {
                return Ok(match boundary {
                    Boundary::Sealed => 0.0,
                    Boundary::Held { .. } => first_flux,
                    Boundary::Transfer { coefficient, start, end } => {
                        coefficient * (start + at * (end - start) - self.stage[0])
                    }
                });
            }
        }
        Err(NotConverged)
    }

    /// One Newton correction: sets up and eliminates the tridiagonal system in one sweep, adds the
    /// correction to `stage`. Returns the largest correction, and the corrected flux of the first face.
    fn correct(&mut self, mesh: &Mesh, capacity: &[f64], boundary: Boundary, at: f64) -> (f64, f64) {
        let n = self.stage.len();
        let (u, base, volume) = (&mut self.stage[..n], &self.base[..n], &mesh.volume[..n]);
        let (capacity, conductance) = (&capacity[..n], &mesh.conductance[..n - 1]);
        let drop = &self.drop[..n - 1];
        let (left, right) = (&self.left[..n - 1], &self.right[..n - 1]);
        let (upper, rhs) = (&mut self.upper[..n], &mut self.rhs[..n]);
        let held = matches!(boundary, Boundary::Held { .. });
        let (mut inflow, mut diagonal) = (0.0, 0.0);
        if let Boundary::Transfer { coefficient, start, end } = boundary {
            inflow = GAMMA * coefficient * (start + at * (end - start) - u[0]);
            diagonal = GAMMA * coefficient;
        }
        // what the face on the left adds to this row, after elimination
        let (mut right_before, mut upper_before, mut lower) = (0.0, 0.0, 0.0);
        for i in 0..n {
            let c = volume[i] * capacity[i];
            let (mut outflow, mut by_left, mut by_right) = (0.0, 0.0, 0.0);
            if i + 1 < n {
                let g = GAMMA * conductance[i];
                outflow = g * drop[i];
                (by_left, by_right) = (g * left[i], -g * right[i]);
            }
            // a held surface is known: its row asks for no correction
            let (row, right_of_row) = if held && i == 0 {
                (0.0, 0.0)
            } else {
                let pivot = 1.0 / (diagonal + c + by_left - lower * upper_before);
                let row = c * (base[i] - u[i]) + inflow - outflow;
                ((row - lower * right_before) * pivot, by_right * pivot)
            };
            upper[i] = right_of_row;
            rhs[i] = row;
            (right_before, upper_before) = (row, right_of_row);
            (lower, inflow, diagonal) = (-by_left, outflow, -by_right);
        }
        let (mut moved, mut correction, mut next) = (0.0_f64, 0.0, 0.0);
        for i in (0..n).rev() {
            next = correction;
            correction = rhs[i] - upper[i] * correction;
            u[i] += correction;
            // f64::max would drop NaN
            moved = if correction.is_nan() { correction } else { moved.max(correction.abs()) };
        }
        let first_flux = conductance[0] * (drop[0] + left[0] * correction - right[0] * next);
        (moved, first_flux)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// k = a + b u, the same on every face.
    struct Linear(f64, f64);

    impl Conduction for Linear {
        fn faces(&self, u: &[f64], drop: &mut [f64], left: &mut [f64], right: &mut [f64]) {
            for (i, w) in u.windows(2).enumerate() {
                drop[i] = self.0 * (w[0] - w[1]) + 0.5 * self.1 * (w[0] * w[0] - w[1] * w[1]);
                (left[i], right[i]) = (self.0 + self.1 * w[0], self.0 + self.1 * w[1]);
            }
        }
    }

    fn mesh() -> Mesh {
        Mesh::plate(Mesh::graded(1.0, |x| 0.02 + x / 20.0))
    }

    fn run(steps: usize, boundary: impl Fn(f64) -> Boundary) -> (Vec<f64>, f64) {
        let mesh = mesh();
        let mut kernel = Kernel::new(mesh.len());
        let mut u = vec![0.1; mesh.len()];
        let dt = 0.5 / steps as f64;
        let capacity = vec![2.0; mesh.len()];
        let mut inflow = 0.0;
        for _ in 0..steps {
            inflow += kernel.step(&mesh, &capacity, &mut u, &Linear(dt, dt), boundary(dt)).unwrap();
        }
        (u, inflow)
    }

    fn transfer(dt: f64) -> Boundary {
        Boundary::Transfer { coefficient: 0.7 * dt, start: 1.0, end: 1.0 }
    }

    fn held(_: f64) -> Boundary {
        Boundary::Held { start: 1.0, end: 1.0 }
    }

    #[test]
    fn what_enters_is_what_is_gained() {
        for (u, inflow) in [run(20, transfer), run(20, held)] {
            let gained = 2.0 * (mesh().total(&u) - 0.1);
            assert!((inflow - gained).abs() < 1e-9, "{inflow} {gained}");
        }
        let (u, inflow) = run(5, |_| Boundary::Sealed);
        assert_eq!(inflow, 0.0);
        assert!(u.iter().all(|v| (v - 0.1).abs() < 1e-15));
    }

    /// Error against very many steps falls fourfold when the step is halved.
    #[test]
    fn second_order_in_time() {
        let fine = run(1280, transfer).0;
        let error =
            |steps| run(steps, transfer).0.iter().zip(&fine).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        let ratio = error(20) / error(40);
        assert!((3.5..4.5).contains(&ratio), "{ratio}");
    }

    /// L-stable: one huge step lands on the steady state without ringing.
    #[test]
    fn a_huge_step_lands_on_the_steady_state() {
        let mesh = mesh();
        let mut kernel = Kernel::new(mesh.len());
        let mut u = vec![0.1; mesh.len()];
        let capacity = vec![1.0; mesh.len()];
        kernel.step(&mesh, &capacity, &mut u, &Linear(1e9, 0.0), held(0.0)).unwrap();
        assert!(u.iter().all(|v| (v - 1.0).abs() < 1e-6), "{u:?}");
    }

    #[test]
    fn nonsense_is_an_error_not_a_hang() {
        let mesh = mesh();
        let mut kernel = Kernel::new(mesh.len());
        let mut u = vec![f64::NAN; mesh.len()];
        let capacity = vec![1.0; mesh.len()];
        let step = kernel.step(&mesh, &capacity, &mut u, &Linear(1.0, 0.0), held(0.0));
        assert_eq!(step, Err(NotConverged));
    }
}
