use super::{Alloy, Hardness, NoAnswer, Quench};
use crate::sources::Sourced;
use crate::steel::PhaseLimits;
use crate::units::{CarbonPercent, Depth, Hrc, Hv, Interval};

/// Where a hardened case is said to end.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthRules {
    /// Effective case depth: this hard (SAE J423).
    pub effective: Sourced<Hrc>,
    /// Case hardening depth: this hard (ISO 18203).
    pub case_hardening: Sourced<Hv>,
    /// A case hardening depth stands only if at this many times the depth …
    pub rule_times: Sourced<f64>,
    /// … the steel is softer than this.
    pub rule_under: Sourced<Hv>,
}

/// Hardness against depth, straight lines between points.
#[derive(Debug, Clone, PartialEq)]
pub struct HardnessProfile {
    /// Depth rises; at least one point.
    points: Vec<(Depth, Interval<Hv>)>,
}

/// How deep the steel is at least as hard as a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reach {
    /// Nowhere, not even at best.
    Nowhere,
    /// The deepest such place. An end that is nowhere stands at 0, one without end at the last point.
    To(Interval<Depth>),
    /// All the way to the last point, even at worst.
    Throughout,
}

/// Depth to 550 HV, or why it has none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CaseHardeningDepth {
    /// It stands.
    Stands {
        /// The depth.
        depth: Interval<Depth>,
        /// Whether the rule holds for the hardest that the steel may be there too, not only at best.
        sure: bool,
    },
    /// The steel is too hard further in: another limit has to be agreed on.
    DoesNotApply {
        /// Where the rule looks: three times the depth, or the last point if that is nearer.
        at: Depth,
        /// Hardness there.
        hardness: Interval<Hv>,
        /// What it would have to stay under.
        under: Hv,
    },
    /// No place is that hard.
    NotReached,
}

impl HardnessProfile {
    /// From points with rising depth. `None` if there are none or they do not rise.
    pub fn new(points: Vec<(Depth, Interval<Hv>)>) -> Option<Self> {
        let rises = points.windows(2).all(|w| w[0].0 < w[1].0);
        (!points.is_empty() && rises).then_some(Self { points })
    }

    /// The points.
    pub fn points(&self) -> &[(Depth, Interval<Hv>)] {
        &self.points
    }

    /// Hardness at a depth; beyond the points that of the nearest.
    pub fn at(&self, depth: Depth) -> Interval<Hv> {
        let above = self.points.partition_point(|p| p.0 <= depth);
        if above == 0 || above == self.points.len() {
            return self.points[above.saturating_sub(1)].1;
        }
        let ((x0, a), (x1, b)) = (self.points[above - 1], self.points[above]);
        let t = (depth.metres() - x0.metres()) / (x1.metres() - x0.metres());
        let mix = |a: Hv, b: Hv| Hv::new(a.number() * (1.0 - t) + b.number() * t).unwrap_or(a);
        let mixed = Interval::new(mix(a.low(), b.low()), mix(a.best(), b.best()), mix(a.high(), b.high()));
        mixed.unwrap_or(a)
    }

    /// The deepest place at least as hard as `limit`.
    pub fn reach(&self, limit: Hv) -> Reach {
        let low = self.deepest(limit, Interval::low);
        let best = self.deepest(limit, Interval::best);
        let high = self.deepest(limit, Interval::high);
        match (low, high) {
            (_, End::Nowhere) => Reach::Nowhere,
            (End::Never, _) => Reach::Throughout,
            _ => {
                let last = self.last();
                let [low, best, high] = [low, best, high].map(|end| match end {
                    End::Nowhere => Depth::ZERO,
                    End::At(depth) => depth,
                    End::Never => last,
                });
                Interval::new(low, best, high).map_or(Reach::Nowhere, Reach::To)
            }
        }
    }

    /// Depth to the limit of `rules`, if the steel further in is soft enough for one: ISO 2639 asks
    /// for less than 450 HV1 at three times the depth. Where the piece ends sooner, its middle counts.
    pub fn case_hardening_depth(&self, rules: &DepthRules) -> CaseHardeningDepth {
        let under = rules.rule_under.value;
        let depth = match self.reach(rules.case_hardening.value) {
            Reach::Nowhere => return CaseHardeningDepth::NotReached,
            Reach::Throughout => Interval::exact(self.last()),
            Reach::To(depth) if depth.best() == Depth::ZERO => return CaseHardeningDepth::NotReached,
            Reach::To(depth) => depth,
        };
        let last = self.last();
        let at = Depth::from_metres(depth.best().metres() * rules.rule_times.value);
        let at = at.ok().filter(|at| *at < last).unwrap_or(last);
        let hardness = self.at(at);
        if hardness.best() < under {
            CaseHardeningDepth::Stands { depth, sure: hardness.high() < under }
        } else {
            CaseHardeningDepth::DoesNotApply { at, hardness, under }
        }
    }

    fn last(&self) -> Depth {
        self.points[self.points.len() - 1].0
    }

    fn deepest(&self, limit: Hv, of: impl Fn(&Interval<Hv>) -> Hv) -> End {
        let Some(i) = self.points.iter().rposition(|(_, hv)| of(hv) >= limit) else {
            return End::Nowhere;
        };
        if i + 1 == self.points.len() {
            return End::Never;
        }
        let ((x0, a), (x1, b)) = (&self.points[i], &self.points[i + 1]);
        let (a, b) = (of(a).number(), of(b).number());
        let t = (a - limit.number()) / (a - b);
        let metres = x0.metres() * (1.0 - t) + x1.metres() * t;
        Depth::from_metres(metres).map_or(End::At(*x0), End::At)
    }
}

/// Where one of the three curves was last hard enough.
#[derive(Clone, Copy)]
enum End {
    Nowhere,
    At(Depth),
    /// It was not softer anywhere.
    Never,
}

impl Hardness {
    /// Hardness as quenched along a carbon profile (depth rising). Where the austenite is poorer
    /// than the formula covers, the hardness of its poorest stands: the steel is at most that hard.
    /// `None` for points that do not rise.
    pub fn profile(
        &self,
        phase: &PhaseLimits,
        carbon: impl IntoIterator<Item = (Depth, CarbonPercent)>,
        alloy: &Alloy,
        quench: &Quench,
    ) -> Result<Option<HardnessProfile>, NoAnswer> {
        let poorest = self.martensite.full_range.value.low();
        let mut points = Vec::new();
        for (depth, carbon) in carbon {
            let quenched = match self.as_quenched(phase, carbon, alloy, quench) {
                Err(NoAnswer::TooPoor { .. }) => self.as_quenched(phase, poorest, alloy, quench),
                answer => answer,
            }?;
            points.push((depth, quenched.hv));
        }
        Ok(HardnessProfile::new(points))
    }
}
