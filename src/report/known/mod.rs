//! Known steels in words.

mod added;
mod advised;
mod audit;
mod behind;
mod coupon;
mod list;
mod show;
mod step;
mod trained;

pub use added::{AddedRecord, added_page};
pub use advised::{AdvisedRig, advice_page};
pub use audit::{AuditReport, audit, audit_page};
pub(super) use behind::behind;
pub use coupon::{added_coupon_page, coupon_page};
pub use list::{KnownRow, list_page};
pub use show::{ShownRecord, show_page};
pub use step::{Step, step_page};
pub use trained::{TrainedReport, trained, trained_page};

use super::number::CARBON;
use crate::known::{KnownSteel, Seen};
use crate::report::sparks::plural;
use crate::spark::SteelState;
use crate::units::{CarbonPercent, Interval};

/// "0.90 to 1.03 %C".
fn carbon(range: &Interval<CarbonPercent>) -> String {
    let [low, best, high] = [range.low(), range.best(), range.high()].map(CarbonPercent::wt_percent);
    if low == high {
        return CARBON.one(best);
    }
    Interval::new(low, best, high).map_or_else(|| CARBON.one(best), |r| CARBON.range(&r))
}

fn state(state: Option<SteelState>) -> &'static str {
    match state {
        Some(SteelState::Soft) => "soft",
        Some(SteelState::Hardened) => "hardened",
        None => "",
    }
}

/// "3 photos", or "told".
fn seen(seen: &Seen) -> String {
    match seen {
        Seen::Photos(photos) => plural(photos.len(), "photo"),
        Seen::Told(_) => "told".into(),
    }
}

/// "1095, 0.90 to 1.03 %C, soft, on rig bench, session 2026-03-14: 3 photos".
fn label(steel: &KnownSteel) -> String {
    let state = match state(steel.state) {
        "" => String::new(),
        word => format!(", {word}"),
    };
    let reference = if steel.reference { ", the session's reference" } else { "" };
    format!(
        "{}, {}{state}, on rig {}, session {}{reference}: {}",
        steel.name,
        carbon(&steel.carbon),
        steel.rig,
        steel.session,
        seen(&steel.seen)
    )
}
