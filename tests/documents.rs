//! What the documents say about the files beside them.

use snapspark::files::Models;
use std::collections::BTreeSet;
use std::path::Path;

fn models_folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/models"))
}

#[test]
fn the_readme_of_models_lists_every_file() {
    let readme = std::fs::read_to_string(models_folder().join("README.md")).unwrap();
    let listed: BTreeSet<String> = readme
        .lines()
        .filter_map(|line| line.strip_prefix("| [`")?.split_once('`').map(|(file, _)| file.to_owned()))
        .collect();
    let there: BTreeSet<String> = std::fs::read_dir(models_folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != "README.md")
        .collect();
    assert_eq!(listed, there);
}

/// Loading fails on a key that is missing and on one that nothing uses.
#[test]
fn every_source_exists_and_is_used() {
    let models = Models::shipped().unwrap();
    assert!(models.sources.iter().all(|s| !s.author.is_empty() && !s.title.is_empty() && !s.year.is_empty()));
}
