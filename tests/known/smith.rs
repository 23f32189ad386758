//! What the photos of drawn smiths show, as `measure_drawn_smiths` writes it: one line a piece.

use snapspark::known::{Piece, Shown};
use snapspark::spark::StreamFigures;
use snapspark::units::Interval;
use std::collections::BTreeMap;

/// Carbon of the grades that a smith may have: 1018, 1030, 1045, 1060, 1080, 1095 (ASTM A29).
const GRADES: [(f64, f64); 6] =
    [(0.15, 0.20), (0.28, 0.34), (0.43, 0.50), (0.55, 0.65), (0.75, 0.88), (0.90, 1.03)];
/// Mild steel of which nothing else is known, as in `models/steels.toml`.
const STOCK: (f64, f64) = (0.05, 0.26);

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Is {
    /// Untreated stock of the day.
    Stock,
    /// A steel that the smith knows.
    Known,
    /// A coupon of any carbon.
    Coupon,
}

/// One piece on one day.
pub(super) struct Drawn {
    pub(super) is: Is,
    pub(super) day: usize,
    bar: usize,
    /// wt%
    pub(super) carbon: f64,
    /// `None`: no photo of it can be used.
    pub(super) figures: Option<StreamFigures>,
}

/// A smith's pieces by his number.
pub(super) fn read(text: &str) -> BTreeMap<u64, Vec<Drawn>> {
    let mut smiths: BTreeMap<u64, Vec<Drawn>> = BTreeMap::new();
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |i: usize| cells.get(i).and_then(|c| c.parse::<f64>().ok());
        let whole = |i: usize| number(i).expect(line) as usize;
        let is = match cells[2] {
            "stock" => Is::Stock,
            "known" => Is::Known,
            _ => Is::Coupon,
        };
        let figures = (whole(5) > 0).then(|| figures(&cells));
        let drawn = Drawn { is, day: whole(1), bar: whole(3), carbon: number(4).expect(line), figures };
        smiths.entry(whole(0) as u64).or_default().push(drawn);
    }
    smiths
}

fn figures(cells: &[&str]) -> StreamFigures {
    let number = |i: usize| cells.get(i).and_then(|c| c.parse::<f64>().ok());
    let range = |i: usize| {
        let at = 8 + 3 * i;
        Interval::new(number(at)?, number(at + 1)?, number(at + 2)?)
    };
    StreamFigures {
        photos: number(5).unwrap_or_default() as usize,
        resolved: number(6).unwrap_or_default(),
        exposed_s: number(7),
        share_in_flight: range(0),
        share_bursting: range(1),
        rays: range(2),
        tiers: range(3),
        onset: range(4),
        bursts_per_px: range(5),
        bursts_per_carrier: range(6),
        secondary_share: range(7),
        length: range(8),
        longest: range(9),
        stream_length: range(10),
        flight: range(11),
        carriers: range(12),
        bursts: range(13),
        bursts_per_s: range(14),
        path_per_s: range(15),
        direction: None,
        opening: None,
        light: Vec::new(),
    }
}

impl Drawn {
    /// The bar that it was cut from.
    pub(super) fn bar(&self) -> usize {
        self.bar
    }

    /// Its carbon as a smith knows it, wt%.
    pub(super) fn label(&self) -> Interval<f64> {
        let grade = GRADES.into_iter().find(|(low, high)| (*low..=*high).contains(&self.carbon));
        let (low, high) = if self.is == Is::Stock { STOCK } else { grade.expect("a grade's carbon") };
        Interval::new(low, f64::midpoint(low, high), high).expect("a range")
    }

    /// As a piece whose carbon is that.
    pub(super) fn piece(&self, carbon: Interval<f64>) -> Option<Piece> {
        Some(Piece {
            name: format!("{}-{}", self.day, self.bar),
            carbon,
            steel: self.bar,
            day: self.day,
            reference: self.is == Is::Stock,
            shown: Shown::on_photos(self.figures.as_ref()?),
        })
    }
}
