//! A small grey picture of any bytes as a face, measured with any outline and size, and drawn.
#![no_main]

use libfuzzer_sys::fuzz_target;
use snapspark::files::face_model;
use snapspark::fracture::{FaceKnown, FaceModel, FaceOutline, measure_face};
use snapspark::photo::{Channels, Picture, Samples};
use snapspark::report::{face_mask, face_overlay};
use snapspark::units::Depth;
use std::sync::LazyLock;

fuzz_target!(|input: (u8, u8, u16, &str, &[u8])| {
    let (width, times, thickness, outline, bytes) = input;
    let outline = match FaceOutline::parse(outline) {
        Ok(outline) => outline.points().to_vec(),
        Err(e) => {
            assert!(!e.to_string().is_empty() && !e.help().is_empty());
            Vec::new()
        }
    };
    // each byte a square of pixels, so that a face of a size that is measured comes from few bytes
    let (width, times) = (usize::from(width).max(1), usize::from(times % 8) + 1);
    let rows: Vec<&[u8]> = bytes.chunks_exact(width).collect();
    let large = |row: &&[u8]| -> Vec<u8> {
        let line: Vec<u8> = row.iter().flat_map(|v| std::iter::repeat_n(*v, times)).collect();
        line.repeat(times)
    };
    let samples = Samples::Eight(rows.iter().flat_map(large).collect());
    let Some(picture) = Picture::new(width * times, rows.len() * times, Channels::Grey, samples) else { return };
    let thickness = Depth::from_millimetres(f64::from(thickness) / 100.0).ok();
    let known = FaceKnown { thickness, outline, ..FaceKnown::default() };
    let size = [picture.width(), picture.height()];
    if known.on(size[0], size[1]).is_err() {
        return;
    }
    static MODEL: LazyLock<FaceModel> = LazyLock::new(|| face_model().expect("the model that ships"));
    let found = measure_face(&picture, &known, &MODEL);
    assert!(face_overlay(&picture, found.as_ref(), 400).width() > 0);
    match found {
        Ok(face) => assert_eq!(face_mask(size, &face).width(), size[0]),
        Err(refusal) => assert!(!refusal.to_string().is_empty()),
    }
});
