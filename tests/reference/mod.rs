//! Checks against numbers from outside the project. Each table names its source, its status and
//! the tolerance, which was written down before the first run.

mod closed_forms;
mod harris;
mod scenarios;
mod scipy_soaks;
mod tables;
mod textbook;
