//! What photos of known steels show: measured once, kept, and made again when it has to be.

use super::store::Store;
use crate::commands::spark::stream;
use crate::support::models;
use crate::support::streams::{Chance, Truth, photo};
use snapspark::files::known_set::KnownReading;
use snapspark::files::{KnownSet, Looked};
use snapspark::known::Measured;
use snapspark::spark::{
    Frame, Grouping, MEASURING, PhotoConditions, Series, StreamFigures, StreamPhoto, pool_photos,
};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

const TRUTH: Truth = Truth { carriers: 60.0, share: 0.4, length: 300.0, spread: 0.1 };

/// A set of two steels, three photos in all, whose kept figures are of an older way of measuring.
fn filled() -> Store {
    let store = Store::new();
    let (a, b, c) = (store.photo("a.png", 1), store.photo("b.png", 2), store.photo("c.png", 3));
    let day = ["--rig", "bench", "--session", "2026-03-14"];
    for args in [&["add", "--steel", "1095", "--touch", "1,1", a, b][..], &["add", "--steel", "1045", c]] {
        assert_eq!(store.known(&[args, &day].concat()).code, Some(0));
    }
    for (name, _) in store.open().records() {
        let path = store.open().layout().measured(name);
        let text = std::fs::read_to_string(&path).unwrap();
        let now = format!("measuring = {MEASURING}\n");
        assert!(text.contains(&now), "{text}");
        std::fs::write(path, text.replace(&now, &format!("measuring = {}\n", MEASURING - 1))).unwrap();
    }
    store
}

/// Streams by the places of photos, the same for the same place; and how often they were looked at.
#[derive(Default)]
struct Eyes {
    streams: BTreeMap<PathBuf, StreamPhoto>,
    looks: usize,
}

impl Eyes {
    fn look(&mut self, path: &Path) -> StreamPhoto {
        self.looks += 1;
        let seed = self.streams.len() as u64;
        let new = || photo(&TRUTH, &mut Chance::new(seed));
        self.streams.entry(path.to_path_buf()).or_insert_with(new).clone()
    }

    fn measure<'s>(&mut self, set: &'s KnownSet) -> Vec<KnownReading<'s>> {
        let looked = |photo| Looked { photo, rim: None, remarks: Vec::new() };
        let (readings, problems) = set.measured(&mut |path| Ok(looked(self.look(path))));
        assert_eq!(problems, []);
        readings
    }
}

fn of(readings: &[KnownReading<'_>], steel: &str) -> Measured {
    let reading = readings.iter().find(|r| r.steel.name == steel).unwrap();
    assert!(reading.fresh);
    reading.measured.clone().unwrap()
}

#[test]
fn are_made_again_by_a_new_way_of_measuring_and_then_kept() {
    let store = filled();
    let set = store.open();
    let before = set.readings();
    assert!(before.iter().all(|r| !r.fresh && r.measured.as_ref().unwrap().measuring == MEASURING - 1));
    assert_eq!(KnownSet::unmeasured(&before), 3);
    let mut eyes = Eyes::default();
    let readings = eyes.measure(&set);
    assert_eq!(eyes.looks, 3);
    let measured = of(&readings, "1095");
    assert_eq!((measured.used, measured.picture_px, measured.unused.len()), (2, Some(4000), 0));
    let again = eyes.measure(&set);
    assert_eq!(eyes.looks, 3, "what is kept is not looked at again");
    assert_eq!(again, readings);
}

/// The same figures as the photos give where a coupon is read.
#[test]
fn are_those_of_the_same_photos_of_a_coupon() {
    let store = filled();
    let set = store.open();
    let mut eyes = Eyes::default();
    let readings = eyes.measure(&set);
    let steel = set.records().iter().find(|(_, s)| s.name == "1095").unwrap().1.clone();
    let frame = |p| {
        let path = set.layout().photo(p);
        Some(Frame::new(path.to_string_lossy(), eyes.streams[&path].clone(), None))
    };
    let frames = steel.seen.photos().iter().map(frame).collect();
    let reading = &models().photo_reading;
    let (series, _) = Series::of(frames, &Grouping::Told(vec![1, 1]), reading.touch_gap.value);
    let conditions = PhotoConditions {
        surface: Some(models().spark_words.surface_depth.value),
        ..PhotoConditions::default()
    };
    let sparks = pool_photos(series, Series::default(), &conditions, reading).unwrap();
    let pooled = StreamFigures { light: Vec::new(), ..sparks.coupon.pooled };
    assert_eq!(of(&readings, "1095").figures, Some(pooled));
}

#[test]
fn a_changed_touch_or_photo_is_noticed() {
    let store = filled();
    let mut eyes = Eyes::default();
    eyes.measure(&store.open());
    let set = store.open();
    let (name, steel) = set.records().iter().find(|(_, s)| s.name == "1095").unwrap();
    let record = set.layout().record(name);
    let text = std::fs::read_to_string(&record).unwrap();
    std::fs::write(&record, text.replace("touch = 2", "touch = 1")).unwrap();
    std::fs::write(set.layout().photo(&steel.seen.photos()[0]), b"other bytes").unwrap();
    let set = store.open();
    let readings = eyes.measure(&set);
    assert_eq!(eyes.looks, 4, "the photo with other bytes is not looked at");
    let measured = of(&readings, "1095");
    assert_eq!((measured.used, measured.unused), (1, vec![("a.png".to_string(), "not_read".to_string())]));
}

/// From pictures to what is told and shown.
#[test]
fn are_told_and_shown() {
    let store = Store::new();
    stream(&store.folder().join("a.png"), 2);
    let said = store.known(&["add", "--steel", "1045", "--rig", "bench", "--session", "2026-03-14", "a.png"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains("Read on 1 of 1 photo: carriers on a photo"), "{}", said.out);
    let said = store.known(&["show", "1045"]);
    assert!(said.out.contains("sparks that burst"), "{}", said.out);
    let data: serde_json::Value =
        serde_json::from_str(&store.known(&["show", "1045", "--json"]).out).unwrap();
    assert!(data["known"]["records"][0]["measured"]["pooled"]["carriers"]["best"].as_f64().unwrap() > 10.0);
}
