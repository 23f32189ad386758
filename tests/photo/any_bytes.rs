use super::{bytes, small};
use proptest::prelude::*;
use snapspark::photo::decode;

const FILES: &[&str] = &[
    "turned6.jpg",
    "progressive.jpg",
    "subsampled.jpg",
    "cmyk.jpg",
    "insane.jpg",
    "rgb16.png",
    "palette.png",
    "turned6.png",
    "lossless.webp",
    "lossy.webp",
    "alpha.webp",
    "animated.webp",
    "lzw.tif",
    "tiled.tif",
    "deep.tif",
    "turned6.tif",
    "big.tif",
    "planes.tif",
];

/// Either a picture that holds together, or a reason and a way out.
fn holds(bytes: &[u8]) {
    match decode(bytes, &small()) {
        Ok(photo) => {
            let picture = &photo.picture;
            let count = picture.width() * picture.height() * picture.channels().count();
            assert_eq!(picture.samples().len(), count);
            assert!(photo.notes.iter().all(|note| !note.to_string().is_empty()));
        }
        Err(e) => assert!(!e.to_string().is_empty() && !e.help().is_empty()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        holds(&bytes);
    }

    #[test]
    fn good_starts_with_any_rest(file in 0..FILES.len(), keep in 4..400_usize, rest in proptest::collection::vec(any::<u8>(), 0..600)) {
        let good = bytes(FILES[file]);
        holds(&[&good[..keep.min(good.len())], rest.as_slice()].concat());
    }

    #[test]
    fn good_files_cut_and_flipped(
        file in 0..FILES.len(),
        keep in 0.0..1.3_f64,
        flips in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..12),
    ) {
        let mut bytes = bytes(FILES[file]);
        bytes.truncate((bytes.len() as f64 * keep.min(1.0)) as usize);
        for (at, with) in flips {
            if !bytes.is_empty() {
                let at = at.index(bytes.len());
                bytes[at] = with;
            }
        }
        holds(&bytes);
    }
}
