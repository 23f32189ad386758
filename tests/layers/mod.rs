//! The layers: which module may use which, kept by reading the sources.
//!
//! - `table`: who may use whom, and the checks of the table itself
//! - `reader`: walks one source file and notes every path it names
//! - `edges`: every path that the sources name, and what each stands for
//! - `rules`: the rules, over sources held in memory
//! - `planted`, `planted_rules`: every violation planted is found
//!
//! What it cannot see: a method that touches the disk without naming `std::fs` (`Path::exists`), a path
//! that a macro puts together, a name re-exported through a glob of a submodule, and a value handed on by a
//! module that may hold it.

mod edges;
mod planted;
mod planted_rules;
mod reader;
mod rules;
mod table;

use crate::support::project;
use std::path::Path;

/// Every source file of the crate: its path from the project's root, and its text.
fn sources() -> Vec<(String, String)> {
    fn collect(folder: &Path, under: &str, into: &mut Vec<(String, String)>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = format!("{under}/{}", path.file_name().unwrap().to_str().unwrap());
            if path.is_dir() {
                collect(&path, &name, into);
            } else if path.extension().is_some_and(|e| e == "rs") {
                into.push((name, std::fs::read_to_string(&path).unwrap()));
            }
        }
    }
    let mut found = Vec::new();
    collect(&project("src"), "src", &mut found);
    found.sort();
    found
}

#[test]
fn the_crate_keeps_its_layers() {
    let wrong = rules::check(&sources(), table::TABLE);
    assert!(wrong.is_empty(), "{} broken:\n{}", wrong.len(), wrong.join("\n"));
}

/// Guards the reader: were it blind, the test above would pass on anything.
#[test]
fn the_reader_sees_the_uses_that_are_there() {
    let uses = rules::direct(&rules::edges(&edges::Code::read(&sources())));
    let has = |from: &str, to: &str| uses.get(from).is_some_and(|of| of.iter().any(|m| m == to));
    assert!(
        has("steel", "units") && has("diffusion", "transport") && has("files", "prediction"),
        "{uses:#?}"
    );
}
