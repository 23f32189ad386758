use super::PhotoNote;
use crate::spark::{Carrier, StreamPhoto};
use crate::units::Interval;

/// One photo of a stream among others of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// What the photo is called.
    pub name: String,
    /// What it shows.
    pub photo: StreamPhoto,
    /// Diameter of the wheel's rim on it, px, if it was looked for and found; nine times in ten.
    pub rim: Option<Interval<f64>>,
    /// What a pixel of it is in pixels of the first photo of all, by size and focal length.
    pub unit: f64,
}

impl Frame {
    /// A photo by itself: its pixels are its own.
    pub fn new(name: impl Into<String>, photo: StreamPhoto, rim: Option<Interval<f64>>) -> Self {
        Self { name: name.into(), photo, rim, unit: 1.0 }
    }

    /// Whether it is the same picture as another one, whatever its file is called.
    pub fn same_picture(&self, other: &Self) -> bool {
        let (a, b) = (&self.photo, &other.photo);
        a.size == b.size && a.stream == b.stream && a.carriers == b.carriers && a.bursts == b.bursts
    }

    /// Chance that a carrier bursts at least once on what was seen of it.
    pub(super) fn bursts_at_all(&self, carrier: &Carrier) -> f64 {
        let spared = carrier.bursts.iter().filter_map(|i| self.photo.bursts.get(*i));
        1.0 - spared.map(|b| 1.0 - b.certainty).product::<f64>()
    }

    /// Length of carriers seen, in common pixels, and the sum of its squares.
    pub(super) fn path(&self) -> (f64, f64) {
        let of = |power| {
            let term = |c: &Carrier| c.certainty * (c.length * self.unit).powi(power);
            self.photo.carriers.iter().map(term).sum()
        };
        (of(1), of(2))
    }

    /// Carriers, by chance, and the variance of that number.
    pub(super) fn carriers(&self) -> (f64, f64) {
        let chances = || self.photo.carriers.iter().map(|c| c.certainty);
        (chances().sum(), chances().map(|p| p * (1.0 - p)).sum())
    }

    /// Bursts on carriers, by chance, and the variance of that number.
    pub(super) fn primary_bursts(&self) -> (f64, f64) {
        let primary = || self.photo.bursts.iter().filter(|b| b.tier <= 1).map(|b| b.certainty);
        (primary().sum(), primary().map(|p| p * (1.0 - p)).sum())
    }
}

/// Photos of one stream: touches in their order, each with its frames.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Series {
    /// Touches, none empty.
    pub touches: Vec<Vec<Frame>>,
    /// Whether each touch is known to go deeper than the one before.
    pub inward: bool,
}

impl Series {
    /// All frames.
    pub fn frames(&self) -> impl Iterator<Item = &Frame> {
        self.touches.iter().flatten()
    }

    /// Takes out every frame that shows the same picture as one before it; gives their names, each with the name of
    /// the one that stays.
    pub fn drop_copies(&mut self) -> Vec<(String, String)> {
        let mut kept: Vec<Frame> = Vec::new();
        let mut copies = Vec::new();
        for touch in &mut self.touches {
            touch.retain(|frame| {
                if let Some(first) = kept.iter().find(|k| k.same_picture(frame)) {
                    copies.push((frame.name.clone(), first.name.clone()));
                    return false;
                }
                kept.push(frame.clone());
                true
            });
        }
        self.touches.retain(|touch| !touch.is_empty());
        copies
    }

    /// Gives every frame its unit: pixels of the first photo of all, by the longer side and the focal length; says
    /// what had to be brought together.
    pub(super) fn align(coupon: &mut Self, stock: &mut Self) -> Vec<PhotoNote> {
        let seen = |f: &Frame| {
            let [width, height] = f.photo.size;
            (f64::from(width.max(height)), f.photo.exposed.focal_mm.filter(|mm| *mm > 0.0))
        };
        let all: Vec<(f64, Option<f64>)> = coupon.frames().chain(stock.frames()).map(seen).collect();
        let Some(&(side, focal)) = all.first() else { return Vec::new() };
        let told = all.iter().filter(|(_, focal)| focal.is_some()).count();
        let all_told = told == all.len();
        for frame in coupon.touches.iter_mut().chain(&mut stock.touches).flatten() {
            let (its_side, its_focal) = seen(frame);
            let zoom = if all_told { focal.zip(its_focal).map_or(1.0, |(a, b)| a / b) } else { 1.0 };
            frame.unit = if its_side > 0.0 { side / its_side * zoom } else { 1.0 };
        }
        let notes = [
            (all.iter().any(|(s, _)| *s != side), PhotoNote::SizesDiffer),
            (all_told && all.iter().any(|(_, f)| *f != focal), PhotoNote::FocalLengthsDiffer),
            (told > 0 && !all_told, PhotoNote::FocalLengthUnknown),
        ];
        notes.into_iter().filter(|(holds, _)| *holds).map(|(_, note)| note).collect()
    }
}
