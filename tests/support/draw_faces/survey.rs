//! The truth of a coupon's face, taken from what it is drawn from.

use super::camera::Camera;
use super::coupon::{Coupon, Lip};
use super::finish::Finish;
use super::kind::Class;
use super::recipe::grain_number;
use super::section::{Mm, Section, moved};
use super::truth::{Face, Sample, Side};

/// Between samples along a side, mm.
const SAMPLES_MM: f64 = 0.1;
/// Between points of the outline and of the border, mm.
const OUTLINE_MM: f64 = 0.05;
/// Between steps inward, mm; the border is then found between two of them.
const STEP_MM: f64 = 0.01;
/// Corners reach this many depths along a side.
const CORNER_DEPTHS: f64 = 1.5;

fn rounded(p: [f64; 2], to: f64) -> [f64; 2] {
    p.map(|v| (v * to).round() / to)
}

/// To ten figures: what comes back from JSON is the same.
pub(super) fn ten_figures(v: f64) -> f64 {
    if v == 0.0 { 0.0 } else { format!("{v:.9e}").parse().expect("a number was written") }
}

fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let at = last as f64 * share;
    let (low, high) = (sorted[at.floor() as usize], sorted[at.ceil() as usize]);
    Some(((low + at.fract() * (high - low)) * 1e4).round() / 1e4)
}

impl Coupon {
    /// Everything that a reader of the picture could be asked for.
    pub(crate) fn survey(&self, class: Class, camera: &Camera) -> Face {
        let section = &self.outline.section;
        let outline = self.outline.trace(OUTLINE_MM);
        let border = self.border();
        let sides: Vec<Side> = (0..section.sides()).map(|i| self.side(i)).collect();
        let corners: Vec<Mm> = match section {
            Section::Round { .. } => Vec::new(),
            Section::Polygon { sides, .. } => (0..sides.len()).map(|i| section.foot(i, 0.0).0).collect(),
        };
        let px = |line: &[Mm]| line.iter().map(|p| rounded(camera.px(*p), 100.0)).collect::<Vec<_>>();
        let mm = |line: &[Mm]| line.iter().map(|p| rounded(*p, 1e4)).collect::<Vec<_>>();
        let half = section.half();
        let mut all: Vec<f64> = sides
            .iter()
            .filter(|s| !s.nicked)
            .flat_map(|s| &s.samples)
            .filter(|s| s.fair())
            .filter_map(|s| s.depth.filter(|d| *d > 0.0))
            .collect();
        all.sort_by(f64::total_cmp);
        Face {
            class,
            shape: self.shape().to_owned(),
            thickness_mm: ten_figures(section.thickness()),
            size_mm: half.map(|h| ten_figures(2.0 * h)),
            px_per_mm: ten_figures(camera.scale([0.0; 2])),
            homography: camera.homography().map(|row| row.map(ten_figures)),
            corners_px: px(&corners),
            corners_mm: mm(&corners),
            outline_px: px(&outline),
            outline_mm: mm(&outline),
            border_px: border.iter().map(|l| px(l)).collect(),
            border_mm: border.iter().map(|l| mm(l)).collect(),
            bands_mm: self.bands().iter().map(|l| mm(l)).collect(),
            sides,
            depth_mm: quantile(&all, 0.5),
            transition_mm: self.rim.as_ref().map(|r| ten_figures(r.width)),
            case_grain: self.rim.as_ref().and_then(|_| grain_of(&self.case)),
            core_grain: grain_of(&self.core),
            nick: self.outline.nick.map(|n| (n.side, ten_figures(n.depth))),
        }
    }

    fn shape(&self) -> &'static str {
        let section = &self.outline.section;
        let half = section.half();
        match section {
            Section::Round { .. } => "round",
            Section::Polygon { .. } if section.side_length(2) < 0.9 * section.side_length(0) => "wedge",
            Section::Polygon { .. } if (half[0] / half[1] - 1.0).abs() < 0.06 => "square",
            Section::Polygon { .. } => "rectangle",
        }
    }

    /// In the case, and not where a lip or a nick has taken its place.
    fn cased(&self, p: Mm) -> bool {
        self.rim.as_ref().is_some_and(|r| r.is_case(&self.outline.section, p))
    }

    fn side(&self, index: usize) -> Side {
        let section = &self.outline.section;
        let long = section.side_length(index);
        let n = (long / SAMPLES_MM).floor().max(1.0) as usize;
        let nicked = self.outline.nick.is_some_and(|k| k.side == index);
        let mut samples: Vec<Sample> =
            (0..n).map(|k| self.sample(index, (k as f64 + 0.5) * long / n as f64)).collect();
        let mut depths: Vec<f64> = samples.iter().filter_map(|s| s.depth.filter(|d| *d > 0.0)).collect();
        depths.sort_by(f64::total_cmp);
        let typical = quantile(&depths, 0.5).unwrap_or(0.0).max(0.02 * section.thickness());
        for s in &mut samples {
            let end = s.along.min(long - s.along);
            s.corner = !section.is_round() && end < CORNER_DEPTHS * typical;
        }
        let fair: Vec<&Sample> = samples.iter().filter(|s| s.fair()).collect();
        let mut depths: Vec<f64> = fair.iter().filter_map(|s| s.depth.filter(|d| *d > 0.0)).collect();
        depths.sort_by(f64::total_cmp);
        let shows = fair.iter().filter(|s| s.depth != Some(0.0)).count();
        let name = if section.is_round() { "round" } else { ["top", "right", "bottom", "left"][index] };
        Side {
            index,
            name: name.to_owned(),
            length_mm: ten_figures(long),
            nicked,
            chipped: samples.iter().any(|s| s.spoiled) && !nicked,
            median_mm: quantile(&depths, 0.5),
            p10_mm: quantile(&depths, 0.1),
            p90_mm: quantile(&depths, 0.9),
            cased: if fair.is_empty() { 0.0 } else { ten_figures(shows as f64 / fair.len() as f64) },
            samples,
        }
    }

    fn sample(&self, side: usize, along: f64) -> Sample {
        let section = &self.outline.section;
        let (foot, inward) = section.foot(side, along);
        let at = self.outline.first_inside(foot, inward);
        let lost = (at[0] - foot[0]).hypot(at[1] - foot[1]);
        let near = |p: Mm| self.outline.chips.iter().any(|c| c.gone(p, self.outline.noise) > -0.03);
        let nicked = self.outline.below_nick(at).is_some_and(|b| b < 0.0);
        let lip = self.lip.as_ref().is_some_and(|l| l.sides.iter().any(|(s, _)| *s == side));
        let chip = lost > 0.03 + 2.0 * self.outline.torn.0 || near(at);
        let most = 2.0 * section.thickness();
        let mut t = 0.0;
        let depth = loop {
            let p = moved(at, t + 1e-6, inward);
            if !self.cased(p) {
                break Some(t);
            }
            if t > most || t > STEP_MM && section.distance(p) > 0.0 {
                break None;
            }
            t += STEP_MM;
        };
        let depth = depth.map(|t| if t == 0.0 { 0.0 } else { self.between(at, inward, t - STEP_MM, t) });
        let depth = depth.map(|d| (d * 1e4).round() / 1e4);
        Sample {
            along: ten_figures(along),
            at: rounded(at, 1e4),
            depth,
            corner: false,
            spoiled: chip || nicked || lip,
        }
    }

    fn between(&self, at: Mm, inward: Mm, mut low: f64, mut high: f64) -> f64 {
        for _ in 0..10 {
            let middle = 0.5 * (low + high);
            if self.cased(moved(at, middle, inward)) { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// Lips and the wall of a nick, from the section's outline inward.
    fn bands(&self) -> Vec<Vec<Mm>> {
        let (section, noise) = (&self.outline.section, self.noise);
        let band = |side: usize, reach: &dyn Fn(f64) -> f64| -> Vec<Mm> {
            let long = section.side_length(side);
            let n = (long / OUTLINE_MM).ceil();
            let at = |k: usize| section.foot(side, k as f64 * long / n);
            let inner = |k: usize| moved(at(k).0, reach(k as f64 * long / n), at(k).1);
            let n = n as usize;
            (0..=n).map(|k| at(k).0).chain((0..=n).rev().map(inner)).collect()
        };
        let lip = |l: &Lip| -> Vec<Vec<Mm>> {
            l.sides.iter().map(|(side, _)| band(*side, &|along| l.reach(*side, along, noise))).collect()
        };
        let nick = self.outline.nick.map(|n| band(n.side, &|along| n.reach(along, self.outline.noise)));
        self.lip.as_ref().map(lip).unwrap_or_default().into_iter().chain(nick).collect()
    }

    /// Lines of half case and half core, by marching squares over the section.
    fn border(&self) -> Vec<Vec<Mm>> {
        let Some(rim) = &self.rim else { return Vec::new() };
        let section = &self.outline.section;
        let half = section.half();
        let step = OUTLINE_MM.max(half[0].max(half[1]) / 120.0);
        let n = half.map(|h| (2.0 * h / step).ceil() as usize + 1);
        let place = |i: usize, j: usize| [-half[0] + i as f64 * step, -half[1] + j as f64 * step];
        let mut values = vec![0.0; n[0] * n[1]];
        for (k, v) in values.iter_mut().enumerate() {
            *v = rim.excess(section, place(k % n[0], k / n[0]));
        }
        let mut pieces = Vec::new();
        for j in 0..n[1] - 1 {
            for i in 0..n[0] - 1 {
                let ring = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)];
                let mut cuts = Vec::new();
                for k in 0..4 {
                    let (a, b) = (ring[k], ring[(k + 1) % 4]);
                    let (va, vb) = (values[a.1 * n[0] + a.0], values[b.1 * n[0] + b.0]);
                    if (va > 0.0) != (vb > 0.0) {
                        let (pa, pb) = (place(a.0, a.1), place(b.0, b.1));
                        let t = va / (va - vb);
                        cuts.push([pa[0] + t * (pb[0] - pa[0]), pa[1] + t * (pb[1] - pa[1])]);
                    }
                }
                pieces.extend(cuts.chunks_exact(2).map(|c| [c[0], c[1]]));
            }
        }
        pieces.retain(|p| self.outline.distance(p[0]) < 0.0 && self.outline.distance(p[1]) < 0.0);
        join(pieces)
    }
}

/// Pieces that share an end, as lines.
fn join(mut pieces: Vec<[Mm; 2]>) -> Vec<Vec<Mm>> {
    let same = |a: Mm, b: Mm| (a[0] - b[0]).abs() + (a[1] - b[1]).abs() < 1e-9;
    let mut lines = Vec::new();
    while let Some([a, b]) = pieces.pop() {
        let mut line = vec![a, b];
        for _ in 0..2 {
            while let Some(k) =
                pieces.iter().position(|p| line.last().is_some_and(|e| same(p[0], *e) || same(p[1], *e)))
            {
                let [c, d] = pieces.swap_remove(k);
                let next = if line.last().is_some_and(|e| same(c, *e)) { d } else { c };
                line.push(next);
            }
            line.reverse();
        }
        lines.push(line);
    }
    lines
}

fn grain_of(finish: &Finish) -> Option<f64> {
    let mm = match finish {
        Finish::Grains(g) => g.grain,
        Finish::Cleavage(c) => c.grain,
        _ => return None,
    };
    Some((10.0 * grain_number(f64::from(mm))).round() / 10.0)
}
