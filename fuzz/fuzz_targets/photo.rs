//! Any bytes as a photo: a picture that holds together and can be measured, or a reason and a way out, never a crash. The first byte
//! says which good start the rest follows, so that more than the first few bytes of a format are reached.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::burst_net;
use snapspark::net::UNet;
use snapspark::photo::{Limits, Shrink, decode};
use snapspark::spark::{Exposed, measure};
use std::sync::OnceLock;

const STARTS: [&[u8]; 5] =
    [b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"II*\0\x08\0\0\0", b"RIFF\xff\xff\0\0WEBPVP8"];

static NET: OnceLock<UNet> = OnceLock::new();

fuzz_target!(|bytes: &[u8]| {
    let Some((which, rest)) = bytes.split_first() else { return };
    let bytes = [STARTS[usize::from(*which) % STARTS.len()], rest].concat();
    let limits = Limits { least_pixels: 1, most_pixels: 1 << 20, most_memory: 16 << 20, ..Limits::default() };
    let net = NET.get_or_init(|| burst_net().expect("the shipped network loads"));
    match decode(&bytes, &limits) {
        Ok(photo) => {
            let linear = photo.picture.linear(Shrink::HALF);
            assert_eq!(linear.luminance(0..linear.height()).len(), linear.width() * linear.height());
            if let Err(refusal) = measure(&photo.picture, Exposed::default(), net) {
                assert!(!refusal.to_string().is_empty());
            }
        }
        Err(e) => assert!(!e.to_string().is_empty() && !e.help().is_empty()),
    }
});
