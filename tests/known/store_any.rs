//! Whatever a record, a table or a cache holds: it comes back as it was, or is refused.

use crate::support::models;
use proptest::prelude::*;
use snapspark::files::known_set::{
    Archive, Label, LabelDefaults, Labels, ToldFile, read_measured, read_record, record_text, write_measured,
};
use snapspark::known::{KnownPhoto, KnownSteel, Measured, MeasuredPhoto, Seen, Session};
use snapspark::spark::{SteelState, StreamFigures};
use snapspark::units::{CarbonPercent, Interval};

fn hash() -> impl Strategy<Value = String> {
    "[0-9a-f]{64}"
}

fn carbon() -> impl Strategy<Value = Interval<CarbonPercent>> {
    (0.0..2.1_f64, 0.0..2.1_f64).prop_map(|(a, b)| {
        let of = |wt| CarbonPercent::new(wt).unwrap();
        let (low, high) = (a.min(b), a.max(b));
        Interval::new(of(low), of(f64::midpoint(low, high)), of(high)).unwrap()
    })
}

fn photos() -> impl Strategy<Value = Vec<KnownPhoto>> {
    let photo = (
        "[^/\\\\\\p{C}?]{1,30}\\.jpg",
        hash(),
        proptest::option::of(1..200_u32),
        proptest::option::of("/[^\\p{C}]{0,30}[a-z]"),
    );
    let photo = photo.prop_map(|(name, hash, touch, link)| KnownPhoto {
        name: name.trim().into(),
        hash,
        touch,
        link,
    });
    proptest::collection::vec(photo, 1..5)
}

fn steel() -> impl Strategy<Value = KnownSteel> {
    let state = prop_oneof![Just(None), Just(Some(SteelState::Soft)), Just(Some(SteelState::Hardened))];
    let session = (1990..2100_u16, 1..13_u8, 1..29_u8, "( [a-z0-9_-]{1,12}){0,2}")
        .prop_map(|(y, m, d, word)| Session::parse(&format!("{y}-{m:02}-{d:02}{word}")).unwrap());
    (
        "[a-z][\\PC&&[^?]]{0,12}",
        carbon(),
        state,
        "[a-z]{3}[A-Z0-9_-]{0,8}( [a-z]{1,9})?",
        session,
        any::<bool>(),
        "(note [\\PC\\n\"\\\\]{0,40})?",
        photos(),
    )
        .prop_map(|(name, carbon, state, rig, session, reference, notes, photos)| KnownSteel {
            name: name.trim().into(),
            carbon,
            state,
            rig,
            session,
            reference,
            notes: notes.trim().into(),
            seen: Seen::Photos(photos),
        })
}

fn range() -> impl Strategy<Value = Option<Interval<f64>>> {
    let number = || any::<f64>().prop_filter("a number", |v| v.is_finite());
    proptest::option::of([number(), number(), number()].prop_map(|mut three| {
        three.sort_by(f64::total_cmp);
        Interval::new(three[0], three[1], three[2]).unwrap()
    }))
}

fn figures() -> impl Strategy<Value = StreamFigures> {
    (proptest::collection::vec(range(), 18), proptest::option::of(0.0..10.0_f64), 0.0..1.0_f64, 0..9_usize)
        .prop_map(|(r, exposed_s, resolved, photos)| StreamFigures {
            photos,
            carriers: r[0],
            bursts: r[1],
            length: r[2],
            longest: r[3],
            share_bursting: r[4],
            share_in_flight: r[5],
            bursts_per_carrier: r[6],
            bursts_per_px: r[7],
            exposed_s,
            bursts_per_s: r[8],
            path_per_s: r[9],
            rays: r[10],
            secondary_share: r[11],
            tiers: r[12],
            onset: r[13],
            stream_length: r[14],
            flight: r[15],
            direction: r[16],
            opening: r[17],
            resolved,
            light: Vec::new(),
        })
}

fn measured() -> impl Strategy<Value = Measured> {
    let photo =
        (hash(), proptest::option::of(1..200_u32)).prop_map(|(hash, touch)| MeasuredPhoto { hash, touch });
    (
        any::<u32>(),
        proptest::collection::vec(photo, 0..4),
        0..4_usize,
        proptest::collection::vec(("\\PC{0,20}", "[a-z_]{1,12}"), 0..3),
        proptest::option::of(1..20_000_u32),
        proptest::option::of(0.1..900.0_f64),
        proptest::option::of(figures()),
    )
        .prop_map(|(measuring, photos, used, unused, picture_px, focal_mm, figures)| Measured {
            measuring,
            photos,
            used,
            unused,
            picture_px,
            focal_mm,
            figures,
        })
}

proptest! {
    #[test]
    fn a_record_comes_back(steel in steel()) {
        let mut hashes: Vec<_> = steel.seen.photos().iter().map(|p| &p.hash).collect();
        hashes.dedup();
        prop_assume!(hashes.len() == steel.seen.photos().len());
        let text = record_text(&steel, None).unwrap();
        let read = read_record(&text, "a.toml", models());
        prop_assert_eq!(read, Ok(steel), "{}", text);
    }

    /// To the bit: `Debug` of a float tells every one apart that is a number.
    #[test]
    fn figures_come_back_to_the_bit(measured in measured()) {
        let text = write_measured(&measured).unwrap();
        let read = read_measured(&text).unwrap();
        prop_assert_eq!(format!("{read:?}"), format!("{measured:?}"));
    }

    #[test]
    fn what_was_told_is_kept(
        word in prop_oneof![Just("none"), Just("few"), Just("most"), Just("all")],
        rays in 0..12_u32,
        share in 0..101_u32,
        colour in prop_oneof![Just("white"), Just("straw")],
        untreated in any::<bool>(),
    ) {
        let mut text = format!("share_bursting = \"{word}\"\nrays = {rays}\nonset = \"{share} %\"\ncolour = '{colour}'\n");
        if untreated {
            text += "[untreated]\nrays = \"1-2\"\n[wheel]\ndiameter = \"6 in\"\n";
        }
        let alone = ToldFile::read(&text, "seen.toml", models()).unwrap();
        let mut steel = Label::new("1045", None, "bench", models()).unwrap().on(Session::parse("2026-03-14").unwrap());
        steel.seen = Seen::Told(Box::new(alone.says.clone()));
        let record = record_text(&steel, Some(&alone)).unwrap();
        prop_assert_eq!(read_record(&record, "a.toml", models()), Ok(steel));
        let in_section = ToldFile::read(&record, "seen.toml", models()).unwrap();
        prop_assert_eq!(in_section.says, alone.says);
    }

    #[test]
    fn any_text_is_a_record_or_is_refused(text in "(known-steel = 1\n|steel = \"1095\"\n|carbon = \"\\PC{0,9}\"\n|\\[\\[photo\\]\\]\n|sha256 = \"[0-9a-f]{60,66}\"\n|name = \\PC{0,9}\n|\\PC{0,20}\n){0,12}") {
        if let Err(problems) = read_record(&text, "a.toml", models()) {
            prop_assert!(!problems.is_empty());
        }
        let _ = ToldFile::read(&text, "a.toml", models());
        let _ = read_measured(&text);
    }

    #[test]
    fn any_bytes_are_labels_or_are_refused(bytes in proptest::collection::vec(any::<u8>(), 0..200), head in any::<bool>()) {
        let bytes = if head { [b"photo,steel,touch\n".to_vec(), bytes].concat() } else { bytes };
        if let Err(problems) = Labels::read(&bytes, "labels.csv", &LabelDefaults::default(), models()) {
            prop_assert!(!problems.is_empty());
        }
    }

    #[test]
    fn any_bytes_are_an_archive_or_are_refused(bytes in proptest::collection::vec(any::<u8>(), 0..3000)) {
        prop_assert!(Archive::contents_of(&bytes, "a.tar", models()).is_err());
    }
}

/// The range of a grade is written with its ends; its best value need not be their middle, and is not lost.
#[test]
fn every_grade_comes_back_with_its_best_value() {
    for grade in &models().grades {
        let label = Label::new(&grade.name, None, "bench", models()).unwrap();
        let mut steel = label.on(Session::parse("2026-03-14").unwrap());
        let hash = "0123456789abcdef".repeat(4);
        steel.seen = Seen::Photos(vec![KnownPhoto { name: "a.jpg".into(), hash, touch: None, link: None }]);
        let text = record_text(&steel, None).unwrap();
        assert_eq!(read_record(&text, "a.toml", models()), Ok(steel), "{text}");
    }
}
