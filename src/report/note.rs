//! Notes and doubts in words.

use super::number::{CARBON, CELSIUS, MINUTES};
use crate::prediction::{Doubt, Note};

pub(super) fn doubt(doubt: Doubt) -> &'static str {
    match doubt {
        Doubt::Temperature => "temperature",
        Doubt::HeatThrough => "how late the steel got hot",
        Doubt::Law => "diffusivity law",
        Doubt::Potential => "carbon potential of the pack",
        Doubt::Transfer => "how fast the surface takes carbon up",
        Doubt::CoolingLaw => "carbon lost while the pack cooled",
        Doubt::CoolingTime => "how long it cooled",
        Doubt::TimeAtHeat => "how long it was at heat",
        Doubt::Stock => "carbon of the stock",
        Doubt::VisibleEdge => "carbon at the edge that an eye sees",
        Doubt::PiecePlace => "piece hotter or colder than the coupon",
    }
}

/// What would take a doubt away, or most of it.
pub(super) fn what_tells(doubt: Doubt) -> &'static str {
    match doubt {
        Doubt::Temperature => "a pair of metal witnesses beside the steel brackets it",
        Doubt::HeatThrough => "a thermometer or a metal witness beside the steel tells",
        Doubt::Law => "only coupons of known soaks tell, many of them",
        Doubt::Potential | Doubt::Transfer => "weigh the coupon before and after, cooled in the closed pack",
        Doubt::CoolingLaw | Doubt::CoolingTime => "log the cooling as well, and weigh the coupon",
        Doubt::TimeAtHeat => "write down when it was lit, at heat and out of it",
        Doubt::Stock => "a maker's certificate, or sparks of it beside known steels",
        Doubt::VisibleEdge => "coupons measured another way teach it (`known add --face`)",
        Doubt::PiecePlace => "put the coupon beside the piece",
    }
}

pub(super) fn note(note: &Note) -> String {
    match note {
        Note::NeverAboveA1 { top_celsius, a1_celsius } => format!(
            "The steel reached {} at most. Below {} there is no austenite and no case.",
            CELSIUS.one(*top_celsius),
            CELSIUS.one(*a1_celsius)
        ),
        Note::CoolingGuessed { minutes } => format!(
            "Cooling is taken to start {} into the log, where the last fall begins. A `stage` column \
             in the log says it for sure.",
            MINUTES.one(*minutes)
        ),
        Note::CoolingAssumed => {
            "Nobody said how fast it cooled: the usual time for a closed pack (or bare steel in air) is taken."
                .into()
        }
        Note::StartsHot { celsius } => format!(
            "The furnace was at {} when the log starts: the container is taken as put in cold then. If \
             the log was only switched on late, the case is deeper; the range allows for it.",
            CELSIUS.one(*celsius)
        ),
        Note::ContainerUnknown => {
            "The container's inside size is not known, so how late the steel got hot is a wide guess. \
             Measure it, or put the thermometer beside the steel."
                .into()
        }
        Note::Lag { minutes } => format!(
            "Heat-through: the steel lost {} of soak against the thermometer, by the sizes and the \
             compound given.",
            MINUTES.one(*minutes)
        ),
        Note::OutsideLaw { top_celsius, low_celsius, high_celsius } => format!(
            "The steel reached {}; the diffusivity law is made for {} to {}.",
            CELSIUS.one(*top_celsius),
            CELSIUS.one(*low_celsius),
            CELSIUS.one(*high_celsius)
        ),
        Note::WitnessAgainstLog { at_least_celsius, below_celsius, log_celsius } => {
            let bound = |word: &str, c: &Option<f64>| c.map(|c| format!("{word} {}", CELSIUS.one(c)));
            let said: Vec<String> =
                [bound("at least", at_least_celsius), bound("below", below_celsius)].into_iter().flatten().collect();
            format!(
                "The metal witnesses say {}, the thermometer {}: they exclude each other. The range \
                 reaches from one to the other. Check the alloy of the witness and the thermometer in boiling water.",
                said.join(" and "),
                CELSIUS.one(*log_celsius)
            )
        }
        Note::CappedAtEutectic { limit_celsius } => format!(
            "Part of the range would be hotter than {}, where a case melts: it is held there.",
            CELSIUS.one(*limit_celsius)
        ),
        Note::AboveAcm { potential, acm } => format!(
            "The potential of {} is above Acm ({}): carbide forms at the surface, which is not modelled.",
            CARBON.one(*potential),
            CARBON.one(*acm)
        ),
        Note::StockOverCriterion => {
            "The stock itself has as much carbon as the case depths end at: its fracture shows no border, \
             and such a depth says nothing."
                .into()
        }
        Note::SizesContradict => {
            "Container, steel and distance from the wall do not fit into each other: check the sizes. The \
             steel is taken to fill at most six tenths of the width."
                .into()
        }
        Note::CasedThrough => {
            "The coupon is cased through: its fracture will show no core, and \"no border\" then means \
             case, not none. Use a thicker coupon."
                .into()
        }
        Note::AirWorstCase => {
            "Heat in open air is taken at its worst: a surface bare of carbon. The metal lost as scale \
             is not subtracted."
                .into()
        }
        Note::SealedContainer => {
            "DANGER: the container has no vent. Gas and steam can burst it. Never close it tight.".into()
        }
        Note::PartlyOut => {
            "Part of the container stood outside the heat: the steel may have been much colder than the \
             thermometer. The range allows for 50 °C."
                .into()
        }
    }
}

/// Cautions for every soak. Sources: `models/README.md`; common practice.
pub(super) const CAUTIONS: [&str; 4] = [
    "Carbon monoxide is made on purpose, and a cooling box goes on making it for hours: outdoors or \
     under a hood, alarm on. A lid taken off hot can flare.",
    "Never seal the container; keep faces off the vent's axis; dry charge. Plain black steel only: \
     zinc boils at 907 °C. No barium compounds, no cyanide.",
    "Local codes and licensed practice come first.",
    "This is an aid to judgement, not a certificate.",
];
