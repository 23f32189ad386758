use super::{Said, run, sheet, snapspark};
use serde_json::Value;
use std::path::Path;

/// A picture of one grey.
fn grey(path: &Path, level: u8) {
    image::GrayImage::from_pixel(900, 700, image::Luma([level])).save(path).unwrap();
}

fn spark_in(folder: &Path, args: &[&str]) -> Said {
    run(snapspark().current_dir(folder).arg("spark").args(args))
}

#[test]
fn help() {
    let said = run(snapspark().args(["spark", "--help"]));
    assert_eq!(said.code, Some(0));
    insta::assert_snapshot!("help", said.out);
}

#[test]
fn what_is_no_stream_is_refused_and_cannot_tell() {
    let folder = tempfile::tempdir().unwrap();
    grey(&folder.path().join("dark.png"), 3);
    grey(&folder.path().join("white.png"), 255);
    let said = spark_in(folder.path(), &["dark.png", "white.png"]);
    assert_eq!((said.code, said.err.as_str()), (Some(4), ""));
    assert!(said.out.starts_with("Carbon by sparks: CANNOT TELL\n"), "{}", said.out);
    assert!(said.out.contains("dark.png: ") && said.out.contains("white.png: "), "{}", said.out);
    assert!(said.out.contains("What to do: "), "{}", said.out);
    let said = spark_in(folder.path(), &["dark.png", "--json"]);
    let data: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!((said.code, data["photos"]["unused"].as_array().unwrap().len()), (Some(4), 1));
    assert_eq!(data["estimate"]["sparks"]["answer"], "cannot_tell");
}

#[test]
fn what_is_no_picture_is_an_error_in_the_input() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("cut.jpg"), b"\xff\xd8\xff\xe0").unwrap();
    let said = spark_in(folder.path(), &["cut.jpg"]);
    assert_eq!(said.code, Some(1), "{}", said.out);
    assert!(said.out.contains("cut.jpg: "), "{}", said.out);
    let said = spark_in(folder.path(), &["none.jpg"]);
    assert_eq!(said.code, Some(1));
    assert!(said.err.contains("none.jpg") && said.err.contains("help:"), "{}", said.err);
}

#[test]
fn arguments_that_make_no_sense() {
    let folder = tempfile::tempdir().unwrap();
    grey(&folder.path().join("dark.png"), 3);
    for (args, code) in [
        (&["dark.png", "--scale", "1,2=3mm"][..], 2),
        (&["dark.png", "--state", "warm"], 2),
        (&["dark.png", "--wheel", "0 mm"], 2),
        (&["dark.png", "--touch", "0"], 2),
        (&[], 2),
        (&["dark.png", "--touch", "2,3"], 1),
        (&["dark.png", "--stock", "unobtainium"], 1),
        (&["dark.png", "--overlay", "dark.png"], 1),
        (&["dark.png", "--overlay", "nowhere/found.png"], 1),
    ] {
        let said = spark_in(folder.path(), args);
        assert_eq!(said.code, Some(code), "{args:?}: {}{}", said.out, said.err);
        assert!(said.err.starts_with("error: "), "{args:?}: {}", said.err);
    }
    assert_eq!(image::open(folder.path().join("dark.png")).unwrap().width(), 900, "the photo is kept");
}

#[test]
fn drawings_are_written_for_every_photo() {
    let folder = tempfile::tempdir().unwrap();
    grey(&folder.path().join("a.png"), 3);
    grey(&folder.path().join("b.png"), 40);
    let said = spark_in(folder.path(), &["a.png", "--against", "b.png", "--overlay", "found.png"]);
    assert_eq!(said.code, Some(4), "{}", said.err);
    for name in ["found-1.png", "found-2.png"] {
        assert!(image::open(folder.path().join(name)).is_ok(), "{name}");
    }
}

/// A sheet whose photos are missing or useless is answered by its words, and says what became of the photos.
#[test]
fn the_words_of_a_sheet_stand_where_its_photos_cannot_be_used() {
    const SHEET: &str = "run-sheet = 1\n[soak]\nsteps = [\"20 min to 925C\", \"hold 75 min\", \"cool in pack 2 h\"]\n\
                         [spark]\nstate = \"soft\"\ncompared = \"many more\"\ntiers = \"forked\"\n";
    let folder = tempfile::tempdir().unwrap();
    grey(&folder.path().join("dark.png"), 3);
    let check = |text: &str, args: &[&str]| {
        sheet(folder.path(), text);
        run(snapspark().current_dir(folder.path()).args(["check", "run.toml"]).args(args))
    };
    let words = check(SHEET, &[]);
    let with = format!("{SHEET}photos = [\"dark.png\", \"missing.jpg\"]\n");
    let photos = check(&with, &[]);
    assert_eq!(words.code, photos.code);
    assert_eq!(words.out.lines().next(), photos.out.lines().next());
    for name in ["dark.png", "missing.jpg"] {
        assert!(photos.out.contains(&format!("{name}: ")), "{}", photos.out);
    }
    let data = |text: &str| serde_json::from_str::<Value>(&check(text, &["--json"]).out).unwrap();
    let (words, photos) = (data(SHEET), data(&with));
    assert_eq!(words["estimate"], photos["estimate"]);
    assert_eq!(words["prediction"], photos["prediction"]);
    assert_eq!(photos["photos"]["unused"].as_array().unwrap().len(), 2);
}
