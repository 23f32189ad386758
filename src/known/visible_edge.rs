use super::case_curve::{EdgeTables, SHARES, edge_likelihood};
use super::{CarbonDensity, EdgeQuench, KnownFace, STATED};
use crate::stats::NINE_IN_TEN;
use crate::units::{CarbonPercent, Interval};

/// Likelihood of a coupon by carbon at its edge, for each share of martensite.
type Told = [Vec<f64>; 3];

/// Steps of the scatter between coupons.
const SCATTERS: usize = 4;

/// Carbon at the visible edge of one kind of quench, learned from coupons whose case was measured another way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LearnedEdge {
    /// What they were quenched in.
    pub quench: EdgeQuench,
    /// Nine in ten of the next coupons, wt%.
    pub carbon: Interval<CarbonPercent>,
    /// Coupons behind it.
    pub coupons: usize,
}

/// What one coupon says.
#[derive(Debug, Clone, PartialEq)]
pub struct CouponEdge {
    /// Its record.
    pub name: String,
    /// What it was quenched in.
    pub quench: EdgeQuench,
    /// Carbon at its edge by itself, before anything is believed, nine in ten, wt%.
    pub alone: Interval<f64>,
    /// What all others of its quench say of it, wt%.
    pub by_others: Interval<f64>,
}

impl CouponEdge {
    /// Whether it and all others exclude each other.
    pub fn is_odd(&self) -> bool {
        self.alone.low() > self.by_others.high() || self.alone.high() < self.by_others.low()
    }
}

/// What all coupons say of the visible edge.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct VisibleEdge {
    /// One entry for each kind of quench that has a coupon.
    pub learned: Vec<LearnedEdge>,
    /// Coupon by coupon.
    pub coupons: Vec<CouponEdge>,
    /// Names of those that say nothing: their points are of no case that falls from the surface to its core.
    pub unused: Vec<String>,
}

impl VisibleEdge {
    /// Learns from coupons, each with the name of its record. A quench without a coupon is not among what is learned: what
    /// is believed before stands as it is.
    pub fn of(faces: &[(&str, &KnownFace)], tables: &EdgeTables<'_>) -> Self {
        let mut all = Self::default();
        let mut told = Vec::new();
        for (name, face) in faces {
            match face.quench().zip(edge_likelihood(face, tables)) {
                Some((quench, likelihood)) => told.push((*name, quench, likelihood)),
                None => all.unused.push((*name).to_string()),
            }
        }
        for quench in EdgeQuench::ALL {
            all.learn(quench, &told, &Belief::before(quench, tables));
        }
        all
    }

    fn learn(&mut self, quench: EdgeQuench, told: &[(&str, EdgeQuench, Told)], belief: &Belief) {
        let of_it = || told.iter().filter(|t| t.1 == quench);
        let each: Vec<Vec<f64>> = of_it().map(|(.., told)| belief.weigh(told)).collect();
        let together = |but: Option<usize>| -> Vec<f64> {
            let without =
                |at: usize| each.iter().map(|logs| logs[at]).sum::<f64>() - but.map_or(0.0, |i| each[i][at]);
            (0..belief.before.len()).map(without).collect()
        };
        let coupons = each.len();
        let carbon = belief.next(&together(None)).and_then(|wt| percent(&wt)).filter(|_| coupons > 0);
        self.learned.extend(carbon.map(|carbon| LearnedEdge { quench, carbon, coupons }));
        for (i, (name, _, told)) in of_it().enumerate() {
            let by_share = |step: usize| SHARES.iter().zip(told).map(|(w, l)| w * l[step]).sum::<f64>();
            let alone = CarbonDensity::by(|step| libm::log(by_share(step))).middle_part(STATED);
            if let Some((alone, by_others)) = alone.zip(belief.next(&together(Some(i)))) {
                self.coupons.push(CouponEdge { name: (*name).to_string(), quench, alone, by_others });
            }
        }
    }

    /// What was learned of a quench.
    pub fn of_quench(&self, quench: EdgeQuench) -> Option<&LearnedEdge> {
        self.learned.iter().find(|edge| edge.quench == quench)
    }
}

fn percent(wt: &Interval<f64>) -> Option<Interval<CarbonPercent>> {
    let of = |wt| CarbonPercent::new(wt).ok();
    Interval::new(of(wt.low())?, of(wt.best())?, of(wt.high())?)
}

/// What is believed of the usual edge of a quench, of how coupons scatter about it, and of its martensite: every way that it
/// may be, scatter by scatter, share by share, edge by edge.
struct Belief {
    /// Scatters.
    scatters: Vec<About>,
    /// Logarithm of the weight of each way before any coupon.
    before: Vec<f64>,
}

impl Belief {
    fn before(quench: EdgeQuench, tables: &EdgeTables<'_>) -> Self {
        let range = tables.edge.before(quench);
        let [low, best, high] = [range.low(), range.best(), range.high()].map(CarbonPercent::wt_percent);
        let scatter = &tables.edge.between_coupons.value;
        let even = |i: usize| {
            scatter.low() * libm::pow(scatter.high() / scatter.low(), i as f64 / (SCATTERS - 1) as f64)
        };
        let mut before = Vec::new();
        for scatter in (0..SCATTERS).map(even) {
            // the range is that of coupons: the usual edge is surer by what they scatter
            let sd = |half: f64| {
                let all = half / NINE_IN_TEN;
                (all * all - scatter * scatter).max(0.25 * all * all).sqrt()
            };
            let (down, up) = (sd(best - low), sd(high - best));
            for share in SHARES {
                before.extend((0..CarbonDensity::STEPS).map(|step| {
                    let wt = CarbonDensity::carbon(step);
                    // half of them on either side
                    let sd = if wt < best { down } else { up };
                    libm::log(share / sd) - 0.5 * libm::pow((wt - best) / sd, 2.0)
                }));
            }
        }
        Self { scatters: (0..SCATTERS).map(|i| About::new(even(i))).collect(), before }
    }

    /// Logarithm of how likely a coupon is, each way.
    fn weigh(&self, told: &Told) -> Vec<f64> {
        let ways = self.scatters.iter().flat_map(|about| told.iter().map(move |told| (about, told)));
        ways.flat_map(|(about, told)| {
            (0..CarbonDensity::STEPS).map(|usual| libm::log(about.mean(usual, told)))
        })
        .collect()
    }

    /// Nine in ten of the next coupons' edges, wt%, by how likely all coupons are each way.
    fn next(&self, told: &[f64]) -> Option<Interval<f64>> {
        let steps = CarbonDensity::STEPS;
        let logs: Vec<f64> = self.before.iter().zip(told).map(|(before, told)| before + told).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut next = vec![0.0; steps];
        for (about, logs) in self.scatters.iter().zip(logs.chunks(SHARES.len() * steps)) {
            for (at, log) in logs.iter().enumerate() {
                about.add(at % steps, libm::exp(log - most), &mut next);
            }
        }
        CarbonDensity::by(|step| libm::log(next[step])).middle_part(STATED)
    }
}

/// A normal curve over steps of carbon, the same about each: how coupons scatter.
struct About(Vec<f64>);

impl About {
    fn new(sd: f64) -> Self {
        let steps = CarbonDensity::STEPS;
        let curve: Vec<f64> = (0..steps)
            .map(|by| {
                let off = (CarbonDensity::carbon(by) - CarbonDensity::carbon(0)) / sd;
                libm::exp(-0.5 * off * off)
            })
            .collect();
        let total = curve[0] + 2.0 * curve[1..].iter().sum::<f64>();
        Self(curve.into_iter().map(|c| c / total).collect())
    }

    fn mean(&self, about: usize, of: &[f64]) -> f64 {
        of.iter().enumerate().map(|(step, value)| value * self.0[step.abs_diff(about)]).sum()
    }

    fn add(&self, about: usize, weight: f64, to: &mut [f64]) {
        for (step, sum) in to.iter_mut().enumerate() {
            *sum += weight * self.0[step.abs_diff(about)];
        }
    }
}
