//! From measured photos to words and JSON. Streams are drawn by this project; nothing here speaks of real sparks.

use crate::support::models;
use crate::support::streams::{Chance, Truth, photo};
use serde_json::Value;
use snapspark::files::{Answer, Looked, Observed, look_at_photos, name_photos};
use snapspark::report;
use snapspark::spark::{
    LookedAt, PhotoPaths, Refusal, SparkObservation, SteelState, StreamObservation, StreamPhoto, Unusable,
    Wheel,
};
use snapspark::units::{CarbonPercent, Interval};
use std::path::Path;

const RICH: Truth = Truth { carriers: 60.0, share: 0.55, length: 300.0, spread: 0.0 };
const PLAIN: Truth = Truth { carriers: 40.0, share: 0.14, length: 300.0, spread: 0.0 };

/// What a name stands for.
fn look(path: &Path) -> Result<Looked, Unusable> {
    let name = path.file_name().unwrap().to_str().unwrap();
    let seed = name.bytes().map(u64::from).sum();
    let shows = |truth: &Truth, taken: &str| -> StreamPhoto {
        let mut photo = photo(truth, &mut Chance::new(seed));
        photo.exposed.taken = Some(taken.into());
        photo
    };
    match name.split_once('-').map_or(name, |(kind, _)| kind) {
        "rich" => Ok(Looked { photo: shows(&RICH, "2031-05-17 14:03:22"), rim: None, remarks: Vec::new() }),
        "later" => Ok(Looked {
            photo: shows(&PLAIN, "2031-05-17 14:09:05"),
            rim: None,
            remarks: vec!["a remark".into()],
        }),
        "stock" => Ok(Looked { photo: shows(&PLAIN, "2031-05-17 13:40:00"), rim: None, remarks: Vec::new() }),
        "dark" => Err(Unusable::Refused(Refusal::TooDark { signal: 1.4, needed: 3.0 })),
        _ => Err(Unusable::NotRead {
            message: "the file is empty (0 bytes)".into(),
            help: "copy it again".into(),
        }),
    }
}

fn stream(photos: &[&str]) -> StreamObservation {
    let photos = PhotoPaths::Mixed(photos.iter().map(ToString::to_string).collect());
    StreamObservation { photos, state: Some(SteelState::Soft), ..StreamObservation::default() }
}

fn told(coupon: &[&str], stock: &[&str]) -> SparkObservation {
    SparkObservation {
        coupon: stream(coupon),
        untreated: (!stock.is_empty()).then(|| stream(stock)),
        wheel: Some(Wheel::default()),
        ..SparkObservation::default()
    }
}

fn answer(mut told: SparkObservation) -> (LookedAt, Observed) {
    let looked = look_at_photos(&told, Path::new("x"), models(), &mut look).unwrap();
    told.photographed = looked.sparks.as_ref().map(|s| s.says.clone());
    let sparks = Observed::sparks(&told, &mild(), None, models()).unwrap();
    (looked, Observed { sparks: Some(sparks), face: None })
}

fn text(told: SparkObservation) -> String {
    let (looked, observed) = answer(told);
    let text = report::spark_page(&report::sparks(&looked, &observed.sparks.unwrap().1)).text();
    let wide: Vec<&str> = text.lines().filter(|l| l.chars().count() > 80).collect();
    assert!(wide.is_empty(), "{wide:?}");
    text
}

fn json(told: SparkObservation) -> Value {
    let (looked, observed) = answer(told);
    serde_json::from_str(&Answer::spark(&observed, &looked).json().unwrap()).unwrap()
}

/// Carbon of mild steel.
fn mild() -> Interval<CarbonPercent> {
    Interval::exact(CarbonPercent::new(0.18).unwrap())
}

#[test]
fn a_coupon_beside_its_stock_in_words() {
    let told = told(
        &["rich-1.jpg", "rich-2.jpg", "later-1.jpg", "dark-1.jpg", "broken.jpg"],
        &["stock-1.jpg", "stock-2.jpg"],
    );
    insta::assert_snapshot!("beside_stock", text(told));
}

#[test]
fn a_coupon_alone_in_words() {
    insta::assert_snapshot!("alone", text(told(&["rich-1.jpg"], &[])));
}

#[test]
fn every_refusal_says_why_and_what_to_do() {
    let refusals = [
        Refusal::NoSparks { lines: 3, needed: 8 },
        Refusal::NoStream { lines: 60, share: 22.0, needed: 50.0 },
        Refusal::UnlikeSparks { sure: 47.0, needed: 54.0 },
        Refusal::SideBySide { outside: 1.4, allowed: 0.5 },
        Refusal::AllRound { opening: 310.0, allowed: 120.0 },
        Refusal::TooDark { signal: 1.4, needed: 3.0 },
        Refusal::BlownOut { share: 64.0, allowed: 40.0 },
        Refusal::Blurred { width: 14.0, share: 9.2, allowed: 4.0 },
        Refusal::TooFew { found: 5, needed: 10 },
        Refusal::NotSeparable { share: 6.0, needed: 20.0 },
    ];
    let names: Vec<String> = (0..refusals.len()).map(|i| format!("{i}.jpg")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let mut next = refusals.into_iter();
    let told = told(&names, &[]);
    let looked =
        look_at_photos(&told, Path::new(""), models(), &mut |_| Err(Unusable::Refused(next.next().unwrap())))
            .unwrap();
    let sparks = Observed::sparks(&told, &mild(), None, models()).unwrap().1;
    insta::assert_snapshot!("refused", report::spark_page(&report::sparks(&looked, &sparks)).text());
    assert_eq!(looked.unused.len(), 10);
}

#[test]
fn as_data() {
    let told = told(&["rich-1.jpg", "rich-2.jpg", "later-1.jpg", "dark-1.jpg"], &["stock-1.jpg"]);
    let data = json(told);
    let (photos, sparks) = (&data["photos"], &data["estimate"]["sparks"]);
    assert_eq!((&data["command"], &sparks["answer"]), (&"spark".into(), &"bands".into()));
    assert!(data.get("prediction").is_none() && data.get("run").is_none());
    let coupon = &photos["coupon"];
    assert_eq!(coupon["photos"].as_array().unwrap().len(), 3);
    assert_eq!(coupon["photos"][2]["touch"], 2);
    assert_eq!((&coupon["surface_touches"], &coupon["over_time"]), (&1.into(), &"rich_then_plain".into()));
    assert_eq!(photos["unused"][0]["code"], "too_dark");
    assert_eq!(photos["remarks"][0]["remark"], "a remark");
    let range = |value: &Value| ["low", "best", "high"].map(|k| value[k].as_f64().unwrap());
    for figures in [&coupon["pooled"], &coupon["touches"][1]["shows"], &photos["untreated"]["pooled"]] {
        for name in [
            "carriers",
            "length_median_px",
            "length_p95_px",
            "share_bursting",
            "share_bursting_in_flight",
            "bursts_per_carrier",
            "rays",
            "secondary_share",
            "tiers",
            "onset",
        ] {
            let [low, best, high] = range(&figures[name]);
            assert!(low <= best && best <= high, "{name}");
        }
    }
    for name in ["bursts", "carriers", "bursts_per_length", "stream_length"] {
        let [low, best, high] = range(&photos["contrast"][name]);
        assert!(0.0 < low && low < best && best < high, "{name}");
    }
}

/// The drawn coupon throws what the trend has at 0.45 to 0.60 %C, beside stock of about 0.15; the words say plain.
#[test]
fn photos_fill_what_was_not_told_and_are_settled_with_what_was() {
    let mut said = told(&["rich-1.jpg", "rich-2.jpg"], &["stock-1.jpg"]);
    let share = |value: &Value| value["estimate"]["sparks"]["doubts"].to_string();
    assert!(!share(&json(said.clone())).contains("photos_disagree"));
    said.coupon.share_bursting = Some(snapspark::spark::Told::Word(snapspark::spark::PartOf::None));
    assert!(share(&json(said)).contains("photos_disagree_share_bursting"));
}

#[test]
fn folders_and_patterns_in_a_sheet_stand_for_the_photos_in_them() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["rich-2.jpg", "rich-10.jpg", "stock-1.jpg", "notes.txt"] {
        std::fs::write(folder.path().join(name), b"x").unwrap();
    }
    let mut said = told(&["rich-*.jpg", "*.png"], &["stock-1.jpg"]);
    let unused = name_photos(&mut said, folder.path());
    assert_eq!(said.photos().collect::<Vec<_>>(), ["rich-2.jpg", "rich-10.jpg", "stock-1.jpg"]);
    assert_eq!(unused.iter().map(|u| u.name.as_str()).collect::<Vec<_>>(), ["*.png"]);
    let mut all = told(&["."], &[]);
    assert!(name_photos(&mut all, folder.path()).is_empty());
    assert_eq!(all.photos().count(), 3);
}
