use super::heat_steps::{HeatSteps, line};
use crate::transport::{Boundary, Conduction, Kernel, Mesh, NotConverged};

/// Heat capacity of steel per volume, J/(m³ K): 7850 kg/m³ x 700 J/(kg K), a mean from 20 to
/// 900 °C that spreads the heat of transformation over the range. Source: `reference` tables of
/// this project's tests use the same (judgement).
pub const STEEL_HEAT_CAPACITY_J_M3_K: f64 = 7850.0 * 700.0;
/// Conductivity of steel near 800 °C, W/(m K): so far above any bed that its value does not matter
/// (from memory).
const STEEL_CONDUCTIVITY_W_M_K: f64 = 28.0;
/// Stefan-Boltzmann constant, W/(m² K⁴). CODATA 2018.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Emissivity of oxidised iron, - (from memory, about 0.8 to 0.9).
const EMISSIVITY: f64 = 0.85;
/// A bed of compound as heat sees it: k(T) = `conduction` + `radiation` T³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// W/(m K).
    pub conduction: f64,
    /// W/(m K⁴).
    pub radiation: f64,
    /// J/(m³ K).
    pub heat_capacity: f64,
}

impl Bed {
    /// From conductivity without radiation, pore size in m, and heat capacity.
    /// The radiant part is 5.33 e σ T³ d (Basu, Biomass Gasification, eq. 3.12), e = 0.9.
    pub fn with_pores(conduction: f64, pore: f64, heat_capacity: f64) -> Self {
        Self { conduction, radiation: 5.33 * 0.9 * STEFAN_BOLTZMANN * pore, heat_capacity }
    }
}

/// Steel in the middle of a packed cylinder: how its temperature follows the outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatThrough {
    /// Inner radius of the container, m.
    pub radius: f64,
    /// Thickness of its steel wall, m; 0: the log is the temperature of the bed's outside.
    pub wall: f64,
    /// Radius of the steel load in the middle, m; 0: no steel, the axis of the bed.
    pub load: f64,
    /// The compound.
    pub bed: Bed,
    /// Cells across the bed: [`Self::CELLS`] or [`Self::drawn_cells`].
    pub cells: u32,
}

/// Radius of the cylinder whose axis reaches 95 % of a step as fast as the middle of a long square
/// box of inner width 1: half width x root of the ratio of their Fourier numbers = 0.5 √(0.705 / 0.5995).
/// Source: transient conduction series, computed (cylinder 0.5995, long square box 0.705).
pub const SQUARE_BOX_RADIUS_PER_WIDTH: f64 = 0.5422;

/// Widest cell of a drawn story's bed, m (judgement: in beds under 0.12 m the steel stays within 3 K of many
/// more cells, tested).
const DRAWN_CELL_M: f64 = 5e-3;

impl HeatThrough {
    /// Cells with which closed forms are met to 2 parts in 1000; while it heats up, the axis of a bed 0.3 m wide is up to 8 K
    /// off from that of many more cells (both tested).
    pub const CELLS: u32 = 28;
    /// Fewer are enough for stories by the thousand, of which each lies much farther from its neighbours, unless so many
    /// metres of bed make them wide.
    pub fn drawn_cells(bed: f64) -> u32 {
        ((bed / DRAWN_CELL_M).ceil() as u32).clamp(Self::CELLS / 2, Self::CELLS)
    }

    /// Temperature of the steel for an outside temperature `outside` (seconds, kelvin; straight
    /// between points), if all of the container is at `start` kelvin at the first point.
    pub fn steel(&self, outside: &[(f64, f64)], start: f64) -> Result<Vec<(f64, f64)>, NotConverged> {
        let body = Body::new(self);
        let mut field = vec![start; body.mesh.len()];
        let mut before = field.clone();
        let mut kernel = Kernel::new(body.mesh.len());
        let mut steel = vec![(outside[0].0, start)];
        let mut steps = HeatSteps::over(outside);
        let mut warming = 0.0; // of the wall in the last step, K/s
        while let Some((t0, t1)) = steps.next() {
            before.copy_from_slice(&field);
            let (from, to) = line(outside, t0, t1);
            let seconds = t1 - t0;
            let boundary = if self.wall > 0.0 {
                // radiation made linear: q = 4 e σ T³ (T_outside - T_wall) at their mean
                let wall = field[0] + 0.5 * warming * seconds;
                let mean = f64::midpoint(f64::midpoint(from, to), wall);
                let film = 4.0 * EMISSIVITY * STEFAN_BOLTZMANN * mean * mean * mean;
                Boundary::Transfer { coefficient: film * seconds, start: from, end: to }
            } else {
                Boundary::Held { start: from, end: to }
            };
            let conduction = StepConduction { faces: &body.faces, seconds };
            kernel.step(&body.mesh, &body.capacity, &mut field, &conduction, boundary, seconds)?;
            if steps.accepts(kernel.bend(&before)) {
                warming = (field[0] - before[0]) / seconds;
                steel.push((t1, field[field.len() - 1]));
            } else {
                field.copy_from_slice(&before);
            }
        }
        Ok(steel)
    }
}

/// Mesh with what each cell and face is made of.
struct Body {
    mesh: Mesh,
    capacity: Vec<f64>,
    /// (conduction, radiation) of each face.
    faces: Vec<(f64, f64)>,
}

impl Body {
    fn new(h: &HeatThrough) -> Self {
        let outer = h.radius + h.wall;
        let load = h.load.min(0.95 * h.radius);
        let steel = (STEEL_CONDUCTIVITY_W_M_K, 0.0);
        let bed = (h.bed.conduction, h.bed.radiation);
        let layers = [
            (h.wall, 2, steel, STEEL_HEAT_CAPACITY_J_M3_K),
            (h.radius - load, h.cells, bed, h.bed.heat_capacity),
            (load, 4, steel, STEEL_HEAT_CAPACITY_J_M3_K),
        ];
        let (mut x, mut faces, mut face_capacity) = (vec![0.0], Vec::new(), Vec::new());
        for (thickness, parts, k, c) in layers {
            let start = x[x.len() - 1];
            for i in 1..=parts {
                if thickness > 0.0 {
                    x.push(start + thickness * f64::from(i) / f64::from(parts));
                    faces.push(k);
                    face_capacity.push(c);
                }
            }
        }
        let capacity = (0..x.len())
            .map(|i| {
                // both halves of the cell, each of its own material
                let half = |j: usize| {
                    let middle = f64::midpoint(x[j], x[j + 1]);
                    let area = |x: f64| (outer - x) / outer;
                    (middle - x[i]).abs() * f64::midpoint(area(middle), area(x[i]))
                };
                let before = i.checked_sub(1).map(|j| (half(j), face_capacity[j]));
                let after = (i + 1 < x.len()).then(|| (half(i), face_capacity[i]));
                let halves = || before.iter().chain(&after);
                halves().map(|(v, c)| v * c).sum::<f64>() / halves().map(|(v, _)| v).sum::<f64>()
            })
            .collect();
        Self { mesh: Mesh::round(x, outer), capacity, faces }
    }
}

struct StepConduction<'a> {
    faces: &'a [(f64, f64)],
    seconds: f64,
}

impl Conduction for StepConduction<'_> {
    /// K. A bed that radiates conducts 0.3 % more per kelvin at most near soak heat: 0.04 K are left.
    const SETTLED: f64 = 5.0;

    fn faces(&self, u: &[f64], drop: &mut [f64], left: &mut [f64], right: &mut [f64]) {
        for (i, (w, (a, b))) in u.windows(2).zip(self.faces).enumerate() {
            // k = a + b T³ down to absolute zero, a below it: a Newton step may pass there
            let cube = |t: f64| b * t.max(0.0).powi(3);
            let potential = |t: f64| a * t + 0.25 * t * cube(t);
            drop[i] = self.seconds * (potential(w[0]) - potential(w[1]));
            left[i] = self.seconds * (a + cube(w[0]));
            right[i] = self.seconds * (a + cube(w[1]));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(radius: f64, load: f64, k: f64) -> HeatThrough {
        let bed = Bed { conduction: k, radiation: 0.0, heat_capacity: 3e5 };
        HeatThrough { radius, wall: 0.0, load, bed, cells: HeatThrough::CELLS }
    }

    /// Behind a linear ramp of the wall the axis of a bare cylinder lags R²/(4α).
    /// Source: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, 7.5 (from memory).
    #[test]
    fn steady_lag_of_a_ramp() {
        for (cells, within) in [(HeatThrough::CELLS, 2e-3), (HeatThrough::drawn_cells(0.025), 8e-3)] {
            let h = HeatThrough { cells, ..plain(0.025, 0.0, 0.12) }; // α = 4e-7 m²/s
            let steel = h.steel(&[(0.0, 293.15), (20_000.0, 1293.15)], 293.15).unwrap();
            let (t, k) = steel[steel.len() - 1];
            let lag = t - (k - 293.15) * 20.0;
            let want = 0.025 * 0.025 / (4.0 * 4e-7);
            assert!((lag / want - 1.0).abs() < within, "{lag} s, want {want} s");
        }
    }

    /// The centre gap of a cylinder falls to 5 % of a wall step at Fo = 0.5995: series solution,
    /// first term 1.60197 exp(-2.40483² Fo). Source: Incropera, one-term coefficients, Bi → ∞.
    #[test]
    fn five_percent_of_a_step() {
        let end = 0.5995 * 0.025 * 0.025 / 4e-7;
        for (cells, within) in [(HeatThrough::CELLS, 5e-4), (HeatThrough::drawn_cells(0.025), 2e-3)] {
            let h = HeatThrough { cells, ..plain(0.025, 0.0, 0.12) };
            let steel = h.steel(&[(0.0, 293.15), (1e-3, 1293.15), (end, 1293.15)], 293.15).unwrap();
            let gap = (1293.15 - steel[steel.len() - 1].1) / 1000.0;
            assert!((gap - 0.05).abs() < within, "{gap}");
        }
    }

    #[test]
    fn a_wall_and_a_load_slow_it_down() {
        let log = [(0.0, 293.15), (2700.0, 1173.15), (5400.0, 1173.15)];
        let end = |h: HeatThrough| h.steel(&log, 293.15).unwrap().last().unwrap().1;
        let bare = end(plain(0.025, 0.0, 0.15));
        let loaded = end(plain(0.025, 0.005, 0.15));
        let walled = end(HeatThrough { wall: 0.004, ..plain(0.025, 0.005, 0.15) });
        assert!(bare > loaded && loaded > walled, "{bare} {loaded} {walled}");
    }

    /// A container put into a hot furnace, with beds that radiate: every size and length converges,
    /// and no step overshoots by more than half a kelvin.
    #[test]
    fn charged_into_a_hot_furnace() {
        for pore in [1e-4, 8e-4, 3e-3] {
            for (radius, load) in [(0.0125, 0.004), (0.025, 0.005), (0.1, 0.02), (0.15, 0.0)] {
                for (wall, hours) in [(0.0, 0.5), (0.0, 8.0), (0.0, 100.0), (0.004, 1.0), (0.004, 8.0)] {
                    let bed = Bed::with_pores(0.03, pore, 3e5);
                    let h = HeatThrough { radius, wall, load, bed, cells: HeatThrough::CELLS };
                    let steel = h.steel(&[(0.0, 1173.15), (3600.0 * hours, 1173.15)], 293.15).unwrap();
                    assert!(steel.iter().all(|p| (293.0..1173.65).contains(&p.1)), "{h:?} {hours} h");
                    assert!(steel.windows(2).all(|w| w[1].1 > w[0].1 - 0.5), "{h:?} {hours} h");
                }
            }
        }
    }

    /// Few cells against four times as many, at every minute of a ramp with a hold and a fall. Steps are chosen anew for each,
    /// which alone may move the steel by 2.3 K.
    #[test]
    fn few_cells_are_enough() {
        let log = [(0.0, 293.15), (2700.0, 1193.15), (7200.0, 1193.15), (10_000.0, 700.0)];
        let at = |steel: &[(f64, f64)], t: f64| {
            let i = steel.partition_point(|p| p.0 < t).max(1);
            let ((t0, k0), (t1, k1)) = (steel[i - 1], steel[i]);
            k0 + (k1 - k0) * (t - t0) / (t1 - t0)
        };
        for pore in [1e-4, 8e-4, 3e-3] {
            for (radius, load, within) in
                [(0.0125, 0.004, 3.0), (0.025, 0.005, 3.0), (0.06, 0.02, 3.0), (0.15, 0.0, 8.0)]
            {
                for wall in [0.0, 0.004] {
                    let bed = Bed::with_pores(0.03, pore, 3e5);
                    let steel =
                        |cells| HeatThrough { radius, wall, load, bed, cells }.steel(&log, 293.15).unwrap();
                    let (few, many) =
                        (steel(HeatThrough::drawn_cells(radius - load)), steel(4 * HeatThrough::CELLS));
                    let minutes = (1..=166).map(|m| f64::from(m) * 60.0);
                    let most = minutes.map(|t| (at(&few, t) - at(&many, t)).abs()).fold(0.0, f64::max);
                    assert!(most < within, "{most} K off: pores {pore}, radius {radius}, wall {wall}");
                }
            }
        }
    }

    #[test]
    fn a_dense_noisy_log_is_averaged_not_sampled() {
        let noisy: Vec<_> = (0..3000)
            .map(|i| (10.0 * f64::from(i), 1173.15 + if i % 2 == 0 { 15.0 } else { -15.0 }))
            .collect();
        let even = [(0.0, 1173.15), (29_990.0, 1173.15)];
        let h = plain(0.02, 0.005, 0.3);
        let last = |log: &[(f64, f64)]| h.steel(log, 293.15).unwrap().last().unwrap().1;
        assert!((last(&noisy) - last(&even)).abs() < 0.3);
    }
}
