//! Read a pack-carburized coupon: what the logged soak should have given, what its sparks and its
//! fracture show, and what to do now.
//!
//! ```text
//! photo / answers -> SparkObservation    \
//! photo / answers -> FractureObservation  >-> Features -> Estimate (band, depth) \
//! known steels + training data -> Tree   /                                        >-> CrossCheck -> Report
//! soak log + pack + stock -> Timeline -> Prediction (profile, depths)            /
//! ```
//!
//! Data flows one way, and `estimate` and `prediction` never see each other: if the soak could leak
//! into the estimate, the cross-check would agree with itself. The modules stand below in layer
//! order; a module knows only those above it (`tests/layers`). Only [`files`] and [`cli`] touch disk
//! or terminal; everything else is a plain function of values.

pub mod net;
pub mod sources;
pub mod stats;
pub mod transport;
pub mod tree;
pub mod units;

pub mod steel;

pub mod hardness;
pub mod photo;
pub mod soak;

pub mod diffusion;
pub mod fracture;
pub mod spark;
pub mod witness;

pub mod features;
pub mod prediction;

pub mod known;

pub mod estimate;

pub mod audit;

pub mod crosscheck;

pub mod plan;

pub mod files;
pub mod report;

pub mod cli;
