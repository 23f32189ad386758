use super::{CarbonDensity, CasePoint, EdgeQuench, EdgeReading, KnownFace, PointShows};
use crate::features::{FaceReading, FractureFeatures, together};
use crate::hardness::Martensite;
use crate::stats::NINE_IN_TEN;
use crate::units::{CarbonPercent, Depth, Hrc, Interval, Share};

/// Steps of a case's reach and bluntness, each even in its logarithm.
const REACHES: usize = 48;
const BLUNTNESSES: usize = 6;
/// Cases with less than this part of the best one's weight are left out.
const LEAST_WEIGHT: f64 = 1e-3;
/// A rim is read no better than this, mm, standard deviation (judgement: a scaled photo).
const LEAST_READING_MM: f64 = 0.02;
/// Points that no case comes nearer to than this many standard deviations, root mean square, are of none.
const FARTHEST: f64 = 3.0;
/// Gauss and Hermite's three places with their weights.
const PLACES: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];

/// Weights of the low, the best and the high share of martensite.
pub(super) const SHARES: [f64; 3] = [0.25, 0.5, 0.25];

/// What stands between a coupon and the carbon at its edge: how faces are read, and how hard martensite is.
#[derive(Debug, Clone, Copy)]
pub struct EdgeTables<'a> {
    /// How coupons tell the edge.
    pub edge: &'a EdgeReading,
    /// How well a face is read.
    pub face: &'a FaceReading,
    /// Carbon by hardness.
    pub martensite: &'a Martensite,
}

impl EdgeTables<'_> {
    /// Carbon that is so hard in a quench, wt%: best value by the usual share of martensite. `None`: no carbon is, or
    /// hardness tells none apart there.
    pub fn carbon(&self, hrc: Hrc, quench: EdgeQuench) -> Option<CarbonPercent> {
        let share = Share::new(self.edge.martensite(quench).best()).ok()?;
        self.martensite.carbon(hrc, share)
    }
}

/// A value on a case, C = core (1 - s) + surface s, with its variance.
#[derive(Debug, Clone, Copy)]
struct Observed {
    depth: f64,
    depth_sd: f64,
    wt: f64,
    variance: f64,
    /// Logarithm of how much carbon stands for what was measured: a hardness is as likely whatever carbon it is taken for.
    stretch: f64,
    /// Over the core, not over none.
    above_core: bool,
}

/// Core and surface as two normal numbers together, wt%.
#[derive(Debug, Clone, Copy)]
struct Ends {
    core: f64,
    surface: f64,
    /// Variances and covariance.
    spread: [f64; 3],
}

impl Ends {
    fn before(core: &Interval<CarbonPercent>, surface: &Interval<f64>) -> Self {
        /// Stock is known no better, wt% (judgement).
        const LEAST: f64 = 0.005;
        let half = |low: f64, high: f64| 0.5 * (high - low) / NINE_IN_TEN;
        let core_sd = half(core.low().wt_percent(), core.high().wt_percent()).max(LEAST);
        let surface_sd = half(surface.low(), surface.high());
        let spread = [core_sd * core_sd, 0.0, surface_sd * surface_sd];
        Self { core: core.best().wt_percent(), surface: surface.best(), spread }
    }

    /// Takes in one observation of weights (on core, on surface); the square of its distance in standard deviations and
    /// the logarithm of its likelihood.
    fn take(&mut self, (a, b): (f64, f64), wt: f64, variance: f64) -> (f64, f64) {
        let [p, q, r] = self.spread;
        let (pa, pb) = (p * a + q * b, q * a + r * b);
        let total = a * pa + b * pb + variance;
        let off = wt - a * self.core - b * self.surface;
        self.core += pa * off / total;
        self.surface += pb * off / total;
        self.spread = [p - pa * pa / total, q - pa * pb / total, r - pb * pb / total];
        (off * off / total, -0.5 * (off * off / total + libm::log(total)))
    }

    /// Places that stand for the two together, with weights.
    fn places(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        let [p, q, r] = self.spread;
        let along = p.max(0.0).sqrt();
        let lean = if along > 0.0 { q / along } else { 0.0 };
        let rest = (r - lean * lean).max(0.0).sqrt();
        let Self { core, surface, .. } = *self;
        PLACES.into_iter().flat_map(move |(u, wu)| {
            PLACES.into_iter().map(move |(v, wv)| (core + along * u, surface + lean * u + rest * v, wu * wv))
        })
    }
}

/// How a case falls: the share of what it has over the core that is left at a depth.
#[derive(Debug, Clone, Copy)]
struct Fall {
    reach: f64,
    bluntness: f64,
}

impl Fall {
    fn left(self, depth: f64) -> f64 {
        libm::exp(-libm::pow((depth / self.reach).max(0.0), self.bluntness))
    }

    /// Change of what is left for each mm.
    fn slope(self, depth: f64) -> f64 {
        let step = 0.01 * self.reach;
        (self.left(depth + step) - self.left((depth - step).max(0.0))) / (step + step.min(depth))
    }

    fn depth(self, left: f64) -> f64 {
        self.reach * libm::pow(-libm::log(left), 1.0 / self.bluntness)
    }
}

/// Likelihood of what a coupon shows for each carbon that its visible edge may have, in steps of [`CarbonDensity`], by how
/// much became martensite, in the order of [`SHARES`]: one smith's quench is alike from coupon to coupon, so that doubt is
/// no coupon's own. `None`: its face tells no depth, or its points are of no case that falls from the surface to its core.
pub(super) fn edge_likelihood(face: &KnownFace, tables: &EdgeTables<'_>) -> Option<[Vec<f64>; 3]> {
    let range = tables.edge.martensite(face.quench()?);
    let seen = FractureFeatures::described(&face.fracture, face.thickness, tables.face);
    let rim = RimRead::of(&together(&seen.sides_mm)?);
    let mut cases = Vec::new();
    for (at, share) in [range.low(), range.best(), range.high()].into_iter().enumerate() {
        // no case is so hard with so much martensite
        let Some(observed) = observed(face, share, tables) else { continue };
        let fitted = falls(tables.edge).map(|fall| (at, fall, fit(face, fall, &observed, tables.edge)));
        cases.extend(fitted);
    }
    let nearest = cases.iter().map(|(.., fit)| fit.misfit).fold(f64::INFINITY, f64::min);
    if nearest > FARTHEST * FARTHEST {
        return None;
    }
    let most = cases.iter().map(|(.., fit)| fit.log).fold(f64::NEG_INFINITY, f64::max);
    let mut likelihood = [(); 3].map(|()| vec![0.0; CarbonDensity::STEPS]);
    let mut total = 0.0;
    for (at, fall, fit) in cases {
        let weight = libm::exp(fit.log - most);
        total += weight;
        if weight > LEAST_WEIGHT {
            for (core, surface, part) in fit.ends.places() {
                add(&mut likelihood[at], weight * part, (core, surface), fall, &rim);
            }
        }
    }
    // what all shares have in common cancels where they are weighed against each other
    let even = 3.0 / total;
    let (slip, deep) = (tables.edge.slip.value, tables.edge.slip_depth.value);
    Some(likelihood.map(|sums| sums.into_iter().map(|s| (1.0 - slip) * s * even + slip / deep).collect()))
}

/// Adds the density of a rim read like this, by where carbon meets each step on a case.
fn add(to: &mut [f64], weight: f64, (core, surface): (f64, f64), fall: Fall, rim: &RimRead) {
    /// Standard deviations beyond which a reading is none of a depth.
    const FAR: f64 = 5.0;
    if surface <= core {
        return;
    }
    // leaner than the core the rim has no end; richer than the surface it has no depth
    let deepest = fall.left(rim.best + FAR * rim.up);
    let shallowest = rim.best - FAR * rim.down;
    let richest = if shallowest > 0.0 { fall.left(shallowest) } else { f64::INFINITY };
    for (step, sum) in to.iter_mut().enumerate() {
        let left = (CarbonDensity::carbon(step) - core) / (surface - core);
        if deepest < left && left < richest {
            *sum += weight * rim.density(if left < 1.0 { fall.depth(left) } else { 0.0 });
        }
    }
}

fn falls(edge: &EdgeReading) -> impl Iterator<Item = Fall> {
    let (reach, bluntness) = (edge.reach.value, edge.bluntness.value);
    let even = |range: Interval<f64>, i: usize, of: usize| {
        range.low() * libm::pow(range.high() / range.low(), i as f64 / (of - 1) as f64)
    };
    (0..REACHES).flat_map(move |i| {
        (0..BLUNTNESSES)
            .map(move |j| Fall { reach: even(reach, i, REACHES), bluntness: even(bluntness, j, BLUNTNESSES) })
    })
}

/// The points as carbon, if so much became martensite. `None`: no carbon is so hard then.
fn observed(face: &KnownFace, share: f64, tables: &EdgeTables<'_>) -> Option<Vec<Observed>> {
    face.points.iter().map(|point| observe(point, share, tables)).collect()
}

fn observe(point: &CasePoint, share: f64, tables: &EdgeTables<'_>) -> Option<Observed> {
    let edge = tables.edge;
    let by_hardness = |turns: &Interval<Hrc>| {
        let off = if turns.is_exact() { edge.point_hardness.value } else { 0.0 };
        let carbon = |hrc: f64| {
            let carbon = tables.martensite.carbon(Hrc::new(hrc).ok()?, Share::new(share).ok()?)?;
            Some(carbon.wt_percent())
        };
        let (low, high) = (turns.low().points() - off, turns.high().points() + off);
        let best = carbon(turns.best().points())?;
        // softer than the formula covers, or harder than carbon makes: as far off as the other end
        let low = carbon(low).unwrap_or(best - (carbon(high)? - best));
        Some((best, low, carbon(high).unwrap_or(best + (best - low))))
    };
    let (best, low, high) = match &point.shows {
        PointShows::Carbon(wt) => {
            let off = if wt.is_exact() { edge.point_carbon.value } else { 0.0 };
            let [low, best, high] = [wt.low(), wt.best(), wt.high()].map(CarbonPercent::wt_percent);
            (best, low - off, high + off)
        }
        PointShows::Hardness(hrc) => by_hardness(hrc)?,
        PointShows::FirstBite { turns, .. } => by_hardness(turns)?,
        PointShows::EtchedEnd => {
            let above = &edge.etched.value;
            (above.best(), above.low(), above.high())
        }
    };
    let sd = 0.5 * (high - low) / NINE_IN_TEN;
    let mm = |depth: Depth| depth.millimetres();
    let depth_off = if point.depth.is_exact() { edge.point_depth.value } else { 0.0 };
    let depth_sd = (0.5 * (mm(point.depth.high()) - mm(point.depth.low())) + depth_off) / NINE_IN_TEN;
    Some(Observed {
        depth: mm(point.depth.best()),
        depth_sd,
        wt: best,
        stretch: libm::log(sd),
        variance: sd * sd + edge.off_curve.value * edge.off_curve.value,
        above_core: point.shows == PointShows::EtchedEnd,
    })
}

/// A case by its points.
struct Fit {
    ends: Ends,
    /// Mean square distance of the points, standard deviations.
    misfit: f64,
    /// Logarithm of their likelihood.
    log: f64,
}

fn fit(face: &KnownFace, fall: Fall, observed: &[Observed], edge: &EdgeReading) -> Fit {
    let before = Ends::before(&face.core, &edge.surface.value);
    let mut fitted = before;
    let (mut misfit, mut log) = (0.0, 0.0);
    // a doubt in depth is one in carbon by how steep the case is, which the first round tells
    for _ in 0..2 {
        let steep = (fitted.surface - fitted.core).max(0.0);
        fitted = before;
        (misfit, log) = (0.0, 0.0);
        for o in observed {
            let left = fall.left(o.depth);
            let by_depth = steep * fall.slope(o.depth) * o.depth_sd;
            let on = if o.above_core { (-left, left) } else { (1.0 - left, left) };
            let (square, one) = fitted.take(on, o.wt, o.variance + by_depth * by_depth);
            misfit += square;
            log += one + o.stretch;
        }
    }
    Fit { ends: fitted, misfit: misfit / observed.len().max(1) as f64, log }
}

/// A rim as an eye read it: depth and standard deviation either way, mm.
#[derive(Debug, Clone, Copy)]
struct RimRead {
    best: f64,
    down: f64,
    up: f64,
}

impl RimRead {
    fn of(range: &Interval<f64>) -> Self {
        let sd = |half: f64| (half / NINE_IN_TEN).max(LEAST_READING_MM);
        let best = range.best();
        Self { best, down: sd(best - range.low()), up: sd(range.high() - best) }
    }

    /// Density where the rim ends at a depth, per mm.
    fn density(&self, depth: f64) -> f64 {
        let off = (depth - self.best) / if depth < self.best { self.down } else { self.up };
        libm::exp(-0.5 * off * off) / ((2.0 * std::f64::consts::PI).sqrt() * 0.5 * (self.down + self.up))
    }
}
