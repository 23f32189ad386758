use crate::files::Models;
use crate::files::run_sheet::fault::Fault;
use crate::files::run_sheet::field::quantity_range;
use crate::known::KnownSteel;
use crate::units::{CarbonPercent, Interval};

/// A carbon content as typed: `0.95`, `0.9-1.1`, `0.90-1.03 %C`. A bare number is percent, the only unit that steel has.
pub(super) fn carbon(text: &str) -> Result<Interval<CarbonPercent>, Fault> {
    let text = text.trim();
    let bare = text.ends_with(|c: char| c.is_ascii_digit() || c == '.');
    let range = quantity_range::<CarbonPercent>(&if bare { format!("{text} %") } else { text.to_string() })?;
    let most = KnownSteel::MOST_CARBON;
    if range.high().wt_percent() > most {
        let message = format!("with {} %C it is cast iron, not steel", range.high().wt_percent());
        return Err(Fault::new(message, format!("allowed: 0 to {most} %C")));
    }
    Ok(range)
}

/// A range as it is written in a record; reading it gives the same ends.
pub(super) fn carbon_text(range: &Interval<CarbonPercent>) -> String {
    let (low, high) = (range.low().wt_percent(), range.high().wt_percent());
    if low == high { format!("{low} %") } else { format!("{low}-{high} %") }
}

/// The range of the grade of that name, if it has the same ends: its best value need not be the middle.
pub(super) fn with_best_of_grade(
    name: &str,
    range: Interval<CarbonPercent>,
    models: &Models,
) -> Interval<CarbonPercent> {
    if range.is_exact() {
        return range;
    }
    let of_grade = models.grade_range(name);
    of_grade.filter(|g| g.low() == range.low() && g.high() == range.high()).unwrap_or(range)
}
