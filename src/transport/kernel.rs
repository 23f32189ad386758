use super::Mesh;
use thiserror::Error;

/// γ of the two-stage, stiffly accurate, L-stable, second-order diagonally implicit Runge-Kutta
/// scheme, 1 - 1/√2. Source: R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006 (from memory;
/// order and damping are tested below).
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

const NEWTON_LIMIT: usize = 25;

/// How well the material conducts during one step.
pub trait Conduction {
    /// Newton stops when no node moves by more than this, in the unit of the field (wt% or K). It converges
    /// quadratically: what is then left is about half its square times d ln k/du. No carbon or heat is lost by
    /// it, since in- and outflow are those of the linear system that was solved.
    const SETTLED: f64;

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

/// Scratch space for steps on meshes of one size, of three nodes at least.
#[derive(Debug, Clone, Default)]
pub struct Kernel {
    base: Vec<f64>,
    stage: Vec<f64>,
    drop: Vec<f64>,
    left: Vec<f64>,
    right: Vec<f64>,
    diagonal: Vec<f64>,
    rhs: Vec<f64>,
    next: Vec<f64>,
    /// How fast each node went in the last step, per length of it.
    pace: Vec<f64>,
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
            diagonal: node(),
            rhs: node(),
            next: node(),
            pace: node(),
        }
    }

    /// One step of capacity x du/dt = div(k grad u), `u` in place. `capacity` is per volume; 1 for
    /// carbon. Returns the inflow per area of surface over the step (capacity x field x length).
    ///
    /// `length` is the step's, s: each node is first sought where it would be had it gone on as in the last step.
    ///
    /// Stages: U1 = u + γ F(U1); U2 = u + (1-γ) F(U1) + γ F(U2), F = the step's integrated rate.
    pub fn step(
        &mut self,
        mesh: &Mesh,
        capacity: &[f64],
        u: &mut [f64],
        conduction: &impl Conduction,
        boundary: Boundary,
        length: f64,
    ) -> Result<f64, NotConverged> {
        let rest = 1.0 - GAMMA;
        self.base.copy_from_slice(u);
        for ((stage, u), pace) in self.stage.iter_mut().zip(&*u).zip(&self.pace) {
            *stage = u + GAMMA * length * pace;
        }
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
        for ((pace, u), stage) in self.pace.iter_mut().zip(&mut *u).zip(&self.stage) {
            *pace = if length > 0.0 { (stage - *u) / length } else { 0.0 };
            *u = *stage;
        }
        Ok(filled + rest * first + GAMMA * second)
    }

    /// How far each node went out of the straight line over the last step, which began `before`: γ (F(U2) - F(U1)),
    /// about a fifth of h² u''. For whoever chooses the next step.
    pub fn bend<'a>(&'a self, before: &'a [f64]) -> impl Iterator<Item = f64> + 'a {
        let nodes = self.stage.iter().zip(&self.base).zip(before);
        nodes.map(|((stage, base), before)| stage - base - (base - before) * GAMMA / (1.0 - GAMMA))
    }

    /// Newton for U = base + γ F(U), in `stage`. Returns what enters through the surface over the
    /// step at that rate; for a held surface what leaves its cell inward.
    fn solve<C: Conduction>(
        &mut self,
        mesh: &Mesh,
        capacity: &[f64],
        conduction: &C,
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
            if moved < C::SETTLED {
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

    /// One Newton correction, added to `stage`. Returns the largest correction, and the corrected flux of the
    /// first face. The tridiagonal system is eliminated from both ends at once towards the middle: each
    /// elimination is a chain of divisions, and two chains side by side cost little more than one.
    fn correct(&mut self, mesh: &Mesh, capacity: &[f64], boundary: Boundary, at: f64) -> (f64, f64) {
        let n = self.stage.len();
        let last = n - 1;
        let (u, base) = (&mut self.stage[..n], &self.base[..n]);
        let (drop, left, right) = (&mut self.drop[..last], &mut self.left[..last], &mut self.right[..last]);
        let (diagonal, rhs, next) = (&mut self.diagonal[..n], &mut self.rhs[..n], &mut self.next[..n]);
        rows(mesh, capacity, (u, base), (drop, left, right), (diagonal, rhs));
        match boundary {
            // a held surface is known: its row asks for no correction
            Boundary::Held { .. } => (diagonal[0], rhs[0]) = (f64::INFINITY, 0.0),
            Boundary::Transfer { coefficient, start, end } => {
                diagonal[0] += GAMMA * coefficient;
                rhs[0] += GAMMA * coefficient * (start + at * (end - start) - u[0]);
            }
            Boundary::Sealed => {}
        }
        // correction i = rhs i + next i x the correction of its neighbour towards the middle. What a row takes off the
        // diagonal of the next one is divided out by itself: it is all that the next one has to wait for
        let middle = last / 2;
        let mut from_left = (0.0, 0.0);
        let mut from_right = (0.0, 0.0);
        for i in 0..last - middle {
            let j = last - i;
            let (after, before) = (if i == 0 { 0.0 } else { right[j] }, left[j - 1]);
            let own = diagonal[j] - from_right.1;
            let pivot = 1.0 / own;
            rhs[j] = (rhs[j] + after * from_right.0) * pivot;
            next[j] = before * pivot;
            from_right = (rhs[j], before * right[j - 1] / own);
            if i < middle {
                let (before, after) = (if i == 0 { 0.0 } else { left[i - 1] }, right[i]);
                let own = diagonal[i] - from_left.1;
                let pivot = 1.0 / own;
                rhs[i] = (rhs[i] + before * from_left.0) * pivot;
                next[i] = after * pivot;
                from_left = (rhs[i], after * left[i] / own);
            }
        }
        let (before, after) = (left[middle - 1], right[middle]);
        let own = diagonal[middle] - from_left.1 - from_right.1;
        let in_middle = (rhs[middle] + before * from_left.0 + after * from_right.0) / own;
        u[middle] += in_middle;
        let (mut low, mut high, mut moved, mut second) = (in_middle, in_middle, in_middle.abs(), in_middle);
        for i in 1..=last - middle {
            let j = middle + i;
            high = rhs[j] + next[j] * high;
            u[j] += high;
            moved = moved.max(high.abs());
            if let Some(i) = middle.checked_sub(i) {
                second = low;
                low = rhs[i] + next[i] * low;
                u[i] += low;
                moved = moved.max(low.abs());
            }
        }
        // f64::max drops NaN, but any NaN reaches the middle
        let moved = if in_middle.is_nan() { in_middle } else { moved };
        let first_flux = (drop[0] + left[0] * low - right[0] * second) / GAMMA;
        (moved, first_flux)
    }
}

/// The rows of the system: `drop`, `left` and `right` become what γ x conductance makes of them; each row is
/// diagonal x own correction = rhs + what its two neighbours send.
fn rows(
    mesh: &Mesh,
    capacity: &[f64],
    (u, base): (&[f64], &[f64]),
    (drop, left, right): (&mut [f64], &mut [f64], &mut [f64]),
    (diagonal, rhs): (&mut [f64], &mut [f64]),
) {
    let n = u.len();
    let (volume, capacity, base) = (&mesh.volume[..n], &capacity[..n], &base[..n]);
    let (diagonal, rhs) = (&mut diagonal[..n], &mut rhs[..n]);
    for i in 0..n {
        let c = volume[i] * capacity[i];
        (diagonal[i], rhs[i]) = (c, c * (base[i] - u[i]));
    }
    let conductance = &mesh.conductance[..n - 1];
    let (drop, left, right) = (&mut drop[..n - 1], &mut left[..n - 1], &mut right[..n - 1]);
    for i in 0..n - 1 {
        let g = GAMMA * conductance[i];
        drop[i] *= g;
        left[i] *= g;
        right[i] *= g;
    }
    for i in 0..n - 1 {
        diagonal[i] += left[i];
        rhs[i] -= drop[i];
    }
    for i in 1..n {
        diagonal[i] += right[i - 1];
        rhs[i] += drop[i - 1];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// k = a + b u, the same on every face.
    struct Linear(f64, f64);

    impl Conduction for Linear {
        const SETTLED: f64 = 5e-4;

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
            inflow += kernel.step(&mesh, &capacity, &mut u, &Linear(dt, dt), boundary(dt), dt).unwrap();
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
        kernel.step(&mesh, &capacity, &mut u, &Linear(1e9, 0.0), held(0.0), 1e9).unwrap();
        assert!(u.iter().all(|v| (v - 1.0).abs() < 1e-6), "{u:?}");
    }

    #[test]
    fn nonsense_is_an_error_not_a_hang() {
        let mesh = mesh();
        let mut kernel = Kernel::new(mesh.len());
        let mut u = vec![f64::NAN; mesh.len()];
        let capacity = vec![1.0; mesh.len()];
        let step = kernel.step(&mesh, &capacity, &mut u, &Linear(1.0, 0.0), held(0.0), 1.0);
        assert_eq!(step, Err(NotConverged));
    }
}
