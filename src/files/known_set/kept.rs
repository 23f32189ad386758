use super::face::{self, read_face};
use super::record::read_record;
use crate::files::Models;
use crate::files::problem::Problem;
use crate::known::{KnownFace, KnownPhoto, KnownSteel};

/// What the file of a record holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Kept {
    /// A known steel.
    Steel(KnownSteel),
    /// A coupon whose case was measured another way.
    Face(Box<KnownFace>),
}

impl Kept {
    /// Reads a record of either kind, which its first line tells.
    pub fn read(text: &str, file_name: &str, models: &Models) -> Result<Self, Vec<Problem>> {
        let blank = |line: &&str| line.trim().is_empty() || line.trim_start().starts_with('#');
        let first = text.strip_prefix('\u{feff}').unwrap_or(text).lines().find(|line| !blank(line));
        if first.is_some_and(|line| line.trim_start().starts_with(face::VERSION_KEY)) {
            return read_face(text, file_name, models).map(|face| Self::Face(Box::new(face)));
        }
        read_record(text, file_name, models).map(Self::Steel)
    }

    /// Reads it from the bytes of its file.
    pub(super) fn read_bytes(bytes: Vec<u8>, file_name: &str, models: &Models) -> Result<Self, Vec<Problem>> {
        let text = super::record::RECORD.text(file_name, bytes).map_err(|p| vec![*p])?;
        Self::read(&text, file_name, models)
    }

    /// The photos that it keeps.
    pub(super) fn photos(&self) -> &[KnownPhoto] {
        match self {
            Self::Steel(steel) => steel.seen.photos(),
            Self::Face(_) => &[],
        }
    }
}
