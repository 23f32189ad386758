//! Any text as the file of a tree: a tree that can be walked and written, or a problem, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::{read_tree, write_tree};

fuzz_target!(|text: &str| {
    match read_tree(text) {
        Ok(tree) => {
            let walk = tree.walk(&vec![None; tree.features().len()]).expect("nothing known can be asked");
            assert!(walk.answer() < tree.classes());
            let written = write_tree(&tree).expect("what was read can be written");
            assert_eq!(read_tree(&written).expect("what was written can be read"), tree);
        }
        Err(problem) => assert!(!problem.to_string().is_empty()),
    }
});
