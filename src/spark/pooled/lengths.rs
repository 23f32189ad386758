use super::Frame;
use super::tally::{Touches, quantile};
use crate::spark::{Carrier, CarrierEnd};
use crate::stats::SeenLength;
use crate::units::Interval;

/// How a carrier whose beginning was not seen is taken.
#[derive(Clone, Copy)]
enum Begun {
    /// Left out: it says nothing that the others do not.
    LeftOut,
    /// As long as it was seen, the least that it can be.
    WhereSeen,
    /// From the contact on, the most that it can be.
    AtContact,
}

/// Length that no more than `left` of the carriers are longer than, in common pixels, by the product limit: what is
/// cut off at the edge of the picture is longer than seen. Carriers of which the beginning was not seen are left out
/// of the best value, but it may be so short or so long as they can be.
pub(super) fn length(touches: Touches<'_>, left: f64, spread: f64) -> Option<Interval<f64>> {
    let of = |begun: Begun| quantile(touches, left, spread, |frame| sample(frame, begun));
    let seen = of(Begun::LeftOut)?;
    let least = of(Begun::WhereSeen).map_or(seen.low(), |r| r.best());
    let most = of(Begun::AtContact).map_or(seen.high(), |r| r.best());
    Interval::new(seen.low().min(least), seen.best(), seen.high().max(most))
}

fn sample(frame: &Frame, begun: Begun) -> Vec<SeenLength> {
    let one = |carrier: &Carrier| {
        let hidden = matches!(carrier.start, CarrierEnd::Hidden | CarrierEnd::Cut);
        let before = match begun {
            _ if !hidden => 0.0,
            Begun::LeftOut => return None,
            Begun::WhereSeen => 0.0,
            Begun::AtContact => {
                let (from, to) = (frame.photo.stream.contact, carrier.path.first()?);
                (from[0] - to[0]).hypot(from[1] - to[1])
            }
        };
        let whole = !matches!(carrier.end, CarrierEnd::Hidden | CarrierEnd::Cut);
        let length = (carrier.length + before) * frame.unit;
        Some(SeenLength { length, whole, weight: carrier.certainty })
    };
    frame.photo.carriers.iter().filter_map(one).collect()
}
