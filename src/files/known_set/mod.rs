//! Known steels on disk: one folder of plain files that people may edit.
//!
//! ```text
//! SET/set.toml              the format's version
//! SET/records/NAME.toml     one record: steel, carbon, rig, session, and its photos or what was told; or a coupon
//!                           whose case was measured another way
//! SET/photos/HASH.ENDING    photos as they were added, by the SHA-256 of their bytes
//! SET/removed/NAME.toml     records that were removed
//! SET/edge.toml            the visible edge as `train` learned it from coupons: made again at will
//! SET/trees/RIG.toml        a rig as `train` left it: made again at will
//! SET/measured/NAME.toml    what the photos of a record show, with the way of measuring: made again at will
//! ```
//!
//! Every file is written beside its place, flushed, and renamed into it: photos first, then the record that names
//! them. Names of records and photos follow from what they hold, so two programs may add at once without a lock.

mod add;
mod archive;
mod carbon;
mod conflict;
mod contents;
mod edge_toml;
mod entry;
mod export;
mod face;
mod import;
mod kept;
mod label;
mod labelled;
mod labels;
mod layout;
mod measure;
mod measured_toml;
mod name;
mod photo_source;
mod pieces;
mod record;
mod remove;
mod rig_toml;
mod set;
mod told;
mod trained_rig;
mod training;
mod write;

pub use add::{Added, NewRecord};
pub use archive::{Archive, CheckedArchive};
pub use contents::Contents;
pub(in crate::files) use edge_toml::quench_word;
pub use edge_toml::read_edge;
pub use face::{FaceFile, face_text, read_face};
pub use import::{Imported, Skipped};
pub use kept::Kept;
pub use label::Label;
pub use labelled::{Labelled, session_of};
pub use labels::{LabelDefaults, LabelRow, Labels};
pub use layout::Layout;
pub use measure::KnownReading;
pub use measured_toml::{read_measured, write_measured};
pub use photo_source::PhotoSource;
pub use pieces::{mild_steel, plain_grades};
pub use record::read_record;
pub use rig_toml::{RigFileError, read_rig, write_rig};
pub use set::KnownSet;
pub use told::ToldFile;
pub(in crate::files) use trained_rig::{ByPhotos, read_at};
pub use training::PublishedTrend;
pub use write::record_text;
