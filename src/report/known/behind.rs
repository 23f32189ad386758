use crate::estimate::KnownBehind;
use crate::report::number::CARBON;

/// What known steels say of an answer that was read by them, as a sentence more.
pub(in crate::report) fn behind(known: &KnownBehind) -> String {
    let KnownBehind { judged, right, carbon, drift, stated } = known;
    let drift = drift.map_or(String::new(), |times| {
        format!(" The stock beside it says that the rig throws {times:.2} times its usual bursts that day: taken out.")
    });
    let said = match stated {
        Some(stated) => {
            let (low, high) = stated.bands;
            let wide = stated.bands != (low, low) && low != high;
            let bands = crate::report::check::bands(low, high);
            let set = if wide { "one of the bands from" } else { "the band" };
            format!(
                " By the known steels of this rig {set} {bands}, carbon {}: measured, no guarantee. Read with their own \
                 session left out, nine in ten of its {judged} steel-sessions lay within such limits and {right} came \
                 out in their band.",
                CARBON.range(&stated.carbon),
            )
        }
        None => format!(
            " By the known steels of this rig carbon {}. Nothing is stated with confidence: {right} of {judged} known \
             steel-sessions came out in their band, and nine are the least.",
            CARBON.range(carbon),
        ),
    };
    said + &drift
}
