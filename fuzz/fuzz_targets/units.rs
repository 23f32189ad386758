//! Any text as each quantity: a range in order, or a reason, never a crash.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::units::{CarbonPercent, Depth, Mass, Quantity, Speed, Temperature, Time, parse_interval};

fn read<Q: Quantity>(text: &str) {
    match parse_interval::<Q>(text) {
        Ok(written) => assert!(written.value.low() <= written.value.high()),
        Err(reason) => assert!(!reason.to_string().is_empty() && !reason.help().is_empty()),
    }
}

fuzz_target!(|text: &str| {
    read::<Temperature>(text);
    read::<Time>(text);
    read::<Depth>(text);
    read::<Mass>(text);
    read::<CarbonPercent>(text);
    read::<Speed>(text);
});
