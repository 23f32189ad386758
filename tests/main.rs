//! One binary for all tests that look at the crate from outside.
//!
//! - `commands`: the built program, whole answers and exit codes
//! - `documents`: what the documents say about the files beside them
//! - `face_photos`: drawn faces of broken coupons, what is found on them, and the answers made of it
//! - `known`: known steels, drawn smiths and the store
//! - `layers`: which module may use which
//! - `photo`: photos against independent readers, bad photos
//! - `reference`: numbers of the outside world, each with its source
//! - `run_sheet`: run sheets and temperature logs, and what a bad one is told
//! - `spark_photos`: drawn spark pictures, what is found in them, and the answers made of it
//! - `support`: the shipped models, solves and tables that the others use

// A test fails by panicking, and so do its helpers.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod commands;
mod documents;
mod face_photos;
mod known;
mod layers;
mod photo;
mod reference;
mod run_sheet;
mod spark_photos;
mod support;
