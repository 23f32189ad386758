//! Photos, held against independent readers (`make.py`, Pillow, tifffile, scikit-image) and against bad files.
//!
//! - `seen`: pixels, orientation, EXIF and luminance of the pictures in `files`
//! - `bad_files`: what is said of files that are none, or broken
//! - `cut`: JPEG files cut off anywhere
//! - `any_bytes`: no bytes take the reader down

mod any_bytes;
mod bad_files;
mod cut;
mod seen;

use crate::support::project;
use snapspark::photo::{Limits, Photo, PhotoError, Picture, Samples, decode};

/// The usual limits, but for pictures as small as those in `files`.
fn small() -> Limits {
    Limits { least_pixels: 1, ..Limits::default() }
}

/// Bytes of a picture in `files`.
fn bytes(name: &str) -> Vec<u8> {
    std::fs::read(project("tests/photo/files").join(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

fn read(name: &str) -> Result<Photo, PhotoError> {
    decode(&bytes(name), &small())
}

/// Samples of a pixel.
fn pixel(picture: &Picture, x: usize, y: usize) -> Vec<u16> {
    let count = picture.channels().count();
    let from = (y * picture.width() + x) * count;
    match picture.samples() {
        Samples::Eight(all) => all[from..from + count].iter().map(|&v| u16::from(v)).collect(),
        Samples::Sixteen(all) => all[from..from + count].to_vec(),
    }
}
