use super::{Alloy, AsQuenched, Hardness, NoAnswer, Quench};
use crate::steel::PhaseLimits;
use crate::units::{CarbonPercent, Depth, Hv, Interval, Share};

/// Steel quenched in a bath that may be too slow for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slack {
    /// Share of its austenite that becomes martensite, at best. `None`: less than half.
    pub martensite: Option<Share>,
    /// The softest, likeliest and hardest that it may be.
    pub ends: [SlackEnd; 3],
}

/// One end of a hardness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SlackEnd {
    /// So hard.
    At(Hv),
    /// Less than half martensite: softer than this, and no table tells how soft.
    Under(Hv),
}

impl Slack {
    /// For curves: where less than half is martensite the steel counts as soft as `soft`.
    pub fn interval(&self, soft: &Interval<Hv>) -> Option<Interval<Hv>> {
        let number = |end, soft| match end {
            SlackEnd::At(hv) => hv,
            SlackEnd::Under(_) => soft,
        };
        let [low, best, high] = self.ends;
        Interval::new(number(low, soft.low()), number(best, soft.best()), number(high, soft.high()))
    }
}

impl Hardness {
    /// As [`Self::as_quenched`], with the share of martensite that the ideal diameter gives a place which asks for
    /// `asked`; `quench.martensite` is the most that it can be. `alloys`: the least, likeliest and most manganese.
    pub fn slack(
        &self,
        phase: &PhaseLimits,
        carbon: CarbonPercent,
        alloys: &[Alloy; 3],
        quench: &Quench,
        asked: &Interval<Depth>,
    ) -> Result<Slack, NoAnswer> {
        let with =
            |martensite| self.as_quenched(phase, carbon, &alloys[1], &Quench { martensite, ..*quench });
        let most = with(quench.martensite)?;
        let ideal = self.ideal_over(most.dissolved, alloys).ok_or(NoAnswer::NotCovered {
            percent: most.dissolved.wt_percent(),
            martensite: quench.martensite.fraction(),
        })?;
        let shares = self.hardenability.martensite(&ideal, asked);
        let shares =
            shares.map(|share| share.map(|f| if f > quench.martensite { quench.martensite } else { f }));
        let half = with(Share::new(0.5).unwrap_or(quench.martensite))?;
        let each = shares.map(|share| share.map(&with).transpose());
        let [low, best, high] = [each[0].clone()?, each[1].clone()?, each[2].clone()?];
        // how far the reading itself is in doubt, where there is a likeliest share
        let about = best.as_ref().unwrap_or(&half);
        let (down, up) = (
            about.hv.best().number() - about.hv.low().number(),
            about.hv.high().number() - about.hv.best().number(),
        );
        let end = |of: &Option<AsQuenched>, sign: f64, doubt: f64| {
            let Some(of) = of else { return SlackEnd::Under(half.hv.best()) };
            let moved = of.hv.best().number() - about.hv.best().number();
            // nothing is harder than all martensite may be
            let number = about.hv.best().number() + sign * moved.hypot(doubt);
            let hv = Hv::new(number.min(most.hv.high().number()));
            SlackEnd::At(hv.unwrap_or(of.hv.best()))
        };
        let ends = [
            end(&low, -1.0, down),
            best.as_ref().map_or(SlackEnd::Under(half.hv.best()), |b| SlackEnd::At(b.hv.best())),
            end(&high, 1.0, up),
        ];
        Ok(Slack { martensite: shares[1], ends })
    }

    /// Ideal diameter with the doubt of the manganese; steel richer than the factors hold for counts as their richest.
    fn ideal_over(&self, dissolved: CarbonPercent, alloys: &[Alloy; 3]) -> Option<Interval<Depth>> {
        let carbon = CarbonPercent::new(dissolved.wt_percent().min(self.hardenability.richest())).ok()?;
        let of = |alloy| self.hardenability.ideal_diameter(carbon, alloy);
        let [least, best, most] = [of(&alloys[0])?, of(&alloys[1])?, of(&alloys[2])?];
        let log = |a: Depth, b: Depth| libm::log(a.metres() / b.metres());
        let down = log(best.best(), best.low()).hypot(log(best.best(), least.best()));
        let up = log(best.high(), best.best()).hypot(log(most.best(), best.best()));
        let metres = best.best().metres();
        let end = |by: f64| Depth::from_metres(metres * libm::exp(by)).ok();
        Interval::new(end(-down)?, best.best(), end(up)?)
    }
}
