use super::{NINE_IN_TEN, wilson};
use crate::units::Interval;

/// A length, and whether its end was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenLength {
    /// What was seen of it, not negative.
    pub length: f64,
    /// False: it is longer.
    pub whole: bool,
    /// How much it counts, 0 to 1.
    pub weight: f64,
}

/// Share of lengths that are longer than any given one, when some were not seen to their end. E. L. Kaplan, P. Meier,
/// J. Am. Stat. Assoc. 53 (1958) 457.
#[derive(Debug, Clone, PartialEq)]
pub struct ProductLimit {
    /// Rising.
    steps: Vec<Step>,
    /// How many lengths it rests on.
    number: f64,
    longest: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Step {
    length: f64,
    /// Share that is longer.
    left: f64,
    /// Sum of Greenwood's terms: variance of `left` over its square.
    greenwood: f64,
}

impl ProductLimit {
    /// From lengths in any order; `None` if there is none that counts.
    pub fn of(seen: &[SeenLength]) -> Option<Self> {
        let counts = |s: &&SeenLength| s.weight > 0.0 && s.length.is_finite();
        let mut seen: Vec<SeenLength> = seen.iter().filter(counts).copied().collect();
        // what ends at a length was still there when what goes on was last seen
        seen.sort_by(|a, b| {
            a.length.total_cmp(&b.length).then(b.whole.cmp(&a.whole)).then(a.weight.total_cmp(&b.weight))
        });
        let longest = seen.last()?.length;
        let number: f64 = seen.iter().map(|s| s.weight).sum();
        let (mut steps, mut left, mut greenwood): (Vec<Step>, f64, f64) = (Vec::new(), 1.0, 0.0);
        let mut at = 0;
        while at < seen.len() {
            let length = seen[at].length;
            let same = seen[at..].iter().take_while(|s| s.length == length).count();
            let at_risk: f64 = seen[at..].iter().map(|s| s.weight).sum();
            let ended: f64 = seen[at..at + same].iter().filter(|s| s.whole).map(|s| s.weight).sum();
            at += same;
            if ended > 0.0 {
                // the last one leaves nothing, not the rounding error of sums
                let stay =
                    if at == seen.len() && ended >= at_risk { 0.0 } else { (1.0 - ended / at_risk).max(0.0) };
                left *= stay;
                greenwood += if stay > 0.0 { ended / (at_risk * (at_risk - ended)) } else { 0.0 };
                steps.push(Step { length, left, greenwood });
            }
        }
        Some(Self { steps, number, longest })
    }

    /// How many lengths it rests on, by weight.
    pub fn number(&self) -> f64 {
        self.number
    }

    /// Share that is longer than `length`.
    pub fn longer_than(&self, length: f64) -> f64 {
        self.last_step(length).map_or(1.0, |s| s.left)
    }

    /// The length that no more than `left` of all are longer than; `None`: never so few were seen.
    pub fn length_at(&self, left: f64) -> Option<f64> {
        self.steps.iter().find(|s| s.left <= left + ROUNDING).map(|s| s.length)
    }

    /// The number of lengths seen whole that would leave as much doubt about the share longer than `length`, by
    /// M. Greenwood's variance (1926).
    pub fn worth(&self, length: f64) -> f64 {
        match self.last_step(length) {
            Some(s) if s.left > 0.0 && s.left < 1.0 => {
                ((1.0 - s.left) / (s.left * s.greenwood)).min(self.number)
            }
            _ => self.number,
        }
    }

    /// The length that no more than `left` are longer than, with the range that holds nine in ten when the curve is
    /// worth `worth` lengths: where the curve meets the range of that share (R. S. Woodruff, J. Am. Stat. Assoc. 47
    /// (1952) 635). `None`: never so few were seen.
    pub fn range_at(&self, left: f64, worth: f64) -> Option<Interval<f64>> {
        let best = self.length_at(left)?;
        let share = wilson(left, worth, NINE_IN_TEN)?;
        let low = self.length_at(share.high()).unwrap_or(best);
        let high = self.length_at_or_beyond(share.low());
        Interval::new(low.min(best), best, high.max(best))
    }

    /// As [`Self::length_at`]; beyond what was seen the curve goes on as an exponential through its last point:
    /// B. W. Brown, M. Hollander, R. M. Korwar (1974), in Reliability and Biometry, SIAM, 327.
    fn length_at_or_beyond(&self, left: f64) -> f64 {
        // with all seen whole, half a length is left at the last
        let least = 0.5 / self.number.max(1.0);
        let end = self.steps.last().map_or(1.0, |s| s.left).max(least);
        match self.length_at(left) {
            Some(length) if left >= least || end > least => length,
            _ if end < 1.0 => self.longest * (left.max(MIN_LEFT).ln() / end.ln()).max(1.0),
            _ => self.longest,
        }
    }

    fn last_step(&self, length: f64) -> Option<&Step> {
        self.steps.iter().rev().find(|s| s.length <= length)
    }
}

/// What products of shares may be off by.
const ROUNDING: f64 = 1e-12;
/// No share is followed further down.
const MIN_LEFT: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(length: f64, whole: bool) -> SeenLength {
        SeenLength { length, whole, weight: 1.0 }
    }

    /// Weeks in remission with 6-mercaptopurine, `false` still in remission: E. J. Freireich et al., Blood 21 (1963)
    /// 699; the curve and Greenwood's errors as reprinted in textbooks of survival (from memory). To their last digit.
    #[test]
    fn the_curve_as_published() {
        let ended = [6.0, 6.0, 6.0, 7.0, 10.0, 13.0, 16.0, 22.0, 23.0];
        let going_on = [6.0, 9.0, 10.0, 11.0, 17.0, 19.0, 20.0, 25.0, 32.0, 32.0, 34.0, 35.0];
        let mut all: Vec<SeenLength> = going_on.iter().map(|t| seen(*t, false)).collect();
        all.extend(ended.iter().map(|t| seen(*t, true)));
        let curve = ProductLimit::of(&all).unwrap();
        let rows = [
            (6.0, 0.857, 0.0764),
            (7.0, 0.807, 0.0869),
            (10.0, 0.753, 0.0963),
            (13.0, 0.690, 0.1068),
            (16.0, 0.627, 0.1141),
            (22.0, 0.538, 0.1282),
            (23.0, 0.448, 0.1346),
        ];
        for (week, left, error) in rows {
            assert!((curve.longer_than(week) - left).abs() < 6e-4, "{week}");
            let share = curve.longer_than(week);
            assert!(((share * (1.0 - share) / curve.worth(week)).sqrt() - error).abs() < 6e-5, "{week}");
        }
        assert_eq!(curve.length_at(0.5), Some(23.0));
        assert_eq!(curve.length_at(0.4), None, "it never falls so low");
        let median = curve.range_at(0.5, curve.worth(23.0)).unwrap();
        assert!(median.low() == 13.0 && median.high() > 35.0, "{median:?}");
    }

    #[test]
    fn lengths_seen_whole_are_plain_quantiles() {
        let all: Vec<SeenLength> = (1..=20).map(|i| seen(f64::from(i), true)).collect();
        let curve = ProductLimit::of(&all).unwrap();
        assert_eq!(curve.length_at(0.5), Some(10.0));
        assert_eq!(curve.length_at(0.05), Some(19.0));
        let long = curve.range_at(0.05, curve.number()).unwrap();
        // few lengths do not bound what the longest twentieth may be
        assert!(long.high() > 20.0 && long.high() < 30.0, "{long:?}");
        assert_eq!(ProductLimit::of(&[]), None);
        assert_eq!(ProductLimit::of(&[seen(3.0, false)]).unwrap().length_at(0.5), None);
    }
}
