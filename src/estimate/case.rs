use crate::features::FaceColumn;
use crate::units::Interval;

/// What a fracture face says about the case.
#[derive(Debug, Clone, PartialEq)]
pub enum CaseAnswer {
    /// A reading.
    Read(CaseEstimate),
    /// The face cannot be read, and why.
    CannotTell {
        /// Reasons, the weightiest first.
        why: Vec<CaseDoubt>,
    },
}

/// A case as an eye sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseEstimate {
    /// How far round.
    pub class: CaseClass,
    /// Visible case depth, mm: the median of the sides, from the lowest to the highest that any may have.
    /// `None` unless a depth was told; a face without a rim and one that is all rim have no edge to
    /// measure.
    pub depth_mm: Option<Interval<f64>>,
    /// Visible case depth of each side that was read, mm; one entry if all sides were told as one.
    pub per_side: Vec<Interval<f64>>,
    /// Share of the votes of each band, in the order of [`DepthBand::ALL`]. They are votes of drawn rows:
    /// no probability is known for them. `None` if the depth was measured, or the face has no such edge.
    pub votes: Option<[f64; 6]>,
    /// Whether `depth_mm` was measured, however roughly.
    pub measured: bool,
    /// The questions that the tree asked of the best values, in order.
    pub path: Vec<CaseReason>,
    /// What makes the reading doubtful.
    pub doubts: Vec<CaseDoubt>,
}

impl CaseEstimate {
    /// What every depth here is a depth to. The carbon at that edge is no part of the reading.
    pub const CRITERION: &str = "visible case depth, seen on the fracture (SAE J423, visual method)";

    /// The band with most votes; a tie goes to the shallower one.
    pub fn band(&self) -> Option<DepthBand> {
        let votes = self.votes?;
        let most = |best: DepthBand, band: DepthBand| {
            if votes[band as usize] > votes[best as usize] { band } else { best }
        };
        Some(DepthBand::ALL.into_iter().fold(DepthBand::None, most))
    }
}

/// How far round the face the case runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CaseClass {
    /// No case seen.
    None,
    /// On some sides only.
    Partial,
    /// All round a core.
    AllRound,
    /// No core left.
    Through,
}

/// Visible case depth in bands, mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DepthBand {
    /// No case.
    None,
    /// Under 0.2 mm.
    Under02,
    /// 0.2 to 0.5 mm.
    To05,
    /// 0.5 to 1.0 mm.
    To10,
    /// Over 1.0 mm, with a core.
    Over10,
    /// Through: no core left, whatever the thickness.
    Through,
}

impl DepthBand {
    /// All, shallowest first.
    pub const ALL: [Self; 6] =
        [Self::None, Self::Under02, Self::To05, Self::To10, Self::Over10, Self::Through];

    /// Words in training data, in the order of [`Self::ALL`].
    pub const WORDS: [&str; 6] =
        ["none", "under 0.2 mm", "0.2 to 0.5 mm", "0.5 to 1.0 mm", "over 1.0 mm", "through"];
}

/// One question on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaseReason {
    /// What was asked.
    pub column: FaceColumn,
    /// What it was compared with, in the unit of the column.
    pub threshold: f64,
    /// The value, and whether it lies above; `None`: not said, so both ways were followed.
    pub answer: Option<(f64, bool)>,
}

/// Why a reading of a face is doubtful, or cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseDoubt {
    /// Neither a rim nor a depth was told.
    NothingSaid,
    /// Photos were read and do not tell whether there is a rim, and nobody told of one.
    PhotosUnclear,
    /// Photos and what was told of this exclude each other. The rim as told stands; a depth reaches from one to the other.
    PhotosDisagree(FaceColumn),
    /// The same for the blank.
    BlankPhotosDisagree,
    /// Not quenched: case and core of a soft piece break alike to an untrained eye.
    NotQuenched,
    /// Nobody said whether it was quenched.
    QuenchUnknown,
    /// Untreated stock shows the same rim: a shear lip, or a hard shell on richer stock; not a case.
    BlankShowsSameRim,
    /// Untreated stock shows a rim too, but less of it.
    BlankShowsRimToo,
    /// The blank was quenched in something else, or not, so the two cannot be compared.
    BlankQuenchedOtherwise,
    /// No blank to compare with: a shear lip or a hardened core may pass for a case.
    NoBlank,
    /// A shear lip was seen, and may have been read as rim.
    ShearLip,
    /// The core hardened too, as the blank shows: its border is faint, and a face without border is no
    /// through case.
    CoreHardenedToo,
    /// The core did not tear: hardened too, or brittle from overheating.
    CoreNotFibrous,
    /// Torn outside, brittle inside: a skin that lost its carbon, over a case or a hard core.
    SoftSkin,
    /// Bent first: a slow break tears where a blow would snap, so a fibrous face proves little.
    BentFirst,
    /// Nobody said whether it bent first.
    BreakUnknown,
    /// Tempered so hot that case and core come to look alike.
    Tempered,
    /// Quenched in oil: the seen rim may end at 0.5 to 0.6 %C, so it looks short. Not corrected here.
    OilShortensRim,
    /// A share of the thickness was told, but not the thickness.
    ThicknessUnknown,
    /// The depth reaches past the middle, and yet there is a core.
    PastTheMiddle,
    /// No rim can also be a slack quench or a skin without carbon: file and sparks tell.
    NoRimHasOtherCauses,
    /// A depth was told of a rim that was not seen; it was not used.
    DepthWithoutRim,
    /// Grain plainly seen or coarse in the rim: it was too hot.
    CoarseGrain,
    /// Bright flat facets: plates of cementite in a very rich skin, 1.5 to 2 %C if it cooled slowly.
    VeryRich,
}
