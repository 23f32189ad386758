//! Any bytes as an archive of known steels: contents that hold together, or problems, never a crash or much memory. A
//! tar header has a sum that chance does not hit: bytes are cut into blocks, and every header gets its sum.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::known_set::Archive;
use snapspark::files::{Models, ProblemList};
use std::sync::LazyLock;
use tar::Header;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::shipped().expect("the shipped models load"));
const BLOCK: usize = 512;
const NAMES: [&str; 6] =
    ["set.toml", "records/a.toml", "records/", "../out.toml", "measured/a.toml", "photos/x.jpg"];

/// Entries of the bytes: one says which name or none, one the kind, one the length.
fn entries(mut bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    while let [name, kind, length, rest @ ..] = bytes {
        let content = &rest[..rest.len().min(usize::from(*length) * 4)];
        let mut head = Header::new_ustar();
        if let Some(name) = NAMES.get(usize::from(*name)) {
            head.as_old_mut().name[..name.len()].copy_from_slice(name.as_bytes());
        } else {
            let part = content.len().min(100);
            head.as_old_mut().name[..part].copy_from_slice(&content[..part]);
        }
        head.set_entry_type(tar::EntryType::new(*kind));
        head.set_size(content.len() as u64);
        head.set_cksum();
        out.extend(head.as_bytes());
        out.extend(content);
        out.resize(out.len().next_multiple_of(BLOCK), 0);
        bytes = &rest[content.len()..];
    }
    out.resize(out.len() + 2 * BLOCK, 0);
    out
}

fuzz_target!(|bytes: &[u8]| {
    for bytes in [bytes.to_vec(), entries(bytes)] {
        match Archive::contents_of(&bytes, "a.tar", &MODELS) {
            Ok(contents) => assert!(contents.records() <= bytes.len() / BLOCK),
            Err(problems) => assert!(!ProblemList(&problems).to_string().is_empty()),
        }
    }
});
