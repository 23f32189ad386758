//! Checks against numbers from outside the project.
mod scipy_soaks;
