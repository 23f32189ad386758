use super::super::number::{CARBON, CELSIUS, MINUTES, size};
use crate::plan::{Intent, Limit};

/// What limits the soak, in a sentence or two.
pub(super) fn words(limit: &Limit, intent: &Intent) -> String {
    let heat = CELSIUS.one(intent.temperature.celsius());
    match limit {
        Limit::GrainGrows { from, fine_to, refine } => format!(
            "Grain: mild steel of unknown making coarsens from about {}. Cool it in the pack, then refine it: once to \
             {} for the core, kept from air, cooled to black; then harden the case from its own heat. Steel sold as \
             fine-grained holds to about {}.",
            CELSIUS.one(*from),
            CELSIUS.range(refine),
            CELSIUS.one(*fine_to)
        ),
        Limit::RichRim { surface, limit } => format!(
            "Rich rim: about {} at the surface. From {} on, carbide is left between the grains after slow cooling, and \
             a thin edge chips: grind the richest skin off, or soak colder and longer.",
            CARBON.one(*surface),
            CARBON.one(*limit)
        ),
        Limit::CasedThrough { middle } => format!(
            "Section: it is cased through, {} in the middle. No soft core is left: it hardens all through and snaps \
             like glass before the temper.",
            CARBON.one(*middle)
        ),
        Limit::MayCaseThrough => {
            "Section: at the upper end of the range it is cased through, and no soft core is left.".into()
        }
        Limit::NarrowPack { gap, wanted } => format!(
            "Container: only {} of compound at the sides; {} is usual. Little compound burns out sooner and lets air \
             in: fill it up, or take a wider one.",
            size(*gap),
            size(*wanted)
        ),
        Limit::SlowHeat { minutes } => format!(
            "Heat-through: of the hold, {} pass before the steel is at {heat}. A slimmer container or coarser grains \
             (3 to 6 mm, never dust) cut that; a thermometer beside the steel cuts the doubt.",
            MINUTES.one(*minutes)
        ),
        Limit::NeverThere => format!(
            "Heat-through: the steel never quite reaches {heat} within the hold. Take a slimmer container, coarser \
             grains, or a longer and colder soak."
        ),
        Limit::NothingLeft => "More comes off than the edge has: nothing is left of it.".into(),
    }
}
