use super::{pixel, read};
use crate::support::project;
use snapspark::photo::{Channels, Exposure, PhotoError, PhotoNote, Picture, Samples, Shrink};

/// Lines of a table beside this file, without comments, in words.
fn table(name: &str) -> Vec<Vec<String>> {
    let text = std::fs::read_to_string(project("tests/photo").join(name)).unwrap();
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines.map(|line| line.split_whitespace().map(str::to_owned).collect()).collect()
}

/// Most difference of a sample: none for lossless formats; for JPEG and lossy WebP two decoders may round apart
/// by a few steps, more where colour is stored at half size and spread by other filters.
fn tolerance(name: &str) -> u16 {
    match name.rsplit_once('.') {
        // Colour at full size.
        Some(("grey", "jpg")) => 3,
        Some((turned, "jpg")) if turned.starts_with("turned") => 3,
        Some(("cmyk", "jpg")) => 4,
        // Colour at half size, the writer's default; the HEIC reader's maker measured 18 on a photo.
        Some((_, "jpg" | "heic") | ("lossy", "webp")) => 30,
        _ => 0,
    }
}

/// Pillow 13.0.0 and tifffile 2026.3.3 on the same files, `seen.txt`.
#[test]
fn pixels_are_those_that_other_readers_see() {
    let rows = table("seen.txt");
    assert!(rows.len() >= 35, "{}", rows.len());
    for row in rows {
        let [name, width, height, bits, spots @ ..] = row.as_slice() else { panic!("{row:?}") };
        if name == "turned6.heic" && cfg!(not(feature = "heic")) {
            assert_eq!(read(name), Err(PhotoError::HeicNotBuilt));
            continue;
        }
        let picture = read(name).unwrap_or_else(|e| panic!("{name}: {e}")).picture;
        let deep = matches!(picture.samples(), Samples::Sixteen(_));
        assert_eq!(
            (picture.width(), picture.height()),
            (width.parse().unwrap(), height.parse().unwrap()),
            "{name}"
        );
        assert_eq!(deep, bits == "16", "{name}");
        for spot in spots {
            let (at, value) = spot.split_once('=').unwrap();
            let (x, y) = at.split_once(',').unwrap();
            let got = pixel(&picture, x.parse().unwrap(), y.parse().unwrap());
            let want: Vec<u16> = value.split('/').map(|v| v.parse().unwrap()).collect();
            // Grey is grey, whether stored once or three times.
            let want = if want.len() < got.len() { vec![want[0]; got.len()] } else { want };
            assert_eq!(got.len(), want.len(), "{name}");
            let most = got.iter().zip(&want).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
            assert!(most <= tolerance(name), "{name} {spot}: {got:?}");
        }
    }
}

/// The values that `make.py` had Pillow write.
#[test]
fn exposure_is_what_was_written() {
    for name in ["turned1.jpg", "turned8.jpg", "turned6.png", "turned6.webp", "turned6.tif"] {
        let photo = read(name).unwrap();
        let Exposure { time, f_number, iso, bias, focal_length, focal_length_35mm, taken_at } =
            photo.exposure.clone();
        let time = time.unwrap_or_else(|| panic!("{name}: no exposure time"));
        assert!((time.seconds() - 1.0 / 160.0).abs() < 1e-9, "{name}");
        assert_eq!((f_number, iso), (Some(1.8), Some(400.0)), "{name}");
        assert!((bias.unwrap() + 2.0 / 3.0).abs() < 1e-9, "{name}");
        assert!((focal_length.unwrap().millimetres() - 4.25).abs() < 1e-9, "{name}");
        assert!((focal_length_35mm.unwrap().millimetres() - 26.0).abs() < 1e-9, "{name}");
        assert_eq!(taken_at.as_deref(), Some("2026-03-14 15:09:26"), "{name}");
        // 1/160 s at ISO 400 and F 1.8: 4 / 160 / 3.24 = 0.007716 s
        assert!((photo.exposure.strength().unwrap() - 0.007_716).abs() < 1e-6, "{name}");
        assert_eq!(photo.notes, [], "{name}");
    }
}

#[test]
fn fractions_stored_as_pairs_of_whole_numbers_are_read() {
    let exposure = read("short_pairs.jpg").unwrap().exposure;
    assert!((exposure.time.unwrap().seconds() - 1.0 / 60.0).abs() < 1e-9);
    assert_eq!((exposure.f_number, exposure.iso), (Some(2.8), None));
    assert!((exposure.bias.unwrap() + 2.0 / 3.0).abs() < 1e-9);
}

#[test]
fn what_cannot_be_is_left_out_and_told() {
    let photo = read("insane.jpg").unwrap();
    assert_eq!(photo.exposure, Exposure::default());
    let said: Vec<String> = photo.notes.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(said.join("\n"));
    let unknown = read("unknown.jpg").unwrap();
    // 65535 says that the number did not fit; another tag has it. No time, no note.
    assert_eq!(unknown.exposure, Exposure { iso: Some(102_400.0), ..Exposure::default() });
    assert_eq!(unknown.notes, []);
    assert_eq!(read("broken_exif.jpg").unwrap().notes, [PhotoNote::ExifUnreadable]);
    assert_eq!(read("rgb.png").unwrap().notes, []);
}

#[test]
fn notes_what_a_reader_should_know() {
    for name in ["animated.webp", "pages.tif"] {
        assert_eq!(read(name).unwrap().notes, [PhotoNote::FirstOfMany], "{name}");
    }
    for name in ["alpha.png", "alpha.webp"] {
        assert_eq!(read(name).unwrap().notes, [PhotoNote::SeeThrough], "{name}");
    }
    assert!(matches!(read("float.tif"), Err(PhotoError::Unsupported { .. })), "{:?}", read("float.tif"));
}

/// scikit-image 0.26.0, `luminance.txt`. Its weights are 0.212671, 0.71516, 0.072169: within 1e-4 of those here.
#[test]
fn linear_light_is_that_of_a_colour_library() {
    let rows = table("luminance.txt");
    assert!(rows.len() >= 30);
    for row in &rows {
        let rgb: Vec<u8> = row[..3].iter().map(|v| v.parse().unwrap()).collect();
        let want: f32 = row[3].parse().unwrap();
        let deep = rgb.iter().map(|&v| u16::from(v) * 257).collect();
        for samples in [Samples::Eight(rgb.clone()), Samples::Sixteen(deep)] {
            let picture = Picture::new(1, 1, Channels::Rgb, samples).unwrap();
            let got = picture.linear(Shrink::NONE).luminance(0..1);
            assert!((got[0] - want).abs() < 1e-4, "{row:?}: {got:?}");
        }
    }
}

/// Light of a cell is the mean of its pixels' light, not of their samples: black and white make 0.5, not 0.21.
#[test]
fn cells_average_light() {
    for factor in 1..=8 {
        let side = 2 * factor + 1;
        let checked = |i: usize| if (i / side + i % side).is_multiple_of(2) { 255 } else { 0 };
        let picture =
            Picture::new(side, side, Channels::Grey, Samples::Eight((0..side * side).map(checked).collect()));
        let picture = picture.unwrap();
        let linear = picture.linear(Shrink::by(factor).unwrap());
        let width = side / factor;
        assert_eq!((linear.width(), linear.height()), (width, width));
        let [red, green, blue] = linear.rgb(0..usize::MAX);
        assert_eq!(red.len(), width * width);
        assert!(red == green && green == blue && red == linear.luminance(0..width));
        let white = (factor * factor).div_ceil(2) as f32 / (factor * factor) as f32;
        assert!((red[0] - white).abs() < 1e-6, "{factor}: {}", red[0]);
        assert!(linear.luminance(width..width + 5).is_empty(), "past the last row");
        assert_eq!(linear.luminance(1..2), red[width..2 * width]);
    }
    assert_eq!((Shrink::by(0), Shrink::by(9)), (None, None));
}
