use crate::audit::Advice;
use crate::known::By;
use crate::report::Page;
use crate::report::check::bands;
use crate::report::number::CARBON;
use crate::units::Interval;

/// A rig that is advised on.
#[derive(Debug, Clone, PartialEq)]
pub struct AdvisedRig<'a> {
    /// Its name.
    pub rig: &'a str,
    /// Photos or words.
    pub by: By,
    /// What to do.
    pub advice: &'a Advice,
    /// Names of the candidates with their carbon, wt%.
    pub candidates: &'a [(String, Interval<f64>)],
    /// Names of the days.
    pub days: &'a [String],
    /// Carbon of the coupons that are tested, wt%.
    pub tested: &'a Interval<f64>,
}

/// How many picks are shown.
const SHOWN: usize = 3;
/// A steel that brings less than this part of the doubt brings little (judgement).
const LITTLE: f64 = 0.01;

/// Lays out what to photograph next, rig by rig.
pub fn advice_page(rigs: &[AdvisedRig<'_>]) -> Page {
    let mut page = Page::default();
    for (i, rig) in rigs.iter().enumerate() {
        if i > 0 {
            page.blank();
        }
        write(&mut page, rig);
    }
    page
}

fn write(page: &mut Page, told: &AdvisedRig<'_>) {
    let AdvisedRig { rig, by, advice, candidates, days, tested } = told;
    let by_photos = *by == By::Photos;
    let seen = if by_photos { "by photos" } else { "by what is told" };
    page.paragraph(
        "",
        "  ",
        &format!(
            "Rig {rig}, {seen}, for coupons of {}: their carbon is off by about {} now (standard deviation).",
            CARBON.range(tested),
            CARBON.one(advice.now)
        ),
    );
    page.heading("Next, on a session of its own beside untreated stock");
    for pick in advice.picks.iter().take(SHOWN) {
        let Some((name, carbon)) = candidates.get(pick.steel) else { continue };
        let photos = match (by_photos, pick.photos) {
            (false, _) => String::new(),
            (true, 1) => ", 1 photo".into(),
            (true, n) => format!(", {n} photos"),
        };
        let then = format!("{:.3} %C off then, {:.3} now", pick.then, advice.now);
        page.paragraph("  ", "    ", &format!("{name} ({}){photos}: {then}", CARBON.range(carbon)));
    }
    let mut notes = Vec::new();
    if advice.picks.first().is_none_or(|pick| advice.now - pick.then < LITTLE * advice.now) {
        notes.push("No one steel brings much: what is left is scatter from piece to piece; more touches of the coupon \
                    bring more than more known steels.".to_string());
    }
    if !advice.uncovered.is_empty() {
        let list: Vec<String> = advice.uncovered.iter().map(|b| bands(*b, *b)).collect();
        notes.push(format!("No known steel lies in {}: there the published trend is all.", list.join(", ")));
    }
    let without: Vec<&str> =
        advice.days_without_stock.iter().filter_map(|d| days.get(*d)).map(String::as_str).collect();
    if by_photos && !without.is_empty() {
        notes.push(format!(
            "Without untreated stock, so that nothing ties them to other sessions: {}. Photograph stock on every session.",
            without.join(", ")
        ));
    }
    notes.push(
        "Worked out from the scatter of this rig and the carbon of each steel, as if scatter were normal; it cannot know \
         how a certain bar strays."
            .into(),
    );
    page.list("To know", &notes);
}
