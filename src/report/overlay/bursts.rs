//! Bursts, ringed, with their rays counted.

use super::UNSURE;
use super::drawing::{Drawing, Point};
use super::labels::{Area, Labels};
use super::palette::YELLOW;
use super::pen::{Pen, between, distance};
use super::view::View;
use crate::spark::Burst;

/// A burst as it is drawn, px of the drawing.
pub(super) struct Ring {
    pub(super) at: Point,
    /// Tips of the rays that were traced.
    pub(super) tips: Vec<Point>,
    /// Number of all its rays.
    pub(super) rays: usize,
    /// On a ray of another burst.
    pub(super) again: bool,
    pub(super) unsure: bool,
}

impl Ring {
    /// `None`: its place is no number.
    pub(super) fn of(view: &View, burst: &Burst) -> Option<Self> {
        let finite = |p: &Point| p.iter().all(|v| v.is_finite());
        let at = Some(view.at(burst.at)).filter(finite)?;
        let tips = burst.rays.iter().map(|tip| view.at(*tip)).filter(finite).collect();
        Some(Self { at, tips, rays: rays(burst), again: burst.tier > 1, unsure: burst.certainty < UNSURE })
    }

    /// Middle and radius of the smallest circle around the burst and its rays.
    /// Source: M. Badoiu and K. L. Clarkson, Proc. 14th ACM-SIAM Symposium on Discrete Algorithms (2003) 801-802:
    /// after n steps towards the farthest point it is too large by a share of 1/sqrt(n) at most.
    fn around(&self) -> (Point, f64) {
        let farthest = |from: Point| {
            let tips = self.tips.iter().chain([&self.at]).copied();
            tips.max_by(|a, b| distance(from, *a).total_cmp(&distance(from, *b))).unwrap_or(from)
        };
        let middle = (1..200).fold(self.at, |m, n| between(m, farthest(m), 1.0 / f64::from(n + 1)));
        (middle, distance(middle, farthest(middle)))
    }

    /// Middle and radius of the inner ring: outside every ray and its tick.
    fn inner(&self, view: &View) -> (Point, f64) {
        let (middle, radius) = self.around();
        (middle, (radius + tick(view) + pen(view).reach()).max(view.text * 0.4))
    }

    /// What the ring or both rings fill.
    pub(super) fn area(&self, view: &View) -> Area {
        let (middle, inner) = self.inner(view);
        let outer = if self.again { inner + between_rings(view) } else { inner } + pen(view).reach();
        [middle[0] - outer, middle[1] - outer, middle[0] + outer, middle[1] + outer]
    }

    /// Draws the ring or both, a dot where the rays start, and a tick at each tip.
    pub(super) fn draw(&self, on: &mut Drawing, view: &View) {
        let pen = pen(view).dashed(self.unsure);
        let (middle, inner) = self.inner(view);
        pen.circle(on, middle, inner);
        if self.again {
            pen.circle(on, middle, inner + between_rings(view));
        }
        pen.disc(on, self.at, view.line() * 0.6);
        let ticks: Vec<Vec<Point>> = self
            .tips
            .iter()
            .filter(|tip| distance(self.at, **tip) > 0.0)
            .map(|tip| {
                let far = 1.0 + tick(view) / distance(self.at, *tip);
                vec![*tip, between(self.at, *tip, far)]
            })
            .collect();
        pen.dashed(false).draw(on, &ticks);
    }
}

fn pen(view: &View) -> Pen {
    Pen::new(YELLOW, view.line() * 0.7)
}

/// Length of a tick, px.
fn tick(view: &View) -> f64 {
    view.line() * 2.0
}

fn between_rings(view: &View) -> f64 {
    view.line() * 1.8
}

/// Number of all rays of a burst, to whole ones.
pub(super) fn rays(burst: &Burst) -> usize {
    burst.ray_count.round() as usize
}

/// Writes the count of its rays beside every ring.
pub(super) fn count(on: &mut Drawing, view: &View, labels: &mut Labels, rings: &[Ring]) {
    for ring in rings {
        labels.write(on, view.number, ring.area(view), YELLOW, &ring.rays.to_string());
    }
}
