use crate::sources::Sourced;
use crate::units::{Hrc, Interval};

/// A file of known hardness, by the bands of SAE J864.
#[derive(Debug, Clone, PartialEq)]
pub struct TestFile {
    /// Number of a graded file, or `mill file`.
    pub name: String,
    /// Its own hardness.
    pub hardness: Sourced<Interval<Hrc>>,
    /// Low: steel that it surely cuts; high: steel that it surely skates on. Between, either may
    /// happen.
    pub undecided: Sourced<Interval<Hrc>>,
}

/// What one stroke says of the steel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FileBound {
    /// It bites: softer than somewhere in this band.
    SofterThan(Interval<Hrc>),
    /// It skates: harder than somewhere in this band.
    HarderThan(Interval<Hrc>),
}

impl TestFile {
    /// The file cuts.
    pub fn bites(&self) -> FileBound {
        FileBound::SofterThan(self.undecided.value)
    }

    /// The file slides.
    pub fn skates(&self) -> FileBound {
        FileBound::HarderThan(self.undecided.value)
    }
}

/// Hardness between two ends, either of them open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HardnessRange {
    /// At least this hard, if anything says so.
    pub at_least: Option<Hrc>,
    /// At most this hard, if anything says so.
    pub at_most: Option<Hrc>,
}

impl FileBound {
    /// Hardness that this stroke leaves possible: a file that bites may just not have skated.
    pub fn range(&self) -> HardnessRange {
        match self {
            Self::SofterThan(band) => HardnessRange { at_least: None, at_most: Some(band.high()) },
            Self::HarderThan(band) => HardnessRange { at_least: Some(band.low()), at_most: None },
        }
    }
}

impl HardnessRange {
    /// Nothing is known.
    pub const ANY: Self = Self { at_least: None, at_most: None };

    /// What all strokes leave possible together. `None`: they contradict each other.
    pub fn of_all(strokes: &[FileBound]) -> Option<Self> {
        let mut all = Self::ANY;
        for range in strokes.iter().map(FileBound::range) {
            all.at_least = match (all.at_least, range.at_least) {
                (Some(a), Some(b)) if b < a => Some(a),
                (a, b) => b.or(a),
            };
            all.at_most = match (all.at_most, range.at_most) {
                (Some(a), Some(b)) if a < b => Some(a),
                (a, b) => b.or(a),
            };
        }
        match (all.at_least, all.at_most) {
            (Some(least), Some(most)) if least > most => None,
            _ => Some(all),
        }
    }

    /// Whether steel of this hardness is possible.
    pub fn allows(&self, hrc: Hrc) -> bool {
        self.at_least.is_none_or(|least| least <= hrc) && self.at_most.is_none_or(|most| hrc <= most)
    }
}
