use super::{bytes, pixel, read, small};
use snapspark::photo::{PhotoError, PhotoNote, decode};

/// Whatever stands behind the end mark does not matter: a film, or padding.
#[test]
fn what_follows_the_end_does_not_matter() {
    let whole = read("turned1.jpg").unwrap();
    for tail in [vec![0; 5000], boxed_film(), vec![0xff; 300], b"\xff\xd8\xff\xda".to_vec()] {
        let photo = decode(&[bytes("turned1.jpg"), tail].concat(), &small()).unwrap();
        assert_eq!(photo.notes, []);
        assert!(photo.picture == whole.picture, "other pixels");
    }
}

fn boxed_film() -> Vec<u8> {
    [b"\0\0\0\x18ftypmp42\0\0\0\0isommp42".as_slice(), &[7; 2000]].concat()
}

/// A file cut anywhere is either refused, or noted and its rows are real: within the JPEG tolerance of `seen`.
#[test]
fn no_cut_passes_for_a_whole_picture() {
    for name in ["turned1.jpg", "progressive.jpg", "grey.jpg", "subsampled.jpg", "cmyk.jpg"] {
        let whole = read(name).unwrap().picture;
        let bytes = bytes(name);
        let mut refused = 0;
        for length in 4..bytes.len() - 2 {
            match decode(&bytes[..length], &small()) {
                Err(_) => refused += 1,
                Ok(photo) => {
                    let noted = photo.notes.iter().any(|note| {
                        matches!(note, PhotoNote::CutOff { .. } | PhotoNote::CutOffWhileSharpening)
                    });
                    assert!(noted, "{name} cut at {length}: {:?}", photo.notes);
                    assert_eq!(photo.picture.width(), whole.width());
                    assert_eq!(pixel(&photo.picture, 2, 2).len(), pixel(&whole, 2, 2).len());
                }
            }
        }
        assert!(refused > bytes.len() / 2, "{name}: only {refused} of {} refused", bytes.len());
    }
}

/// A copy that broke off at a third and was filled up with zeros, or whose data turn to rubbish.
#[test]
fn padding_and_rubbish_are_no_picture() {
    let mut bytes = bytes("turned1.jpg");
    let third = bytes.len() * 2 / 3;
    bytes[third..].fill(0);
    bytes.extend([0; 200]);
    let padded = decode(&bytes, &small());
    assert!(matches!(padded, Err(PhotoError::RowsMissing { .. })), "{:?}", padded.map(|p| p.notes));
}
