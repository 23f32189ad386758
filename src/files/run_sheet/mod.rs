//! The run sheet: one TOML file that describes one run.
//!
//! Only `[soak]` must be there. In every field `"unknown"`, `"don't know"` or `"?"` means the same
//! as leaving it out. Everything wrong with a sheet is reported at once, in the order of its lines.

mod aim;
mod answering;
pub(super) mod draft;
pub(super) mod fault;
pub(super) mod field;
pub(in crate::files) mod fracture;
mod item;
pub(super) mod kind;
mod known;
mod lines;
mod model;
mod number;
mod pack;
mod piece;
pub(super) mod read;
pub(super) mod reading;
pub(super) mod section;
mod sheet;
mod soak;
pub(super) mod spark;
mod steps;
mod stock;
mod syntax;
mod typed;
mod witness;

pub use draft::{Draft, Given};
pub use item::Item;
pub use known::{KnownPlace, Named};
pub use sheet::{PlannedSheet, RunSheet};
pub use typed::Typed;

/// The version of the format that this program reads.
pub const VERSION: i64 = 1;
/// The first field of every sheet.
pub const VERSION_KEY: &str = "run-sheet";
/// A sheet is at most this long, in bytes.
pub const MOST_BYTES: u64 = 1024 * 1024;
