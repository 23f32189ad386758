use crate::crosscheck::{CrossCheck, Step};
use crate::report::note::CAUTIONS;

pub(in crate::report) const GRINDER: &str = "Grinder: guards on, shield over glasses, respirator; small coupons in locking pliers, no loose \
                       gloves; never a wheel or dust tray that has seen aluminium; sparks away from charcoal dust and oil.";
pub(in crate::report) const BREAKING: &str =
    "Hard coupons are broken wrapped and shielded; they can crack by themselves.";
pub(in crate::report) const QUENCH: &str = "Quench: metal vessel with a lid, no water in the oil, plunge at once, stay well below the flash \
                      point, no used engine oil. Water or brine cracks thin edges of 0.6 %C and more. Temper within the hour, oil wiped off, oven ventilated.";

/// Cautions where they apply: those of the soak, then of what is to be done with coupon and piece.
pub(super) fn cautions(check: &CrossCheck) -> Vec<String> {
    let hardens = |step: &Step| matches!(step, Step::Harden { .. });
    let quench = hardens(&check.advice.first) || hardens(&check.advice.then) || reads_on(check);
    let mut list = vec![GRINDER, BREAKING];
    list.extend(quench.then_some(QUENCH));
    let (last, first) = (CAUTIONS.len() - LAST, CAUTIONS);
    let mut all: Vec<String> = first[..last].iter().chain(&list).map(ToString::to_string).collect();
    all.push(first[last..].join(" "));
    all
}

/// Cautions of every command that stand at the end: local codes, no certificate.
const LAST: usize = 2;

/// Whether a coupon is still to be quenched for reading it.
fn reads_on(check: &CrossCheck) -> bool {
    matches!(check.advice.first, Step::ReadCoupon | Step::Settle(_))
}
