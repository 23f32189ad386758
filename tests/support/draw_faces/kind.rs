//! The kinds of face that a photo can show, and those that a reader must refuse.

use serde::{Deserialize, Serialize};

/// How a coupon was cased, and how case and core differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Case all round, lighter or darker or neither, finer than its core.
    AllRound,
    /// Lighter than a fibrous core.
    Lighter,
    /// Darker than a core of bright facets.
    Darker,
    /// Only the texture differs.
    TextureOnly,
    /// Only the brightness differs.
    ToneOnly,
    /// A core that hardened too: a faint border.
    Faint,
    /// Coarse grains, overheated.
    Coarse,
    OneSided,
    Partial,
    Through,
    /// A tough or brittle break with no case.
    Plain,
    /// No case, and a shear lip that looks like one.
    Lip,
}

impl Kind {
    pub(crate) const ALL: [Self; 12] = [
        Self::AllRound,
        Self::Lighter,
        Self::Darker,
        Self::TextureOnly,
        Self::ToneOnly,
        Self::Faint,
        Self::Coarse,
        Self::OneSided,
        Self::Partial,
        Self::Through,
        Self::Plain,
        Self::Lip,
    ];

    /// What a reader should call it.
    pub(crate) fn class(self) -> Class {
        match self {
            Self::Plain | Self::Lip => Class::None,
            Self::OneSided | Self::Partial => Class::Partial,
            Self::Through => Class::Through,
            _ => Class::AllRound,
        }
    }
}

/// Where a face shows case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Class {
    None,
    Partial,
    AllRound,
    Through,
}
