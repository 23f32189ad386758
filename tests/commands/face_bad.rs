//! Pictures and arguments that cannot be meant.

use super::face::face_in;
use crate::support::project;
use std::fs;
use std::path::Path;

const FACE: &str = "face.jpg";

/// A picture of one grey.
fn grey(path: &Path, width: u32, height: u32, level: u8) {
    image::GrayImage::from_pixel(width, height, image::Luma([level])).save(path).unwrap();
}

/// A JPEG whose header says that it is 65535 by 65535 px.
fn huge(face: &[u8]) -> Vec<u8> {
    let mut bytes = face.to_vec();
    let frame = bytes.windows(2).position(|w| w == [0xff, 0xc0] || w == [0xff, 0xc2]).unwrap();
    bytes[frame + 5..frame + 9].fill(0xff);
    bytes
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let face = fs::read(project("examples/face/face.jpg")).unwrap();
    fs::write(at(FACE), &face).unwrap();
    fs::write(at("cut.jpg"), &face[..600]).unwrap();
    fs::write(at("huge.jpg"), huge(&face)).unwrap();
    fs::write(at("empty.jpg"), []).unwrap();
    fs::write(at("words.jpg"), "rim all round, half a millimetre\n").unwrap();
    fs::write(at("table.zip"), b"PK\x03\x04 and so on").unwrap();
    grey(&at("tiny.png"), 12, 9, 120);
    grey(&at("grey.png"), 900, 700, 120);
    grey(&at("black.png"), 900, 700, 0);
    grey(&at("white.png"), 900, 700, 255);
    fs::create_dir(at("none")).unwrap();
    folder
}

/// What is said on either channel, with the exit code.
#[test]
fn bad_pictures_and_arguments() {
    let folder = folder();
    let cases: [&[&str]; 26] = [
        &["table.zip"],
        &["cut.jpg"],
        &["huge.jpg"],
        &["empty.jpg"],
        &["words.jpg"],
        &["tiny.png"],
        &["grey.png"],
        &["black.png"],
        &["white.png"],
        &["missing.jpg"],
        &["none"],
        &[],
        &[FACE, "--outline", "10,10 200,10 200,200"],
        &[FACE, "--outline", "10,10 200;10 200,200 10,200"],
        &[FACE, "--outline", "10,10 200,200 200,10 10,200"],
        &[FACE, "--outline", "10,10 200,10 201,11 10,200"],
        &[FACE, "--outline", "10,10 9000,10 9000,900 10,900"],
        &[FACE, "--outline", "corners"],
        &[FACE, "--scale", "1,2,3=10mm"],
        &[FACE, "--thickness", "0mm"],
        &[FACE, "--thickness", "3.2"],
        &[FACE, "--width", "9 m"],
        &[FACE, "--quenched", "milk"],
        &[FACE, "--overlay", FACE],
        &[FACE, "--overlay", "a.png", "--mask", "a.png"],
        &[FACE, "--profile", FACE],
    ];
    let mut all = Vec::new();
    for args in cases {
        let said = face_in(folder.path(), args);
        let code = said.code.unwrap();
        assert!((1..=4).contains(&code), "{args:?}: {}", said.out);
        assert!(!said.err.contains("panicked"), "{args:?}: {}", said.err);
        // what stands in every answer is told by other tests
        let out = said.out.split("\nCautions").next().unwrap();
        all.push(format!("$ face {}\n{out}{}= {code}\n\n", args.join(" "), said.err));
    }
    insta::assert_snapshot!("bad", all.concat());
    let kept = fs::read(folder.path().join(FACE)).unwrap();
    assert_eq!(kept, fs::read(project("examples/face/face.jpg")).unwrap(), "the photo is kept");
}

/// A scale off the picture is said and left out.
#[test]
fn marks_that_are_not_on_the_picture_give_no_scale() {
    let folder = folder();
    let said = face_in(folder.path(), &[FACE, "--scale", "1,2,8000,3=10mm"]);
    assert!(said.out.contains("the scale was left out"), "{}", said.out);
}
