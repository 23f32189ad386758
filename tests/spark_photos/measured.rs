//! What the measurer finds in pictures with known truth. The pictures are drawn: their figures say nothing of photos.

use super::score::{Found, FoundBurst, FoundCarrier, SetScore, score_picture};
use crate::support::draw_sparks::{Kind, Truth, draw, draw_unusable};
use crate::support::{burst_net, models};
use snapspark::photo::{Limits, decode};
use snapspark::spark::{
    CarrierEnd, Exposed, Frame, PhotoConditions, Refusal, Series, StreamPhoto, measure, pool_photos,
};
use snapspark::units::Interval;
use std::path::PathBuf;

/// The final seeds; those below 1000 are for development.
const FINAL: u64 = 100_000;

fn read(bytes: &[u8]) -> Result<StreamPhoto, Refusal> {
    let photo = decode(bytes, &Limits::default()).expect("a drawn picture can be read");
    measure(&photo.picture, Exposed::default(), burst_net())
}

fn found(photo: &StreamPhoto) -> Found {
    let carriers = photo.carriers.iter().map(|c| FoundCarrier {
        path: c.path.clone(),
        length_px: c.length,
        cut_by_frame: [c.start, c.end].contains(&CarrierEnd::Cut),
        bursts: c.bursts.len(),
    });
    let bursts = photo.bursts.iter().map(|b| FoundBurst {
        at: b.at,
        rays: b.ray_count.round() as usize,
        tier: b.tier as usize,
    });
    Found { carriers: carriers.collect(), bursts: bursts.collect() }
}

/// The number of carriers that an answer by this photo alone states.
fn told(photo: StreamPhoto) -> Option<Interval<f64>> {
    let series = Series { touches: vec![vec![Frame::new("drawn", photo, None)]], inward: false };
    let conditions = PhotoConditions::default();
    pool_photos(series, Series::default(), &conditions, &models().photo_reading)?.coupon.pooled.carriers
}

fn add(set: &mut SetScore, truth: &Truth, bytes: &[u8]) {
    match read(bytes) {
        Ok(photo) => {
            set.pictures.push(score_picture(truth, &found(&photo)));
            let standing = truth.resolvable().count();
            set.told.extend(told(photo).map(|range| (range, standing)));
        }
        Err(refusal) => {
            println!("{} refused: {refusal}", truth.file);
            set.refuse(truth);
        }
    }
}

fn variable(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

/// `FIRST=1 COUNT=40 cargo test many_drawn_spark_pictures -- --ignored --nocapture`
#[test]
#[ignore = "minutes: 200 pictures"]
fn many_drawn_spark_pictures() {
    let (first, count) = (variable("FIRST", FINAL), variable("COUNT", 200));
    let mut set = SetScore::default();
    for seed in first..first + count {
        let picture = draw(seed, None);
        add(&mut set, &picture.truth, &picture.bytes);
    }
    println!("{}", set.summary());
}

/// `FIRST=1 COUNT=5 cargo test many_unusable_pictures -- --ignored --nocapture`: so many of each kind.
#[test]
#[ignore = "minutes: 200 pictures"]
fn many_unusable_pictures() {
    let (first, count) = (variable("FIRST", FINAL), variable("COUNT", 11));
    let (mut refused, mut all) = (0, 0);
    for kind in Kind::ALL {
        let mut of_kind = 0;
        for seed in first..first + count {
            let picture = draw_unusable(kind, seed, None);
            of_kind += u64::from(read(&picture.bytes).is_err());
        }
        println!("{}: {of_kind} of {count} refused", kind.name());
        refused += of_kind;
        all += count;
    }
    println!("refused {refused} of {all}");
}

/// Pictures from elsewhere with their truth beside them: `SPARK_FOLDER=pics cargo test spark_pictures_in_a_folder --
/// --ignored --nocapture`. One whose truth has no carriers must be refused.
#[test]
#[ignore = "needs a folder: SPARK_FOLDER"]
fn spark_pictures_in_a_folder() {
    let folder = PathBuf::from(std::env::var("SPARK_FOLDER").expect("SPARK_FOLDER"));
    let entries = std::fs::read_dir(&folder).expect("a folder");
    let mut paths: Vec<PathBuf> = entries.flatten().map(|e| e.path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "json"));
    paths.sort();
    let mut set = SetScore::default();
    let (mut refused, mut unusable) = (0, 0);
    for path in paths {
        let text = std::fs::read_to_string(&path).expect("a truth");
        let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        let bytes =
            std::fs::read(folder.join(value["file"].as_str().expect("a file name"))).expect("a picture");
        if value["kind"] == "usable" {
            add(&mut set, &serde_json::from_value(value).expect("a truth"), &bytes);
        } else {
            unusable += 1;
            match read(&bytes) {
                Ok(photo) => println!("{}: {} carriers", value["file"], photo.carriers.len()),
                Err(_) => refused += 1,
            }
        }
    }
    println!("{}\nunusable: {refused} of {unusable} refused", set.summary());
}

/// The floor: what 12 small development pictures gave when this was written, less a margin of one or two pictures.
#[test]
fn a_dozen_drawn_pictures_are_read_as_well_as_before() {
    let mut set = SetScore::default();
    for seed in 201..213 {
        let picture = draw(seed, Some((800, 600)));
        add(&mut set, &picture.truth, &picture.bytes);
    }
    let summary = set.summary();
    println!("{summary}");
    assert!(set.answered().unwrap() >= 0.9, "{summary}");
    assert!(set.count_error().unwrap() <= 0.35, "{summary}");
    let (recall, precision) = set.carriers();
    assert!(recall.unwrap() >= 0.55 && precision.unwrap() >= 0.65, "{summary}");
    let bursts = set.bursts((0, usize::MAX));
    assert!(bursts.recall.unwrap() >= 0.4 && bursts.precision.unwrap() >= 0.5, "{summary}");
}

/// One of each kind, 640 by 480: nearly all are refused (17 of 18).
#[test]
fn pictures_without_a_usable_stream_are_refused() {
    let taken: Vec<&str> = Kind::ALL
        .into_iter()
        .filter(|kind| read(&draw_unusable(*kind, 301, Some((640, 480))).bytes).is_ok())
        .map(Kind::name)
        .collect();
    assert!(taken.len() <= 1, "taken for streams: {taken:?}");
}

/// Turned by a quarter and mirrored, a picture shows the same: EXIF is not needed to say which way a stream goes.
#[test]
fn a_stream_reads_the_same_whichever_way_it_goes() {
    use snapspark::photo::{Channels, Picture, Samples};
    let picture = draw(205, Some((640, 480)));
    let photo = decode(&picture.bytes, &Limits::default()).unwrap().picture;
    let (w, h) = (photo.width(), photo.height());
    let linear = photo.linear(snapspark::photo::Shrink::NONE);
    let [red, ..] = linear.rgb(0..h);
    let grey = |at: &dyn Fn(usize, usize) -> usize, w: usize, h: usize| {
        let level = |i: usize| (red[i].sqrt() * 65535.0) as u16;
        let samples =
            (0..h).flat_map(|y| (0..w).map(move |x| (x, y))).map(|(x, y)| level(at(x, y))).collect();
        Picture::new(w, h, Channels::Grey, Samples::Sixteen(samples)).unwrap()
    };
    let upright = measure(&grey(&|x, y| y * w + x, w, h), Exposed::default(), burst_net()).unwrap();
    let mirrored =
        measure(&grey(&|x, y| y * w + (w - 1 - x), w, h), Exposed::default(), burst_net()).unwrap();
    let turned = measure(&grey(&|x, y| x * w + y, h, w), Exposed::default(), burst_net()).unwrap();
    for other in [&mirrored, &turned] {
        let near = |a: usize, b: usize, off: f64| (a as f64 - b as f64).abs() <= (off * a as f64).max(2.0);
        assert!(near(upright.carriers.len(), other.carriers.len(), 0.15));
        assert!(near(upright.bursts.len(), other.bursts.len(), 0.3));
        assert!((upright.line_width - other.line_width).abs() < 0.2);
    }
    assert!((mirrored.stream.contact[0] - (w as f64 - upright.stream.contact[0])).abs() < 10.0);
    assert!((turned.stream.contact[0] - upright.stream.contact[1]).abs() < 10.0);
}

/// Shapes and contents that no camera makes: an answer or a refusal, never a crash.
#[test]
fn odd_pictures_are_refused_without_a_crash() {
    use snapspark::photo::{Channels, Picture, Samples};
    let sizes = [(1, 1), (3, 2000), (20_000, 15), (15, 20_000), (64, 64), (601, 499)];
    let contents: [fn(usize, usize) -> u8; 6] = [
        |_, _| 0,
        |_, _| 255,
        |x, y| if (x / 8 + y / 8) % 2 == 0 { 255 } else { 0 },
        |x, y| (x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503).wrapping_mul(x + 7)) as u8,
        |x, y| (x + y) as u8,
        |x, _| if x % 11 == 0 { 255 } else { 20 },
    ];
    for (w, h) in sizes {
        for content in contents {
            let samples = (0..w * h).map(|i| content(i % w, i / w)).collect();
            let picture = Picture::new(w, h, Channels::Grey, Samples::Eight(samples)).unwrap();
            if let Ok(photo) = measure(&picture, Exposed::default(), burst_net()) {
                panic!("{w} by {h}: {} carriers", photo.carriers.len());
            }
        }
    }
}
