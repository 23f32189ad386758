use super::Bench;
use crate::known::{Correction, Piece, Planned};
use crate::steel::CarbonBand;
use crate::units::{CarbonPercent, Interval};

/// What to photograph next.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// Doubt of a coupon now: standard deviation of its carbon, wt%, mean over the coupons that are tested.
    pub now: f64,
    /// Steels by what they would bring, the best first.
    pub picks: Vec<Pick>,
    /// Bands within those tested that no known steel lies in.
    pub uncovered: Vec<CarbonBand>,
    /// Days without untreated stock, as numbers of the pieces.
    pub days_without_stock: Vec<usize>,
}

/// One steel that could be sparked on a day more, beside untreated stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Pick {
    /// Place among the candidates.
    pub steel: usize,
    /// Photos of it.
    pub photos: usize,
    /// Doubt of a coupon then.
    pub then: f64,
}

/// Numbers of photos that are weighed, and how many a record usually has (README: two or three a piece).
const PHOTOS: [usize; 3] = [1, 3, 6];
const USUAL_PHOTOS: f64 = 3.0;
/// More photos must bring this part of what one brings more (judgement: they cost time).
const WORTH_IT: f64 = 0.1;
/// Carbon contents that the coupons are taken to have, so many evenly over the range.
const COUPONS: usize = 12;

/// Which steel would make the answers for coupons within `tested`, wt%, surest. `stock` is the carbon of the untreated
/// stock that stands beside every coupon and every steel, wt%.
pub fn advise(
    bench: &Bench<'_>,
    pieces: &[&Piece],
    candidates: &[Interval<f64>],
    stock: &Interval<f64>,
    tested: &Interval<f64>,
) -> Advice {
    let correction = Correction::fit(bench.trend, bench.by, pieces, bench.exposures);
    let rig = Planned::of(bench.trend, &correction, pieces);
    let doubt = |rig: &Planned<'_>| {
        let width = tested.high() - tested.low();
        let wt = |i: usize| tested.low() + width * (i as f64 + 0.5) / COUPONS as f64;
        (0..COUPONS).map(|i| rig.doubt(wt(i), std::slice::from_ref(stock))).sum::<f64>() / COUPONS as f64
    };
    let now = doubt(&rig);
    let pick = |(steel, carbon): (usize, &Interval<f64>)| {
        let then = PHOTOS.map(|photos| doubt(&rig.after(&[*carbon, *stock], photos as f64 / USUAL_PHOTOS)));
        let mut best = 0;
        for more in 1..PHOTOS.len() {
            if then[best] - then[more] > WORTH_IT * (now - then[best]) {
                best = more;
            }
        }
        Pick { steel, photos: PHOTOS[best], then: then[best] }
    };
    let mut picks: Vec<Pick> = candidates.iter().enumerate().map(pick).collect();
    picks.sort_by(|a, b| a.then.total_cmp(&b.then).then(a.steel.cmp(&b.steel)));
    Advice {
        now,
        picks,
        uncovered: uncovered(pieces, tested),
        days_without_stock: days_without_stock(pieces),
    }
}

fn uncovered(pieces: &[&Piece], tested: &Interval<f64>) -> Vec<CarbonBand> {
    let band = |wt: f64| CarbonPercent::new(wt).map_or(CarbonBand::UpTo010, CarbonBand::of);
    let (first, last) = (band(tested.low()), band(tested.high()));
    let has = |wanted: &CarbonBand| {
        pieces.iter().any(|p| p.judges() && !p.reference && band(p.carbon.best()) == *wanted)
    };
    CarbonBand::ALL.into_iter().filter(|b| first <= *b && *b <= last && !has(b)).collect()
}

fn days_without_stock(pieces: &[&Piece]) -> Vec<usize> {
    let mut days: Vec<usize> = pieces.iter().map(|p| p.day).collect();
    days.sort_unstable();
    days.dedup();
    days.retain(|day| !pieces.iter().any(|p| p.day == *day && p.reference));
    days
}
