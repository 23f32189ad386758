use crate::sources::Sourced;
use crate::spark::{Amount, Compared, FineSparking, Forking, Onset, PartOf, SurfaceSpeeds};
use crate::units::{Depth, Interval};

/// What a word stands for: a number's lowest, usual and highest value.
pub type Range = Interval<f64>;

/// What is told about sparks in numbers, and how it is judged: the tables of `models/sparks.toml`. Each list runs
/// in the order of its words.
#[derive(Debug, Clone, PartialEq)]
pub struct SparkWords {
    /// Bursts or carriers at a moment, relative to a stream of 0.2 %C: none, few, some, many, very many.
    pub amount: Sourced<[Range; 5]>,
    /// Share of carriers that burst: none, few, half, most, all.
    pub part_of: Sourced<[Range; 5]>,
    /// Rays of a burst: none, few, some, many, very many.
    pub rays: Sourced<[Range; 5]>,
    /// Tiers of bursts: none, single, forked, bushy.
    pub forking: Sourced<[Range; 4]>,
    /// Where bursts begin, share of the stream: at the wheel, first third, middle, last third, nowhere.
    pub onset: Sourced<[Range; 5]>,
    /// Fine sparking, 0 to 2: none, some, much.
    pub fine: Sourced<[Range; 3]>,
    /// Bursts of the coupon over bursts of the stock: less, same, some more, many more, bushy.
    pub compared: Sourced<[Range; 5]>,
    /// How far a number given without a range is off, as a factor either way.
    pub counting: Sourced<f64>,
    /// How far the carbon of a steel that looks alike is off, wt% either way.
    pub likeness: Sourced<f64>,
    /// Surface speeds that a wheel is judged by.
    pub speeds: SurfaceSpeeds,
    /// Sparks from within this depth are the surface's.
    pub surface_depth: Sourced<Depth>,
    /// What stock richer than mild steel throws; carbon rises.
    pub richer_stock: Sourced<Vec<RicherStock>>,
}

/// What stock of this carbon and more throws against steel of 0.2 %C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RicherStock {
    /// From this carbon on, wt%.
    pub from: f64,
    /// Bursts.
    pub bursts: f64,
    /// Carriers.
    pub carriers: f64,
    /// Stream length.
    pub length: f64,
}

impl SparkWords {
    /// What stock of `wt` throws, where it is richer than mild steel.
    pub(super) fn stock(&self, wt: f64) -> Option<&RicherStock> {
        self.richer_stock.value.iter().rev().find(|step| wt >= step.from)
    }
    pub(super) fn amount(&self, word: Amount) -> Range {
        self.amount.value[word as usize]
    }
    pub(super) fn part_of(&self, word: PartOf) -> Range {
        self.part_of.value[word as usize]
    }
    pub(super) fn rays(&self, word: Amount) -> Range {
        self.rays.value[word as usize]
    }
    pub(super) fn forking(&self, word: Forking) -> Range {
        self.forking.value[word as usize]
    }
    pub(super) fn onset(&self, word: Onset) -> Range {
        self.onset.value[word as usize]
    }
    pub(super) fn fine(&self, word: FineSparking) -> Range {
        self.fine.value[word as usize]
    }
    pub(super) fn compared(&self, word: Compared) -> Range {
        self.compared.value[word as usize]
    }
}
