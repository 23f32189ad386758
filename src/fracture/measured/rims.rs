//! What a whole face shows of how far round its rim runs.

use super::layout::Layout;
use super::quality::Quality;
use super::regions::Regions;
use super::sides::SideCase;
use super::strip::{Cell, Strip};
use super::striped::one_way;
use crate::stats::quantile;

/// Numbers of one side.
const SIDE: [&str; 13] = [
    "cased",
    "deep",
    "case_says",
    "core_says",
    "contrast",
    "one_way",
    "wide",
    "readable",
    "varies",
    "rim_said",
    "middle_said",
    "neither",
    "lit",
];
/// The same of several sides.
const OF: [&str; 4] = ["least", "middle", "most", "mean"];
/// Numbers of the whole face.
const FACE: [&str; 6] = ["sides", "coarse", "coarser", "swing", "striped", "lit_toward"];
/// Depths of the rim, of what lies under most lips, and of the middle, shares of the thickness (judgements).
const RIM: [f64; 2] = [0.005, 0.045];
const BELOW: [f64; 2] = [0.15, 0.3];
const MIDDLE: [f64; 2] = [0.34, 0.5];
/// Rows about the border that are asked at least (judgement).
const ROWS: usize = 12;

pub(super) fn columns() -> Vec<String> {
    let mut names: Vec<String> = FACE.iter().map(|n| (*n).to_owned()).collect();
    names.extend(SIDE.iter().flat_map(|n| OF.iter().map(move |of| format!("{n}_{of}"))));
    names
}

/// Names of what is told of a side: its own numbers, then those of its face.
pub(super) fn side_columns() -> Vec<String> {
    SIDE.iter().map(|n| format!("own_{n}")).chain(columns()).collect()
}

/// What is told of a face.
pub(super) struct Rims {
    /// In the order of [`columns`].
    pub(super) face: Vec<f64>,
    /// In the order of [`side_columns`], side by side.
    pub(super) sides: Vec<Vec<f64>>,
}

impl Rims {
    pub(super) fn of(
        strips: &[Strip],
        regions: &Regions,
        cases: &[SideCase],
        quality: &Quality,
        layout: &Layout,
    ) -> Self {
        let across = layout.thickness();
        let sides: Vec<[f64; SIDE.len()]> =
            strips.iter().zip(cases).map(|(strip, case)| of_side(strip, regions, case, across)).collect();
        let ratio = |a: usize, b: usize| {
            libm::log(quality.swings[a].max(1e-6)) - libm::log(quality.swings[b].max(1e-6))
        };
        let toward = lit_toward(strips, layout);
        let mut face =
            vec![sides.len() as f64, ratio(2, 0), ratio(3, 1), quality.contrast, quality.striped, toward];
        for k in 0..SIDE.len() {
            let of: Vec<f64> = sides.iter().map(|s| s[k]).collect();
            let mean = of.iter().sum::<f64>() / of.len().max(1) as f64;
            face.extend([0.0, 0.5, 1.0].map(|share| quantile(of.clone(), share)));
            face.push(mean);
        }
        let sides =
            sides.into_iter().map(|own| own.into_iter().chain(face.iter().copied()).collect()).collect();
        Self { face, sides }
    }
}

/// Mean chance of a lip or a nick that the network gives to the rim of a side.
pub(super) fn neither(strip: &Strip, across: f64) -> f64 {
    said(strip, RIM, across, |cell| cell.neither)
}

/// Mean chance, of odds that the network gives to cells of a side between two depths.
fn said(strip: &Strip, depths: [f64; 2], across: f64, odds: impl Fn(&Cell) -> f32) -> f64 {
    let chance = |cell: &Cell| 1.0 / (1.0 + libm::exp(-f64::from(odds(cell))));
    let columns = (0..strip.columns).flat_map(|column| between(strip, column, depths, across));
    mean(columns.map(chance)).unwrap_or(0.0)
}

/// Cells of a column between two depths.
fn between(strip: &Strip, column: usize, [low, high]: [f64; 2], across: f64) -> impl Iterator<Item = &Cell> {
    let deep = move |row: &usize| (*row as f64 + 0.5) * strip.cell[1] / across;
    let rows = (0..strip.rows).filter(move |row| deep(row) > low && deep(row) < high);
    rows.filter_map(move |row| strip.at(column, row))
}

fn mean(of: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = of.fold((0.0, 0.0), |(sum, count), v| (sum + v, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

/// How much brighter the rim of a column is than what lies below it, natural logarithm.
fn lit(strip: &Strip, column: usize, across: f64) -> Option<f64> {
    let light = |depths| mean(between(strip, column, depths, across).map(|cell| f64::from(cell.features[0])));
    Some(light(RIM)? - light(BELOW)?)
}

/// How much brighter the rim is where it looks toward one direction than where it looks away from it, natural logarithm:
/// a lip slopes, so that it is bright toward the lamp and dark away from it; a case is flat and looks alike all round.
fn lit_toward(strips: &[Strip], layout: &Layout) -> f64 {
    let mut sums = [0.0; 2];
    for strip in strips {
        let mut side = [0.0; 2];
        let mut count = 0.0_f64;
        for column in 0..strip.columns {
            let along = (column as f64 + 0.5) * strip.cell[0];
            let [outer, inner] = [0.0, 1.0].map(|deep| layout.place(strip.side, along, deep));
            if let Some(lit) = lit(strip, column, layout.thickness()) {
                count += 1.0;
                for k in 0..2 {
                    side[k] += lit * (outer[k] - inner[k]);
                }
            }
        }
        for k in 0..2 {
            sums[k] += side[k] / count.max(1.0) / strips.len() as f64;
        }
    }
    4.0 * libm::hypot(sums[0], sums[1])
}

/// Share with a case, its depth, how plainly cells on both sides of the border speak for their own, how far the rim
/// lies from the middle, how its slopes lie, how wide the range of the depth is, what can be read of it, how it
/// varies, what the network says of rim and middle, how likely it takes the rim for a lip or a nick, and
/// how much brighter than what lies below the rim is.
fn of_side(strip: &Strip, regions: &Regions, case: &SideCase, across: f64) -> [f64; SIDE.len()] {
    let (border, says) = (&regions.borders[case.side], &regions.says[case.side]);
    let mut sums = [[0.0_f64; 2]; 2];
    for column in 0..strip.columns {
        let deep = border.quantile(column, 0.5);
        let rows = ((2.0 * deep).ceil() as usize).max(ROWS).min(strip.rows);
        for (row, says) in says[column * strip.rows..][..rows].iter().enumerate() {
            if !says.is_nan() {
                let k = usize::from(row as f64 + 0.5 > deep);
                sums[k][0] += 1.0;
                sums[k][1] += f64::from(*says);
            }
        }
    }
    let [case_says, core_says] = sums.map(|[n, sum]| sum / n.max(1.0));
    [
        case.cased,
        case.median[1] / across,
        case_says,
        -core_says,
        regions.contrasts[case.side],
        one_way(strip, border),
        (case.median[2] - case.median[0]) / across,
        case.readable,
        (case.spread[1] - case.spread[0]) / across,
        said(strip, RIM, across, |cell| cell.case),
        said(strip, MIDDLE, across, |cell| cell.case),
        neither(strip, across),
        mean((0..strip.columns).filter_map(|column| lit(strip, column, across))).unwrap_or(0.0),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fracture::measured::texture::FEATURES;

    /// A square face whose rim is so much brighter than the rest on each side.
    fn face(rim: [f32; 4]) -> (Vec<Strip>, Layout) {
        let corners = [[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]];
        let layout = Layout::four(&corners, 100.0, 100.0, 0.12).unwrap();
        let strip = |side: usize| {
            let (columns, rows) = (5, 50);
            let cell = |i: usize| {
                let mut features = [0.0; FEATURES];
                features[0] = if i % rows < 8 { rim[side] - 1.0 } else { -1.0 };
                Some(Cell { at: [0.0; 2], features, slopes: [0.0; 3], case: 0.0, neither: 0.0 })
            };
            let cells = (0..columns * rows).map(cell).collect();
            Strip { side, columns, rows, cell: [20.0, 1.0], outline: vec![0.0; columns], cells }
        };
        ((0..4).map(strip).collect(), layout)
    }

    #[test]
    fn a_lip_is_brighter_toward_the_lamp_and_a_case_looks_alike_all_round() {
        let toward = |rim| {
            let (strips, layout) = face(rim);
            lit_toward(&strips, &layout)
        };
        assert!((toward([0.8, 0.0, -0.4, 0.0]) - 1.2).abs() < 1e-6, "top less bottom");
        assert!((toward([0.3, 0.3, -0.3, -0.3]) - 0.6 * 2.0_f64.sqrt()).abs() < 1e-6, "from a corner");
        assert!(toward([0.7; 4]) < 1e-6);
    }
}
