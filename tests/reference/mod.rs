//! Checks against numbers from outside the project. Each table names its source, its status and
//! the tolerance, which was written down before the first run.

// A test fails by panicking.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod afterwards;
mod burst_net;
mod calibration;
mod case_depth_constants;
mod closed_forms;
mod conformal_coverage;
mod converge;
mod drawn;
mod face_net;
mod faults;
mod fracture;
mod grain;
mod hardness;
mod hardness_depth;
mod hardness_temper;
mod harris;
mod heat;
mod independence;
mod measured;
mod one_way;
mod open_air;
mod plan;
mod powers;
mod published;
mod published_places;
mod scenarios;
mod scipy_soaks;
mod sensitivity;
mod slack;
mod spark_lines;
mod spark_steadiness;
mod sparks;
mod tables;
mod textbook;
mod trade_facts;
mod tree;
mod tree_peers;
mod wedge;
