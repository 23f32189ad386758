use super::measures::over;
use super::{PhotoReading, StreamFigures};
use crate::spark::OverTime;
use crate::units::Interval;

/// How the sparks changed from touch to touch, each deeper than the one before.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    /// Bursts for each length of carrier at every touch, over those of the first.
    pub ratios: Vec<Option<Interval<f64>>>,
    /// What that comes to; `None`: it cannot be told.
    pub over_time: Option<OverTime>,
}

/// A change from one rate of bursts to another: at least by the judged ratio, and beyond both ranges.
struct Change(f64);

impl Change {
    fn fell(&self, from: Option<&Interval<f64>>, to: Option<&Interval<f64>>) -> bool {
        let ratio = from.zip(to).and_then(|(from, to)| over(to, from));
        ratio.is_some_and(|r| r.best() <= 1.0 / self.0 && r.high() < 1.0)
    }

    fn rose(&self, from: Option<&Interval<f64>>, to: Option<&Interval<f64>>) -> bool {
        let ratio = from.zip(to).and_then(|(from, to)| over(to, from));
        ratio.is_some_and(|r| r.best() >= self.0 && r.low() > 1.0)
    }
}

impl Trend {
    /// Of touches in their order; `stock` is the untreated stock's rate. `None`: fewer than two touches.
    pub(super) fn of(
        touches: &[StreamFigures],
        stock: Option<&Interval<f64>>,
        reading: &PhotoReading,
    ) -> Option<Self> {
        let rates: Vec<Option<&Interval<f64>>> = touches.iter().map(|t| t.bursts_per_px.as_ref()).collect();
        let first = *rates.first().filter(|_| rates.len() > 1)?;
        let ratios = rates.iter().map(|r| r.zip(first).and_then(|(r, f)| over(r, f))).collect();
        let change = Change(reading.change.value);
        let risen = rates.iter().position(|r| change.rose(first, *r));
        let falls_after = |from: usize| rates[from..].iter().any(|r| change.fell(rates[from], *r));
        let over_time = match risen {
            Some(at) => falls_after(at).then_some(OverTime::PlainThenRichThenPlain),
            None if falls_after(0) => Some(OverTime::RichThenPlain),
            None if rates.iter().all(|r| change.rose(stock, *r)) => Some(OverTime::RichThroughout),
            None if rates.iter().all(|r| stock.is_some() && r.is_some() && !change.rose(stock, *r)) => {
                Some(OverTime::PlainThroughout)
            }
            None => None,
        };
        Some(Self { ratios, over_time })
    }

    /// How many touches from the first on show what the first does.
    pub(super) fn like_the_first(&self, reading: &PhotoReading) -> usize {
        let change = reading.change.value;
        let differs = |r: &Interval<f64>| {
            (r.best() <= 1.0 / change && r.high() < 1.0) || (r.best() >= change && r.low() > 1.0)
        };
        self.ratios.iter().take_while(|r| !r.as_ref().is_some_and(differs)).count().max(1)
    }
}
