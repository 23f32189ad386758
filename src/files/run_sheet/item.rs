/// A field that a drafted sheet can hold; the variants stand in the order of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    /// `stock.grade`
    Grade,
    /// `stock.thickness`, the coupon's
    Thickness,
    /// `piece.what`
    What,
    /// `piece.edge_thickness`
    EdgeThickness,
    /// `piece.metal_off`
    MetalOff,
    /// `pack.container`
    Container,
    /// `pack.inside`
    Inside,
    /// `pack.compound`
    Compound,
    /// `soak.time_at_heat`
    TimeAtHeat,
    /// `soak.temperature`
    Temperature,
    /// `soak.colour`
    Colour,
    /// `soak.thermometer`
    Thermometer,
    /// `soak.cooled`
    Cooled,
    /// `soak.witness.metal`
    Metal,
    /// `soak.witness.melted`; said together with the metal
    Melted,
    /// `soak.witness.sat`
    Sat,
    /// `spark.state`
    SparkState,
    /// `spark.compared`
    Compared,
    /// `spark.over_time`
    OverTime,
    /// `spark.untreated.state`; said together with a soft coupon
    StockState,
    /// `fracture.quenched_in`
    QuenchedIn,
    /// `fracture.rim`
    Rim,
    /// `fracture.depth`
    RimDepth,
    /// `witness.skin`
    Skin,
    /// `witness.file.result`
    FileResult,
}

/// A section of a drafted sheet.
pub(super) struct Part {
    pub(super) header: &'static str,
    /// Whether its header is a comment as long as none of its fields is said: an empty table of
    /// this kind would be a witness or a file without a word about it.
    pub(super) only_if_said: bool,
    pub(super) lines: &'static [Line],
}

/// A field with what a person should know of it.
pub(super) struct Line {
    pub(super) item: Item,
    pub(super) key: &'static str,
    pub(super) comment: &'static str,
}

const fn line(item: Item, key: &'static str, comment: &'static str) -> Line {
    Line { item, key, comment }
}

const fn part(header: &'static str, lines: &'static [Line]) -> Part {
    Part { header, only_if_said: false, lines }
}

/// The drafted sheet from top to bottom.
pub(super) const PARTS: [Part; 10] = [
    part(
        "[stock]",
        &[
            line(Item::Grade, "grade", "The steel of coupon and piece, as a grade or a found steel."),
            line(
                Item::Thickness,
                "thickness",
                "The coupon's, with its unit. A round coupon has a diameter instead.",
            ),
        ],
    ),
    part(
        "[piece]",
        &[
            line(Item::What, "what", "What was packed beside the coupon."),
            line(Item::EdgeThickness, "edge_thickness", "As it was during the soak, before grinding."),
            line(Item::MetalOff, "metal_off", "What grinding takes off each side after the soak."),
        ],
    ),
    part(
        "[pack]",
        &[
            line(Item::Container, "container", "\"pipe\" or \"box\"."),
            line(Item::Inside, "inside", "Its inside diameter or least inside width."),
            line(Item::Compound, "compound", "The charcoal."),
        ],
    ),
    part(
        "[soak]",
        &[
            line(Item::TimeAtHeat, "time_at_heat", "From when the pack was at heat until it left the heat."),
            line(Item::Temperature, "temperature", "What the thermometer read; then no colour."),
            line(Item::Colour, "colour", "The heat colour; then no temperature."),
            line(Item::Thermometer, "thermometer", "Where the thermometer sat."),
            line(Item::Cooled, "cooled", "How it left the heat."),
        ],
    ),
    Part {
        header: "[[soak.witness]]",
        only_if_said: true,
        lines: &[
            line(Item::Metal, "metal", "A piece of metal or salt that sat in the heat."),
            line(Item::Melted, "melted", "\"yes\" or \"no\"."),
            line(Item::Sat, "sat", "\"beside the steel\" or \"at the wall\"."),
        ],
    },
    part(
        "[spark]",
        &[
            line(Item::SparkState, "state", "The coupon when sparked: \"soft\" or \"hardened\"."),
            line(Item::Compared, "compared", "Bursts of the coupon beside those of untreated stock."),
            line(Item::OverTime, "over_time", "How they changed while grinding inward."),
        ],
    ),
    Part {
        header: "[spark.untreated]",
        only_if_said: true,
        lines: &[line(
            Item::StockState,
            "state",
            "The stock beside it; as bought it is soft, and hard only if it was quenched.",
        )],
    },
    part(
        "[fracture]",
        &[
            line(Item::QuenchedIn, "quenched_in", "What the coupon was quenched in."),
            line(Item::Rim, "rim", "The fine, grey rim on the broken face."),
            line(Item::RimDepth, "depth", "Its depth a side, as a length or a share of the thickness."),
        ],
    ),
    part("[witness]", &[line(Item::Skin, "skin", "The coupon's skin when the pack was opened.")]),
    Part {
        header: "[witness.file]",
        only_if_said: true,
        lines: &[line(Item::FileResult, "result", "A file on the quenched coupon: \"bites\" or \"skates\".")],
    },
];
