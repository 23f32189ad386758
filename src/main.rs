//! snapspark
fn main() {}
