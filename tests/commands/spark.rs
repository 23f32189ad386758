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
        run(snapspark().current_dir(folder.path()).args(["check", "--quick", "run.toml"]).args(args))
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

/// A plain stream to the right on black: carriers like a fan, every `every`th with a burst of five rays. Drawn here to
/// see that the program goes from picture to answer; how well it measures is tested elsewhere.
pub(crate) fn stream(path: &Path, every: usize) {
    const CARRIERS: usize = 36;
    let mut picture = image::GrayImage::new(1600, 1100);
    let mut line = |from: [f64; 2], angle: f64, length: f64| {
        let (dx, dy) = (angle.cos(), angle.sin());
        let steps = (length * 2.0) as usize;
        for i in 0..=steps {
            let at = i as f64 / 2.0;
            let [x, y] = [from[0] + at * dx, from[1] + at * dy];
            for (px, py) in [-2_i32, -1, 0, 1, 2].iter().flat_map(|a| [-2_i32, -1, 0, 1, 2].map(|b| (*a, b)))
            {
                let (cx, cy) = (x.floor() + f64::from(px), y.floor() + f64::from(py));
                let off = (cx + 0.5 - x).hypot(cy + 0.5 - y);
                let level = (230.0 * (-off * off / 2.0).exp()) as u8;
                if (0.0..1600.0).contains(&cx) && (0.0..1100.0).contains(&cy) {
                    let pixel = picture.get_pixel_mut(cx as u32, cy as u32);
                    pixel.0[0] = pixel.0[0].max(level);
                }
            }
        }
        [from[0] + length * dx, from[1] + length * dy]
    };
    for i in 0..CARRIERS {
        let angle = 0.5 * (i as f64 / (CARRIERS - 1) as f64 - 0.5);
        let start = 40.0 + 60.0 * (i % 5) as f64;
        let from = [80.0 + start * angle.cos(), 550.0 + start * angle.sin()];
        let tip = line(from, angle, 700.0 + 90.0 * (i % 7) as f64);
        if i % every == 0 {
            for ray in 0..5 {
                line(tip, angle + 0.5 * (f64::from(ray) - 2.0), 34.0);
            }
        }
    }
    picture.save(path).unwrap();
}

#[test]
fn from_pictures_to_an_answer() {
    let folder = tempfile::tempdir().unwrap();
    stream(&folder.path().join("coupon.png"), 2);
    stream(&folder.path().join("stock.png"), 6);
    let args = ["coupon.png", "--against", "stock.png", "--state", "soft", "--stock-state", "soft"];
    let said = spark_in(folder.path(), &args);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""), "{}", said.out);
    assert!(said.out.lines().all(|l| l.chars().count() <= 80), "{}", said.out);
    let said =
        spark_in(folder.path(), &[&args[..], &["--json", "--scale", "80,550,1080,550=500mm"]].concat());
    let data: Value = serde_json::from_str(&said.out).unwrap();
    let photos = &data["photos"];
    assert_eq!(data["estimate"]["sparks"]["answer"], "bands");
    let pooled = &photos["coupon"]["pooled"];
    assert!(pooled["carriers"]["best"].as_f64().unwrap() > 10.0, "{pooled}");
    let (px, mm) = (&pooled["length_median_px"]["best"], &pooled["length_median_mm"]["best"]);
    assert!((mm.as_f64().unwrap() / px.as_f64().unwrap() - 0.5).abs() < 0.01);
    assert!(photos["contrast"]["bursts"]["best"].as_f64().unwrap() > 1.0, "{photos}");
}
