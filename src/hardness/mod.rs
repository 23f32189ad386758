//! How hard steel of a given carbon gets in the quench and stays in the temper, how thick a section
//! hardens, what files tell of hardness, and where a hardened case ends.
//!
//! Formulas stand here beside their source; their constants are data (`models/hardness.toml`). An
//! answer is an interval wherever the source has a spread, and absent outside the source's range.

mod as_quenched;
mod austenite;
mod case_depth;
mod conversion;
mod cooling;
mod critical_section;
mod file_test;
mod hardenability;
mod lines;
mod martensite;
mod quenched_section;
mod slack;
mod temper;

pub use as_quenched::{AsQuenched, NoAnswer, Quench};
pub use austenite::{Alloy, Austenite, Exponential};
pub use case_depth::{CaseHardeningDepth, DepthRules, HardnessProfile, Reach};
pub use conversion::Conversion;
pub use critical_section::{Body, Severity, Stirring, largest_section};
pub use file_test::{FileBound, HardnessRange, TestFile};
pub use hardenability::{CarbonPiece, Hardenability};
pub use martensite::{Martensite, SHARES};
pub use quenched_section::QuenchedSection;
pub use slack::{Slack, SlackEnd};
pub use temper::{Temper, TemperRow};

use crate::steel::QuenchMedium;

/// Everything that the program knows of hardness.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardness {
    /// HRC against HV.
    pub conversion: Conversion,
    /// Hardness of martensite.
    pub martensite: Martensite,
    /// What does not become martensite.
    pub austenite: Austenite,
    /// Tempering.
    pub temper: Temper,
    /// Ideal diameter.
    pub hardenability: Hardenability,
    /// Severities of quench, each medium and stirring once.
    pub severities: Vec<Severity>,
    /// Files of known hardness.
    pub files: Vec<TestFile>,
    /// Where a hardened case ends.
    pub depth: DepthRules,
}

impl Hardness {
    /// The severity of that medium, stirred that much. `None`: the source gives none.
    pub fn severity(&self, medium: QuenchMedium, stirring: Stirring) -> Option<&Severity> {
        self.severities.iter().find(|s| s.medium == medium && s.stirring == stirring)
    }

    /// The file of that name: the number of a graded file, or `mill file`.
    pub fn file(&self, name: &str) -> Option<&TestFile> {
        self.files.iter().find(|f| f.name == name)
    }
}
