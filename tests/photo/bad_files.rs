use super::{bytes, small};
use snapspark::photo::{Limits, decode};

/// What is said of these bytes.
fn said(bytes: &[u8], limits: &Limits) -> String {
    match decode(bytes, limits) {
        Ok(photo) if photo.notes.is_empty() => "nothing wrong".into(),
        Ok(photo) => photo.notes.iter().map(|note| format!("note: {note}")).collect::<Vec<_>>().join("\n"),
        Err(e) => format!("{e}\n  help: {}", e.help().replace('\n', "\n        ")),
    }
}

/// A file with its bytes from `at` on replaced.
fn patched(name: &str, at: usize, with: &[u8]) -> Vec<u8> {
    let mut bytes = bytes(name);
    bytes[at..at + with.len()].copy_from_slice(with);
    bytes
}

fn cut(name: &str, share: f64) -> Vec<u8> {
    let bytes = bytes(name);
    bytes[..(bytes.len() as f64 * share) as usize].to_vec()
}

/// A file of the ISO base media family with this brand.
fn boxed(brand: [u8; 4]) -> Vec<u8> {
    [b"\0\0\0\x14ftyp", brand.as_slice(), b"\0\0\0\0mif1", &[0; 32]].concat()
}

/// A PNG that says it is this large and holds next to nothing.
fn png_bomb(side: u32) -> Vec<u8> {
    let mut bytes = bytes("rgb.png");
    bytes[16..20].copy_from_slice(&side.to_be_bytes());
    bytes[20..24].copy_from_slice(&side.to_be_bytes());
    let crc = crc32(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&crc.to_be_bytes());
    bytes
}

/// PNG, annex D: the checksum of a chunk.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, &byte| {
        (0..8).fold(crc ^ u32::from(byte), |c, _| if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

/// Where a JPEG's frame header stands.
fn frame(bytes: &[u8]) -> usize {
    bytes.windows(2).position(|w| w == [0xff, 0xc0]).unwrap()
}

#[test]
fn bad_files() {
    let usual = Limits::default();
    let small = small();
    let jpeg = bytes("turned1.jpg");
    let size = frame(&jpeg) + 5;
    let dng = [
        b"II*\0\x08\0\0\0\x01\0".as_slice(),
        &50706_u16.to_le_bytes(),
        &[1, 0, 4, 0, 0, 0, 1, 4, 0, 0, 0, 0, 0, 0],
    ]
    .concat();
    let random: Vec<u8> = (0..2000_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let cases: Vec<(&str, Vec<u8>, Limits)> = vec![
        ("empty", vec![], usual),
        ("one byte", vec![0xff], usual),
        ("text", b"spark, 12 bursts\n".to_vec(), usual),
        ("random bytes", random, usual),
        ("zeros", vec![0; 4096], usual),
        ("a web page", b"<!DOCTYPE html><html>".to_vec(), usual),
        ("GIF", b"GIF89a\x10\0\x10\0".to_vec(), usual),
        ("BMP", b"BM\x36\0\0\0\0\0\0\0".to_vec(), usual),
        ("AVIF", boxed(*b"avif"), usual),
        ("JPEG XL", b"\xff\x0a\0\0".to_vec(), usual),
        ("video", boxed(*b"isom"), usual),
        ("PDF", b"%PDF-1.7\n".to_vec(), usual),
        ("ZIP", b"PK\x03\x04....".to_vec(), usual),
        ("DNG", dng, usual),
        ("raw of the box family", boxed(*b"crx "), usual),
        ("raw with its own head", b"IIU\0\x18\0\0\0".to_vec(), usual),
        ("too few pixels", jpeg.clone(), usual),
        ("JPEG bomb", patched("turned1.jpg", size, &[0xff, 0xdc, 0xff, 0xdc]), small),
        ("JPEG of 144 MP", patched("turned1.jpg", size, &[0x2e, 0xe0, 0x2e, 0xe0]), small),
        ("JPEG without height", patched("turned1.jpg", size, &[0, 0]), small),
        ("PNG bomb", png_bomb(0x7fff_ffff), small),
        ("PNG of 49 MP with nothing in it", png_bomb(7000), small),
        ("file too large", jpeg.clone(), Limits { most_bytes: 1000, ..small }),
        ("too much memory", jpeg.clone(), Limits { most_memory: 1000, ..small }),
        ("JPEG: only a start", b"\xff\xd8\xff\xe0".to_vec(), small),
        ("JPEG: half", cut("turned1.jpg", 0.5), small),
        ("JPEG: head only", jpeg[..size + 40].to_vec(), small),
        ("PNG: half", cut("rgb16.png", 0.5), small),
        ("PNG: head only", cut("rgb.png", 0.15), small),
        ("PNG: bad checksum", patched("rgb.png", 60, &[1, 2, 3, 4]), small),
        ("TIFF: half", cut("tiled.tif", 0.5), small),
        ("TIFF: head only", b"II*\0\x08\0\0\0".to_vec(), small),
        ("TIFF of floating-point numbers", bytes("float.tif"), small),
        ("WebP: half", cut("lossy.webp", 0.5), small),
        ("WebP: lossless, half", cut("lossless.webp", 0.5), small),
        ("WebP: head only", bytes("lossy.webp")[..20].to_vec(), small),
    ];
    let told: Vec<String> =
        cases.iter().map(|(name, bytes, limits)| format!("== {name}\n{}", said(bytes, limits))).collect();
    insta::assert_snapshot!(told.join("\n"));
}

/// A build with the feature reads it.
#[cfg(not(feature = "heic"))]
#[test]
fn heic_is_refused_with_two_ways_out() {
    insta::assert_snapshot!(said(&bytes("turned6.heic"), &small()));
}
