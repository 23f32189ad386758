use super::drawing::{Drawing, Point};
use super::palette::Colour;
use noto_sans_mono_bitmap::{FontWeight, RasterHeight, get_raster};

/// The letters: Noto Sans Mono, bold, one size, drawn at any other by interpolation.
const WEIGHT: FontWeight = FontWeight::Bold;
const RASTER: RasterHeight = RasterHeight::Size32;
/// Rows of the raster from the top of capitals to the foot of a "g", of its 32.
const ROWS: [usize; 2] = [8, 31];
/// Columns of the raster.
const COLUMNS: usize = noto_sans_mono_bitmap::get_raster_width(WEIGHT, RASTER);

/// How wide a letter is at a size, px.
pub(super) fn advance(size: f64) -> f64 {
    size * COLUMNS as f64 / (ROWS[1] - ROWS[0]) as f64
}

/// How wide a text is at a size, px.
pub(super) fn width(text: &str, size: f64) -> f64 {
    advance(size) * text.chars().count() as f64
}

/// From the top of capitals to the line that they stand on, share of the size.
pub(super) const CAPITAL: f64 = 17.0 / 23.0;

/// Writes one line: `at` is the top left corner of its capitals, `size` the height from the top of capitals to
/// the foot of a "g", px. A letter that the font has not is a question mark.
pub(super) fn write(on: &mut Drawing, at: Point, size: f64, colour: Colour, text: &str) {
    let scale = size / (ROWS[1] - ROWS[0]) as f64;
    for (i, letter) in text.chars().enumerate() {
        let Some(raster) = get_raster(letter, WEIGHT, RASTER).or_else(|| get_raster('?', WEIGHT, RASTER))
        else {
            continue;
        };
        let left = at[0] + advance(size) * i as f64;
        // brackets and the like reach above and below
        let top = at[1] - ROWS[0] as f64 * scale;
        let bounds = [left, top, left + advance(size), top + raster.height() as f64 * scale];
        let ink = |x: f64, y: f64| {
            let inside = x >= 0.0 && y >= 0.0;
            let there = if inside { raster.pixel(x as usize, y as usize) } else { None };
            f64::from(there.unwrap_or(0)) / 255.0
        };
        on.fill(bounds, colour, |[px, py]| {
            let x = (px - left) / scale - 0.5;
            let y = (py - top) / scale - 0.5;
            let (x0, y0) = (x.floor(), y.floor());
            let row = |y: f64| ink(x0, y) + (ink(x0 + 1.0, y) - ink(x0, y)) * (x - x0);
            let covered = row(y0) + (row(y0 + 1.0) - row(y0)) * (y - y0);
            0.5 - covered
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::overlay::palette::{INK, WHITE};

    /// Rows of a letter that are more ink than not.
    fn rows(letter: char) -> [usize; 2] {
        let raster = get_raster(letter, WEIGHT, RASTER).unwrap();
        let inked = raster.rows().enumerate().filter(|(_, row)| row.iter().any(|v| *v >= 128));
        inked.fold([usize::MAX, 0], |[first, last], (y, _)| [first.min(y), last.max(y + 1)])
    }

    #[test]
    fn the_size_is_that_of_the_letters() {
        let foot = ROWS[0] + (CAPITAL * (ROWS[1] - ROWS[0]) as f64) as usize;
        for letter in ['H', 'E', 'T', 'x', '1', '4', '7'] {
            assert_eq!(rows(letter)[1], foot, "{letter}");
        }
        assert_eq!([rows('H')[0], rows('4')[0], rows('g')[1]], [ROWS[0], ROWS[0], ROWS[1]]);
    }

    #[test]
    fn writes_at_any_size() {
        for size in [11.0, 23.0, 60.0] {
            let mut drawing = Drawing::plain(200, 100, INK);
            write(&mut drawing, [10.0, 20.0], size, WHITE, "H");
            let lit: Vec<usize> =
                (0..100).filter(|y| (0..200).any(|x| drawing.rgb()[(y * 200 + x) * 3] > 130)).collect();
            let height = (lit[lit.len() - 1] - lit[0] + 1) as f64;
            assert!((height - size * CAPITAL).abs() <= 1.5, "{size}: {height}");
            assert!(lit[0].abs_diff(20) <= 1, "{lit:?}");
        }
    }
}
