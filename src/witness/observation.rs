use crate::units::{Depth, Interval};

/// Which file was drawn over the coupon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FileKind {
    /// A new or nearly new mill file.
    Mill,
    /// A worn file.
    Worn,
    /// A graded file of this hardness, HRC.
    Graded(f64),
}

impl FileKind {
    /// Hardness that a graded file may have, HRC.
    pub const HRC: (f64, f64) = (35.0, 68.0);
}

/// What the file did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileResult {
    /// It cuts: softer than the file.
    Bites,
    /// It slides: as hard as the file or harder.
    Skates,
}

/// One stroke of a file. `None`: not said.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FileTest {
    /// Which file.
    pub which: Option<FileKind>,
    /// What it did.
    pub result: Option<FileResult>,
    /// How much had been ground off before.
    pub after_grinding: Option<Interval<Depth>>,
}

/// The skin when the pack was opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Skin {
    /// Light grey and clean: no air got in.
    LightGrey,
    /// Dark scale: air got in.
    DarkScale,
}

/// What a magnet does on the coupon, cold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Magnet {
    /// Holds.
    Sticks,
    /// Holds badly.
    Weak,
    /// Does not hold: no plain carbon steel.
    DoesNotStick,
}

/// File, skin and magnet. `None`: not said.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WitnessObservation {
    /// File tests, in the order they were done.
    pub file: Vec<FileTest>,
    /// Skin after opening.
    pub skin: Option<Skin>,
    /// Magnet.
    pub magnet: Option<Magnet>,
}
