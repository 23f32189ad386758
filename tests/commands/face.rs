use super::{Said, run, sheet, snapspark};
use crate::support::project;
use serde_json::Value;
use std::path::Path;

/// The drawn face that ships: `examples/face/README.md` says what was drawn.
const FACE: &str = "face.jpg";
/// Its sides as drawn, mm: top, right, bottom, left; and their middle.
const DRAWN: [(&str, f64); 4] = [("top", 0.4651), ("right", 0.4552), ("bottom", 0.4462), ("left", 0.4619)];
const MIDDLE: f64 = 0.4608;
/// What a side's median may be off by: what nine sides in ten are to keep to on drawn faces.
const OFF: f64 = 0.10;

/// A folder with the face in it.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::copy(project("examples/face/face.jpg"), folder.path().join(FACE)).unwrap();
    folder
}

pub(super) fn face_in(folder: &Path, args: &[&str]) -> Said {
    run(snapspark().current_dir(folder).arg("face").args(args))
}

fn data(said: &Said) -> Value {
    serde_json::from_str(&said.out).unwrap_or_else(|e| panic!("{e}: {}{}", said.out, said.err))
}

#[test]
fn help() {
    let said = run(snapspark().args(["face", "--help"]));
    assert_eq!(said.code, Some(0));
    insta::assert_snapshot!("help", said.out);
}

/// Against the truth that was drawn.
#[test]
fn the_example_is_read_as_it_was_drawn() {
    let folder = folder();
    let args = [FACE, "--thickness", "5.44mm", "--width", "5.51mm", "--quenched", "water"];
    let text = face_in(folder.path(), &args);
    assert_eq!((text.code, text.err.as_str()), (Some(0), ""), "{}", text.out);
    assert!(text.out.starts_with("Case by the fracture face: ALL ROUND\n"), "{}", text.out);
    assert!(text.out.lines().all(|l| l.chars().count() <= 80), "{}", text.out);
    let data = data(&face_in(folder.path(), &[&args[..], &["--json"]].concat()));
    let answer = &data["estimate"]["face"];
    assert_eq!((&answer["answer"], &answer["class"]), (&"read".into(), &"all_round".into()));
    let depth = |of: &Value, which: &str| of["depth_mm"][which].as_f64().unwrap();
    assert!((depth(answer, "best") - MIDDLE).abs() <= OFF, "{answer}");
    assert!(depth(answer, "low") <= MIDDLE && MIDDLE <= depth(answer, "high"), "{answer}");
    let photo = &data["face_photos"]["coupon"]["photos"][0];
    for (name, drawn) in DRAWN {
        let sides = photo["sides"].as_array().unwrap();
        let side = sides.iter().find(|s| s["side"] == name).unwrap();
        if side.get("unread").is_none() {
            assert!((depth(side, "best") - drawn).abs() <= OFF, "{name}: {side}");
        }
    }
}

#[test]
fn without_a_size_depths_are_shares_and_a_copy_is_no_second_photo() {
    let folder = folder();
    std::fs::copy(folder.path().join(FACE), folder.path().join("again.jpg")).unwrap();
    let said = face_in(folder.path(), &[FACE, "again.jpg", "--quenched", "oil", "--json"]);
    assert_eq!(said.code, Some(0), "{}", said.out);
    let data = data(&said);
    let coupon = &data["face_photos"]["coupon"];
    assert_eq!(coupon["photos"].as_array().unwrap().len(), 1);
    let codes: Vec<&str> =
        coupon["notes"].as_array().unwrap().iter().map(|n| n["code"].as_str().unwrap()).collect();
    assert!(codes.contains(&"copy") && codes.contains(&"no_scale"), "{codes:?}");
    assert!(coupon.get("depth_mm").is_none());
    let share = coupon["depth_of_thickness"]["best"].as_f64().unwrap();
    assert!((share - MIDDLE / 5.44).abs() <= OFF / 5.44, "{share}");
}

/// A rim that the blank shows too is no case.
#[test]
fn the_same_rim_on_the_blank_is_no_case() {
    let folder = folder();
    let args = [FACE, "--thickness", "5.44mm", "--quenched", "water", "--blank", FACE];
    let said = face_in(folder.path(), &args);
    assert_eq!(said.code, Some(4), "{}", said.out);
    assert!(said.out.starts_with("Case by the fracture face: CANNOT TELL\n"), "{}", said.out);
    let data = data(&face_in(folder.path(), &[&args[..], &["--json"]].concat()));
    assert_eq!(data["estimate"]["face"]["why"], serde_json::json!(["blank_shows_same_rim"]));
}

#[test]
fn overlay_mask_and_profile_are_written() {
    let folder = folder();
    let args = [
        FACE,
        "--thickness",
        "5.44mm",
        "--overlay",
        "found.png",
        "--mask",
        "mask.png",
        "--profile",
        "depths.csv",
    ];
    let said = face_in(folder.path(), &args);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    let opened = |name: &str| image::open(folder.path().join(name)).unwrap().into_luma8();
    let (photo, mask) = (opened(FACE), opened("mask.png"));
    assert_eq!(photo.dimensions(), mask.dimensions());
    let levels: std::collections::BTreeSet<u8> = mask.iter().copied().collect();
    assert!(levels.is_subset(&[0, 96, 176, 255].into()) && levels.len() >= 3, "{levels:?}");
    // white as the rim is: of a face of 5.44 by 5.51 mm, 0.46 mm all round
    let share = |level: u8| mask.pixels().filter(|p| p.0 == [level]).count() as f64;
    let rim = 1.0 - (5.44 - 2.0 * MIDDLE) * (5.51 - 2.0 * MIDDLE) / (5.44 * 5.51);
    let white = (share(255) + share(176)) / (share(255) + share(176) + share(96));
    assert!((white - rim).abs() < 0.1, "{white:.3} against {rim:.3}");
    assert!(opened("found.png").height() > 300);
    let csv = std::fs::read_to_string(folder.path().join("depths.csv")).unwrap();
    let mut lines = csv.lines();
    assert_eq!(lines.next(), Some("face,photo,side,unit,along,depth_low,depth,depth_high,read,corner"));
    assert!(lines.clone().count() > 40);
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!((cells.len(), cells[0], cells[1], cells[3]), (10, "coupon", FACE, "mm"), "{line}");
        let [along, low, depth, high] = [4, 5, 6, 7].map(|i| cells[i].parse::<f64>().unwrap());
        assert!((0.0..=6.0).contains(&along) && low <= depth + 1e-3 && depth <= high + 1e-3, "{line}");
    }
}

#[test]
fn corners_that_are_told_are_used() {
    let folder = folder();
    let corners = "91,509 602,487 624,1003 114,1026";
    let args = [FACE, "--thickness", "5.44mm", "--width", "5.51mm", "--outline", corners, "--json"];
    let said = face_in(folder.path(), &args);
    let data = data(&said);
    let px = data["face_photos"]["coupon"]["photos"][0]["thickness_px"].as_f64().unwrap();
    // the mean of two sides of 511.5 and 516.9 px is what lies across
    assert!((px - 514.0).abs() < 12.0, "{px}");
}

/// The sheet's photos answer where nothing was told, from the sheet's folder and by the coupon's size.
#[test]
fn a_sheet_reads_its_photos() {
    const SHEET: &str = "run-sheet = 1\n[stock]\ncoupon = \"flat\"\nthickness = \"5.44 mm\"\n[soak]\nsteps = \
                         [\"20 min to 925C\", \"hold 75 min\", \"cool in pack 2 h\"]\n[fracture]\nquenched_in = \
                         \"water\"\n";
    let folder = folder();
    let check = |text: &str| {
        let path = sheet(folder.path(), text);
        run(snapspark().args(["check", "--quick", path.to_str().unwrap(), "--json"]))
    };
    let words = data(&check(SHEET));
    assert_eq!(words["estimate"]["face"]["why"], serde_json::json!(["nothing_said"]));
    let photos = data(&check(&format!("{SHEET}photos = [\"face.jpg\", \"none.jpg\"]\n")));
    assert_eq!(photos["estimate"]["face"]["class"], "all_round");
    assert_eq!(photos["face_photos"]["unused"][0]["code"], "not_read");
    let by_command =
        data(&face_in(folder.path(), &[FACE, "--thickness", "5.44mm", "--quenched", "water", "--json"]));
    assert_eq!(photos["estimate"]["face"], by_command["estimate"]["face"]);
    assert_eq!(photos["prediction"], words["prediction"]);
    // what was told stands, and that photos show otherwise is said
    let told = data(&check(&format!("{SHEET}rim = \"through\"\nphotos = \"face.jpg\"\n")));
    assert_eq!(told["estimate"]["face"]["class"], "through");
    let doubts = told["estimate"]["face"]["doubts"].as_array().unwrap();
    assert!(doubts.contains(&"photos_disagree_rim".into()), "{doubts:?}");
    let text = run(snapspark().args(["check", "--quick", folder.path().join("run.toml").to_str().unwrap()]));
    assert!(text.out.contains("Photos of the fracture face\n"), "{}", text.out);
    assert!(text.out.lines().all(|l| l.chars().count() <= 80), "{}", text.out);
}
