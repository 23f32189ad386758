//! tests

mod documents;
mod reference;
