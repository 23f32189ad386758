//! The photo under what is drawn.

use super::drawing::Drawing;
use crate::photo::{Picture, Shrink};
use std::sync::LazyLock;

/// How the photo looks under the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// As it is.
    Plain,
    /// With half its colour and a little darker, so that marks stand out. Judgement.
    Muted,
}

/// Rows that are made linear at a time.
const BAND: usize = 16;

/// The photo shrunk to a size, never enlarged: means over the area of each new pixel, in linear light. There is
/// room for `spare` more rows, so that a large drawing need not be copied.
pub(super) fn ground(photo: &Picture, width: usize, height: usize, spare: usize, look: Look) -> Drawing {
    // by whole numbers first, which is quick; a new pixel is at least as large as such a cell
    let factor = (photo.width() / width).min(photo.height() / height).clamp(1, 8);
    let light = photo.linear(Shrink::by(factor).unwrap_or(Shrink::NONE));
    let scale = [(width, photo.width()), (height, photo.height())]
        .map(|(new, old)| (new * factor) as f64 / old as f64);
    let columns: Vec<(usize, [f32; 2])> = (0..light.width()).map(|x| shares(x, scale[0], width)).collect();
    let mut out = Vec::with_capacity(width * (height + spare) * 3);
    // the row that is being filled and the next: light, and the area that it comes from
    let mut sums = [vec![[0.0_f32; 4]; width], vec![[0.0_f32; 4]; width]];
    let mut row = 0;
    for first in (0..light.height()).step_by(BAND) {
        let planes = light.rgb(first..first + BAND);
        for y in first..(first + BAND).min(light.height()) {
            let (target, weights) = shares(y, scale[1], height);
            if target > row {
                finish(&mut sums, look, &mut out);
                row = target;
            }
            let start = (y - first) * light.width();
            for (x, (column, across)) in columns.iter().enumerate() {
                let [red, green, blue] = [0, 1, 2].map(|k| planes[k].get(start + x).copied().unwrap_or(0.0));
                for (sum, down) in sums.iter_mut().zip(weights).filter(|(_, down)| *down > 0.0) {
                    for (cell, across) in sum.iter_mut().skip(*column).zip(across) {
                        for (to, from) in cell.iter_mut().zip([red, green, blue, 1.0]) {
                            *to += from * across * down;
                        }
                    }
                }
            }
        }
    }
    // the last cells may begin in the last row but one
    for _ in row..height {
        finish(&mut sums, look, &mut out);
    }
    Drawing::of(width, height, out)
}

/// The new pixel that cell `i` begins in, and how much of it and of the next it covers.
fn shares(i: usize, scale: f64, count: usize) -> (usize, [f32; 2]) {
    let (start, end) = (i as f64 * scale, (i + 1) as f64 * scale);
    let first = (start as usize).min(count - 1);
    let here = end.min((first + 1) as f64) - start;
    let next = if first + 1 < count { (end - (first + 1) as f64).max(0.0) } else { 0.0 };
    (first, [here as f32, next as f32])
}

/// Writes the finished row out and moves on to the next.
fn finish(sums: &mut [Vec<[f32; 4]>; 2], look: Look, out: &mut Vec<u8>) {
    for cell in &mut sums[0] {
        let [red, green, blue, area] = *cell;
        let rgb = [red, green, blue].map(|sum| encoded(if area > 0.0 { sum / area } else { 0.0 }));
        out.extend(match look {
            Look::Plain => rgb,
            Look::Muted => muted(rgb),
        });
        *cell = [0.0; 4];
    }
    sums.swap(0, 1);
}

fn muted(rgb: [u8; 3]) -> [u8; 3] {
    // weights of ITU-R BT.601, for encoded values
    let grey = 0.299 * f32::from(rgb[0]) + 0.587 * f32::from(rgb[1]) + 0.114 * f32::from(rgb[2]);
    rgb.map(|v| ((grey + (f32::from(v) - grey) * 0.5) * 0.85) as u8)
}

/// Steps of linear light; at its steepest the curve rises less than one of 255 from step to step.
const STEPS: usize = 4096;

/// Encoded values of linear light. Source: IEC 61966-2-1:1999 (sRGB), 5.2.
static ENCODED: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let encode = |v: f64| {
        if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * libm::pow(v, 1.0 / 2.4) - 0.055 }
    };
    (0..=STEPS).map(|i| (encode(i as f64 / STEPS as f64) * 255.0).round() as u8).collect()
});

fn encoded(linear: f32) -> u8 {
    let step = (linear.clamp(0.0, 1.0) * STEPS as f32).round() as usize;
    ENCODED.get(step).copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::{Channels, Samples};

    #[test]
    fn means_are_of_light() {
        // a black and a white pixel make half the light, which sRGB encodes as 188 (IEC 61966-2-1: 0.7354)
        let photo = Picture::new(2, 1, Channels::Grey, Samples::Eight(vec![0, 255])).unwrap();
        assert_eq!(ground(&photo, 1, 1, 0, Look::Plain).rgb(), [188, 188, 188]);
    }

    #[test]
    fn keeps_every_value_at_full_size() {
        let samples: Vec<u8> = (0..=255).collect();
        let photo = Picture::new(16, 16, Channels::Grey, Samples::Eight(samples.clone())).unwrap();
        let drawn = ground(&photo, 16, 16, 0, Look::Plain);
        for (new, old) in drawn.rgb().chunks(3).zip(samples) {
            assert!(new[0].abs_diff(old) <= 1, "{old} became {}", new[0]);
        }
    }

    #[test]
    fn an_even_photo_stays_even_at_any_size() {
        let photo = Picture::new(97, 61, Channels::Rgb, Samples::Eight(vec![120; 97 * 61 * 3])).unwrap();
        for (width, height) in [(96, 60), (50, 31), (31, 20), (7, 5), (1, 1)] {
            let drawn = ground(&photo, width, height, 0, Look::Plain);
            assert_eq!(drawn.rgb().len(), width * height * 3);
            assert!(drawn.rgb().iter().all(|v| v.abs_diff(120) <= 1), "{width} x {height}");
        }
    }
}
