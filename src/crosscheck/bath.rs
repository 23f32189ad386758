use super::Need;
use crate::hardness::{Alloy, Body, Hardness, QuenchedSection, Severity, Stirring};
use crate::steel::QuenchMedium;
use crate::units::{Depth, Interval};

/// A section in a bath, and how well its steel is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Bath {
    /// What it is quenched in.
    pub medium: QuenchMedium,
    /// The section there.
    pub(super) section: QuenchedSection,
    /// Least, likeliest and most manganese.
    pub(super) alloys: [Alloy; 3],
}

/// From a bath where nothing moves to one that is moved well; moderately is likeliest, and brine has no such row.
const STIRRINGS: [&[Stirring]; 3] =
    [&[Stirring::None], &[Stirring::Moderate, Stirring::Mild], &[Stirring::Good, Stirring::Mild]];

impl Bath {
    /// A bar of this diameter or a wide plate of this thickness, moved by hand. `None`: without a size, or where the
    /// tables have no such bath.
    pub fn of(
        hardness: &Hardness,
        need: &Need,
        manganese: Option<(f64, f64)>,
        medium: QuenchMedium,
        (body, size): (Body, Depth),
    ) -> Option<Self> {
        let row = |words: &[Stirring]| -> Option<&Severity> {
            words.iter().find_map(|stirring| hardness.severity(medium, *stirring))
        };
        let [still, moved, well] = [row(STIRRINGS[0])?, row(STIRRINGS[1])?, row(STIRRINGS[2])?];
        let per_inch = Interval::new(
            still.per_inch.value.low(),
            moved.per_inch.value.best(),
            well.per_inch.value.high(),
        )?;
        let likeliest = need.alloy(manganese);
        let untold = &need.manganese.value;
        let (least, most) = manganese.unwrap_or((untold.low(), untold.high()));
        let with = |manganese| Alloy { manganese, ..likeliest };
        Some(Self {
            medium,
            section: QuenchedSection::new(body, size, &per_inch)?,
            alloys: [with(least), likeliest, with(most)],
        })
    }

    /// Thickness or diameter.
    pub fn size(&self) -> Depth {
        self.section.size()
    }
}
