use super::{Bath, Doubtful, Expected, Hardening, Need};
use crate::stats::NINE_IN_TEN;
use crate::units::{CarbonPercent, Depth, Hv};

/// Depths that a demand is known at, closer near the face.
const POINTS: usize = 24;
/// Steps of carbon, in 1/1000 wt%: a hardening heat dissolves no more (Acm at 800 °C: 0.93).
const STEPS: u32 = 1000;

/// The least carbon that hardens to a limit, depth by depth: the deeper, the slower it cools.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Demand {
    /// Depth, m, rising; wt% for the softest, likeliest and hardest that the steel may be. Infinite: no carbon does.
    points: Vec<(f64, [f64; 3])>,
}

impl Demand {
    /// Quenched as a case should be in this bath, or as if all became martensite, down to `deepest` m.
    pub(super) fn of(
        hardening: &Hardening<'_>,
        need: &Need,
        limit: Option<Hv>,
        (bath, deepest): (Option<&Bath>, f64),
    ) -> Self {
        let place = |i: usize| deepest * (i as f64 / (POINTS - 1) as f64).powi(2);
        // without a bath it is the same at any depth
        let places = if bath.is_some() { POINTS } else { 1 };
        let hard_enough = |metres: f64, step: u32, end: usize| {
            let carbon = CarbonPercent::new(f64::from(step) / 1000.0).ok()?;
            let depth = Depth::from_metres(metres).ok()?;
            let hv = hardening.hv(bath, need, carbon, depth)?;
            Some([hv.low(), hv.best(), hv.high()][end] >= limit?)
        };
        let least = |metres: f64, end: usize| {
            let (mut soft, mut hard) = (0, STEPS + 1);
            while hard - soft > 1 {
                let middle = u32::midpoint(soft, hard);
                let enough = hard_enough(metres, middle, end).unwrap_or(false);
                if enough { hard = middle } else { soft = middle }
            }
            if hard > STEPS { f64::INFINITY } else { f64::from(hard) / 1000.0 }
        };
        let point = |i| (place(i), [0, 1, 2].map(|end| least(place(i), end)));
        Self { points: (0..places).map(point).collect() }
    }

    /// How deep a hypothesis meets it, mm.
    pub(super) fn depth(&self, expected: &Expected<'_>) -> Doubtful {
        let [low, best, high] = [0, 1, 2].map(|end| self.met(expected, end) * 1e3);
        let own = expected.as_seen(best);
        Doubtful {
            best,
            down: own.down.hypot((best - low).max(0.0) / NINE_IN_TEN),
            up: own.up.hypot((high - best).max(0.0) / NINE_IN_TEN),
        }
    }

    /// The deepest place that has what is asked for there, m; 0: none.
    fn met(&self, expected: &Expected<'_>, end: usize) -> f64 {
        let points: Vec<_> = expected.profile.points().map(|(x, wt)| (x, wt - self.at(x, end))).collect();
        let Some(last) = points.iter().rposition(|(_, over)| *over >= 0.0) else { return 0.0 };
        match points.get(last + 1) {
            None => points[last].0,
            // where no carbon does, the steel is hard up to there
            Some((x, short)) if short.is_infinite() => f64::midpoint(points[last].0, *x),
            Some((x, short)) => {
                points[last].0 + (x - points[last].0) * points[last].1 / (points[last].1 - short)
            }
        }
    }

    /// Carbon asked for at a depth, wt%.
    fn at(&self, metres: f64, end: usize) -> f64 {
        let above = self.points.partition_point(|p| p.0 <= metres);
        let (Some(a), b) = (self.points.get(above.saturating_sub(1)), self.points.get(above)) else {
            return f64::INFINITY;
        };
        let Some(b) = b.filter(|_| above > 0) else { return a.1[end] };
        let t = (metres - a.0) / (b.0 - a.0);
        // from any carbon to none that does: nearest of the two
        if a.1[end].is_infinite() || b.1[end].is_infinite() {
            return if t < 0.5 { a.1[end] } else { b.1[end] };
        }
        a.1[end] * (1.0 - t) + b.1[end] * t
    }
}

#[cfg(test)]
mod tests {
    // A test fails by panicking.
    #![allow(clippy::unwrap_used)]

    use super::super::expected::tests::case;
    use super::*;
    use crate::diffusion::{Case, Direction, Exchange, Fineness, Leg, Potential, Profile, Section, march};
    use crate::files::Models;
    use crate::hardness::{Body, Reach};
    use crate::steel::QuenchMedium;

    /// Two hours at 900 C under 0.9 %C, in a plate so thick.
    fn soaked(models: &Models, mm: f64) -> Profile {
        let law = models.law(&models.default_law).unwrap();
        let plate = Case {
            form: &law.form.value,
            factor: 1.0,
            phase: &models.phase,
            section: Section::both_faces(Depth::from_millimetres(mm).unwrap()),
            core: 0.15,
            fineness: Fineness::DEFAULT,
        };
        let points = [(0.0, 1173.15), (7200.0, 1173.15)];
        let exchange = Exchange {
            potential: Potential::Fixed(0.9),
            transfer: f64::INFINITY,
            direction: Direction::BothWays,
        };
        march(&plate, &[Leg { points: &points, exchange }]).unwrap().profiles.remove(0)
    }

    /// The other way to the same depth: the hardness along the whole profile.
    #[test]
    fn demands_end_where_the_hardness_curve_does() {
        let models = Models::shipped().unwrap();
        let hardness = &models.hardness;
        let mut expected = case(&models, 0.15, 0.0, 0.0);
        let hardening = expected.quench.hardening;
        let limit = hardness.conversion.to_hv(hardness.depth.effective.value).unwrap();
        let mut slack_cost_depth = 0;
        for (mm, medium) in [(6.0, None), (6.0, Some(QuenchMedium::Oil)), (12.0, Some(QuenchMedium::Water))] {
            expected.profile = soaked(&models, mm);
            let size = (Body::Plate, Depth::from_millimetres(mm).unwrap());
            let bath = medium.map(|medium| Bath::of(hardness, &models.need, None, medium, size).unwrap());
            let of = |bath: Option<&Bath>| {
                let deepest = expected.profile.extent();
                Demand::of(&hardening, &models.need, Some(limit), (bath, deepest)).depth(&expected)
            };
            let curve = hardening.profile(bath.as_ref(), &models.need, &expected.profile).unwrap();
            let best = match curve.reach(limit) {
                Reach::Nowhere => 0.0,
                Reach::To(depth) => depth.best().millimetres(),
                Reach::Throughout => expected.profile.extent() * 1e3,
            };
            let depth = of(bath.as_ref());
            assert!((depth.best - best).abs() < 0.02, "{medium:?} {mm}: {depth:?}, the curve {best}");
            slack_cost_depth += usize::from(depth.best < of(None).best - 0.01);
        }
        assert!(slack_cost_depth > 0, "no bath was too slow for anything");
    }
}
