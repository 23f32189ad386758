use super::super::number::size;
use crate::plan::{Begins, Intent, Tables, Target};
use crate::steel::Bevels;

/// Before the soak, and how to pack.
pub(super) fn list(intent: &Intent, tables: &Tables, begins: Begins) -> Vec<String> {
    if begins == Begins::RestOfSoak {
        return vec!["Leave the pack closed and the fire as it is: nothing is opened for this.".into()];
    }
    let rules = tables.rules;
    let mut list = Vec::new();
    if begins == Begins::Untreated {
        list.push(format!(
            "First drill, tap, file to shape and straighten: the case is too hard for it afterwards, and bending cracks \
             it.{}",
            bevels(intent)
        ));
        list.push(
            "Stop off what must stay soft (tang, holes, threads): clay or fireclay a finger thick, or leave stock on it \
             that is cut off before the quench. Clean off rust, oil and mill scale elsewhere."
                .into(),
        );
    } else {
        list.push(
            "Brush it clean, grind nothing off, and take fresh compound: used charcoal is weak.".into(),
        );
    }
    list.push(format!(
        "Charcoal: dry, crushed to 3 to 6 mm, dust sieved out (here: {}). {} under the work, {} at the sides, {} on \
         top, {} between pieces.",
        intent.pack.compound.name,
        size(rules.bottom.value.millimetres()),
        size(rules.sides.value.millimetres()),
        size(rules.top.value.millimetres()),
        size(rules.between.value.millimetres())
    ));
    list.push(format!(
        "Vent: one hole of {:.0} to {:.0} mm, or a lid luted with fireclay that is not tight; never sealed. No face of \
         the work and no person on its axis.",
        rules.vent.value.low().millimetres(),
        rules.vent.value.high().millimetres()
    ));
    list
}

/// What to do about bevels before the soak.
fn bevels(intent: &Intent) -> &'static str {
    match (intent.target, intent.piece.as_ref().and_then(|p| p.bevels)) {
        (Target::Edge { .. }, Some(Bevels::One)) => {
            " Bevel the ground side nearly to its end first; what is ground afterwards comes off that side only."
        }
        (Target::Edge { .. }, _) => {
            " Bevel first, down to the edge thickness of this plan: every tenth that is ground afterwards comes off \
             the case."
        }
        _ => "",
    }
}
