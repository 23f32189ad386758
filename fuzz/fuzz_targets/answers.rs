//! Bytes choose the words of a whole run, some of them any text: a sound check or problems, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::Models;
use std::cell::RefCell;
use std::sync::LazyLock;

#[path = "../../tests/run_sheet/any_run.rs"]
mod any_run;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::shipped().expect("the shipped models load"));

/// Longest text that stands for a value, in bytes.
const LONGEST: usize = 12;

fuzz_target!(|bytes: &[u8]| {
    let rest = RefCell::new(bytes.iter().copied());
    // used up: the last of everything, which leaves the field out
    let choose = |n: usize| rest.borrow_mut().next().map_or(n - 1, |byte| usize::from(byte) % n);
    let other = || {
        let mut rest = rest.borrow_mut();
        let length = usize::from(rest.next()?) % (2 * LONGEST);
        // half of the time nothing, so that whole runs are tried as well
        let text: Vec<u8> = rest.by_ref().take(length.checked_sub(LONGEST)?).collect();
        Some(format!("'{}'", String::from_utf8_lossy(&text).replace(['\'', '\n', '\r'], " ")))
    };
    any_run::check(&any_run::sheet(choose, other), &MODELS);
});
