use super::super::number::{CARBON, DEPTH, size};
use crate::plan::{EdgeSection, Intent, Station, Tables};
use crate::steel::Bevels;
use crate::units::{Depth, Interval};

/// A drawing is so wide, characters.
const WIDTH: usize = 64;
/// And at most so high, lines; odd, so that the middle has one.
const HEIGHT: usize = 15;
/// A character is about twice as high as wide.
const ASPECT: f64 = 2.0;
/// Carbon and what stands for it, the richest first: the bands that sparks tell apart.
const INKS: [(f64, char); 5] = [(0.85, '@'), (0.65, '#'), (0.45, '+'), (0.25, '-'), (0.0, '.')];

/// The cross-section drawn, and what it means.
pub(super) fn drawing(edge: &EdgeSection, intent: &Intent) -> Vec<String> {
    let height = edge.wedge.height().millimetres();
    let widest = edge.wedge.thickness(height * 1e-3) * 1e3;
    // as wide as it is high in mm, unless that is too flat to be seen: then across is drawn larger
    let true_rows = widest / (height / WIDTH as f64) / ASPECT;
    let rows = (HEIGHT as f64).min(true_rows.max(HEIGHT as f64));
    let rows = ((rows as usize).max(3)) | 1;
    let per_row = widest / rows as f64;
    let larger = per_row.recip() / (WIDTH as f64 / height / ASPECT);
    let off = intent.piece.as_ref().and_then(|p| p.metal_off).map_or(0.0, Depth::millimetres);
    let mut lines = Vec::new();
    for row in 0..rows {
        let from_middle = (row as f64 - (rows / 2) as f64).abs() * per_row;
        let line: String = (0..WIDTH)
            .map(|column| {
                let station = &edge.stations[column * (edge.stations.len() - 1) / (WIDTH - 1)];
                ink(station, from_middle, per_row)
            })
            .collect();
        lines.push(format!("  {}", line.trim_end()));
    }
    lines.push(format!("  |{}", "-".repeat(WIDTH - 1)));
    lines.push(format!("  edge{:>width$}", size(height), width = WIDTH - 4));
    let scale =
        if larger > 1.2 { format!(" Across it is drawn {larger:.1} times as large.") } else { String::new() };
    let ground = if off > 0.0 { " Before grinding." } else { "" };
    lines.push(format!("  @ 0.85 %C or more  # 0.65  + 0.45  - 0.25  . less.{scale}{ground}"));
    lines
}

/// What is seen at this height of a station; the faces are always drawn.
fn ink(station: &Station, from_middle: f64, per_row: f64) -> char {
    let half = station.thickness / 2.0;
    if from_middle > half.max(0.5 * per_row) {
        return ' ';
    }
    let depth = (half - from_middle).max(0.0);
    let wt = carbon(station, depth);
    INKS.iter().find(|(least, _)| wt >= *least).map_or('.', |(_, ink)| *ink)
}

/// Carbon this deep below the face, wt%, by straight lines.
fn carbon(station: &Station, depth: f64) -> f64 {
    let above = station.across.partition_point(|p| p.0 <= depth);
    match (above.checked_sub(1), station.across.get(above)) {
        (Some(i), Some(next)) => {
            let (x, c) = station.across[i];
            c + (next.1 - c) * (depth - x) / (next.0 - x).max(f64::MIN_POSITIVE)
        }
        _ => station.across.last().map_or(0.0, |p| p.1),
    }
}

/// What it means, in sentences.
pub(super) fn words(edge: &EdgeSection, intent: &Intent, tables: &Tables) -> Vec<String> {
    let mut list = Vec::new();
    let wanted = CARBON.one(edge.wanted);
    let at = |mm: f64| format!("where it is {} thick", DEPTH.one(edge.wedge.thickness(mm * 1e-3) * 1e3));
    match &edge.reaches {
        Some(mm) => {
            let [low, best, high] =
                [mm.low(), mm.best(), mm.high()].map(|mm| edge.wedge.half(mm * 1e-3) * 1e3);
            let off = Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best));
            list.push(format!(
                "{wanted} or more in the middle: back to {} behind the edge as it is in the pack, {}. No more than {} may \
                 come off each face before the new edge has less.",
                DEPTH.with_range(mm),
                at(mm.best()),
                DEPTH.with_range(&off)
            ));
        }
        None => list.push(format!(
            "Not even the edge as it is in the pack has {wanted} in the middle: soak longer, start thinner, or grind one \
             face only."
        )),
    }
    match edge.through_to {
        Some(mm) => list.push(format!(
            "It hardens all through (0.40 %C in the middle) back to {} behind the edge, {}: no soft core there, so temper \
             at once, and straighten before the quench, never after.",
            DEPTH.one(mm),
            at(mm)
        )),
        None => list.push("It is hardened all through nowhere: a soft middle runs out to the edge.".into()),
    }
    list.extend(ground(edge, intent));
    let surface = edge.stations.first().and_then(|s| s.across.first()).map_or(0.0, |p| p.1);
    let brittle = tables.need.brittle.value.wt_percent();
    if surface >= brittle {
        list.push(format!(
            "Brittle edge: {} at its skin, {} is where carbide begins to stand between the grains. Grind the skin off, or \
             expect chips.",
            CARBON.one(surface),
            CARBON.one(brittle)
        ));
    }
    list
}

/// What grinding does to the edge, and which face to grind.
fn ground(edge: &EdgeSection, intent: &Intent) -> Option<String> {
    let piece = intent.piece.as_ref()?;
    let off = piece.metal_off.filter(|off| *off > Depth::ZERO)?;
    let wedge = &edge.wedge;
    let back = wedge.set_back(off) * 1e3;
    let height = wedge.height().millimetres();
    if back >= height {
        return Some("More comes off than the wedge has: nothing is left of it.".into());
    }
    let station =
        |mm: f64| &edge.stations[((mm / height) * (edge.stations.len() - 1) as f64).round() as usize];
    let middle = station(back).across.last().map_or(0.0, |p| p.1);
    let moved =
        if back > 0.0 { format!(", which moves it back by {}", DEPTH.one(back)) } else { String::new() };
    let both = format!(
        "Ground {} off both faces{moved}, the edge is the middle of the section: {}.",
        size(off.millimetres()),
        CARBON.one(middle)
    );
    let skin = station(0.0).across.first().map_or(0.0, |p| p.1);
    let one = format!("Ground from one face only it is the skin of the other: {}.", CARBON.one(skin));
    let pick = match piece.bevels {
        _ if middle >= edge.wanted => {
            "Either way will do; the same off both faces keeps it straight in the quench."
        }
        Some(Bevels::One) => "One face it is, as planned.",
        _ => "Grind one face only.",
    };
    Some(format!("{both} {one} {pick}"))
}
