use super::Body;

/// Terms of the series. At the face, in the quickest bath of the table, the half of the way comes at a Fourier number of
/// 0.03, where the last of them is under 1e-6.
const TERMS: u32 = 8;

/// How a body of even heat cools in a bath: Σ Cₙ f(ζₙ x) exp(-ζₙ² Fo), x from the middle (0) to the face (1).
/// Source: H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959 (from memory, verified against a
/// solution by finite volumes in `tests/reference/quenched_section.csv`).
pub(super) struct Cooling {
    body: Body,
    /// ζₙ and Cₙ.
    terms: Vec<(f64, f64)>,
}

impl Cooling {
    /// `biot` is h L / k, L half of the size; endless: the face is as cold as the bath at once.
    pub(super) fn new(body: Body, biot: f64) -> Self {
        let term = |n| {
            let root = root(body, biot, n);
            let coefficient = match body {
                Body::Bar => {
                    let (j0, j1) = (libm::j0(root), libm::j1(root));
                    2.0 * j1 / (root * (j0 * j0 + j1 * j1))
                }
                Body::Plate => 4.0 * libm::sin(root) / (2.0 * root + libm::sin(2.0 * root)),
            };
            (root, coefficient)
        };
        Self { body, terms: (1..=TERMS).map(term).collect() }
    }

    /// Fourier number, on half of the size, at which `place` is half of the way to the bath.
    pub(super) fn half_way(&self, place: f64) -> f64 {
        let waves: Vec<_> = self
            .terms
            .iter()
            .map(|(root, coefficient)| {
                let wave = match self.body {
                    Body::Bar => libm::j0(root * place),
                    Body::Plate => libm::cos(root * place),
                };
                (root * root, coefficient * wave)
            })
            .collect();
        let left = |fo: f64| waves.iter().map(|(rate, wave)| wave * libm::exp(-rate * fo)).sum::<f64>();
        // the first term alone ends within this: C₁ is under 2
        let (mut low, mut high) = (0.0, libm::log(4.0) / waves[0].0);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if left(middle) > 0.5 { low = middle } else { high = middle }
        }
        high
    }
}

/// Fourier number at which the middle of a bar in a quench of endless severity is half of the way.
pub(super) fn ideal_half_way() -> f64 {
    Cooling::new(Body::Bar, f64::INFINITY).half_way(0.0)
}

/// Root number `n` of `x J1(x) = Bi J0(x)` or of `x sin x = Bi cos x`: one lies in each π.
fn root(body: Body, biot: f64, n: u32) -> f64 {
    let over = |x: f64| match body {
        Body::Bar => x * libm::j1(x) / biot - libm::j0(x),
        Body::Plate => x * libm::sin(x) / biot - libm::cos(x),
    };
    let (mut low, mut high) = (f64::from(n - 1) * std::f64::consts::PI, f64::from(n) * std::f64::consts::PI);
    let beyond = over(high) > 0.0;
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if (over(middle) > 0.0) == beyond { high = middle } else { low = middle }
    }
    high
}
