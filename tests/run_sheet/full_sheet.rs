use super::{read_beside, told};
use snapspark::files::run_sheet::Typed;
use snapspark::fracture::{Broken, QuenchHeat, Quenching, Rim, RimDepth, Tempering, Texture};
use snapspark::prediction::{DepthCriterion, PotentialChoice, SurfaceChoice, Use};
use snapspark::soak::{
    ContainerShape, Cooled, CoolingLaw, HeatEvidence, Step, ThermometerPlace, Vent, WitnessPlace,
};
use snapspark::spark::{
    Amount, Compared, FineSparking, Forking, GroundDepth, LooksLike, Onset, OverTime, PartOf, PhotoPaths,
    Reach, SteelState, Told, WheelKind,
};
use snapspark::steel::{Bevels, CouponPlace, Faces, QuenchMedium, Shape};
use snapspark::units::Interval;
use snapspark::witness::{FileKind, FileResult, Magnet, Skin};

const FULL: &str = include_str!("full.toml");

/// `field = value` lines of a sheet, as `section.field` with the value's text. Written apart from
/// the program's own reader, and only good for the plain lines of `full.toml`.
fn typed_lines(sheet: &str) -> Vec<(String, String)> {
    let mut section = String::new();
    let mut witnesses = 0;
    let mut typed = Vec::new();
    for line in sheet.lines().map(str::trim).filter(|l| !l.is_empty() && !l.starts_with('#')) {
        if line.starts_with('[') {
            section = line.trim_matches(['[', ']']).to_string();
            if line.starts_with("[[") {
                witnesses += 1;
                section = format!("{section}[{witnesses}]");
            }
            continue;
        }
        let (key, value) = line.split_once(" = ").expect("a plain line");
        let field = if section.is_empty() { key.to_string() } else { format!("{section}.{key}") };
        let bare = |v: &str| v.trim().trim_matches('"').to_string();
        if let Some(list) = value.strip_prefix('[') {
            let entries = list.trim_end_matches(']').split(", ").enumerate();
            typed.extend(entries.map(|(i, v)| (format!("{field}[{}]", i + 1), bare(v))));
        } else if let Some(table) = value.strip_prefix('{') {
            let entries =
                table.trim_end_matches('}').split(", ").map(|e| e.split_once(" = ").expect("a plain line"));
            typed.extend(entries.map(|(k, v)| (format!("{field}.{}", k.trim()), bare(v))));
        } else {
            typed.push((field, bare(value)));
        }
    }
    typed
}

#[test]
fn keeps_every_value_as_typed() {
    let sheet = read_beside(FULL, &[]).unwrap();
    let mut want = typed_lines(FULL);
    want.sort();
    assert!(want.len() > 90, "{}", want.len());
    let got: Vec<_> = sheet.typed.iter().map(|(f, t)| (f.to_string(), t.to_string())).collect();
    let mut got_sorted = got.clone();
    got_sorted.sort();
    assert_eq!(got_sorted, want);
    assert_eq!(sheet.typed.get("piece.edge_thickness"), Some("60 thou"));
    assert_eq!(sheet.typed.get("piece.edge"), None);
}

#[test]
fn reads_every_field_of_the_run() {
    let sheet = read_beside(FULL, &[]).unwrap();
    assert_eq!(sheet.stock.name, "1018");
    assert_eq!(sheet.stock.carbon.high().wt_percent(), 0.19);
    let coupon = sheet.coupon.unwrap();
    let Shape::Flat { thickness: Some(thickness), faces: Faces::One } = coupon.shape else { panic!() };
    assert!((thickness.millimetres() - 3.2).abs() < 1e-12);
    assert!((coupon.mass_after.unwrap().grams() - 23.44).abs() < 1e-9);
    assert!((coupon.packed_area().unwrap() * 1e4 - 4.0 * 2.33).abs() < 1e-9);
    let piece = sheet.piece.unwrap();
    assert_eq!(
        (piece.edge_angle, piece.height.map(snapspark::units::Depth::metres)),
        (Some(20.0), Some(0.025))
    );
    assert_eq!(piece.what, "a small marking knife");
    assert!((piece.body.unwrap().0.millimetres() - 3.175).abs() < 1e-12);
    assert!((piece.edge_thickness.unwrap().millimetres() - 1.524).abs() < 1e-12);
    assert_eq!((piece.bevels, piece.coupon_place), (Some(Bevels::Both), CouponPlace::Hotter));
    let container = sheet.pack.container.unwrap();
    assert_eq!(container.shape, ContainerShape::Pipe);
    assert!((container.inside.unwrap().millimetres() - 50.8).abs() < 1e-9);
    assert_eq!(sheet.pack.compound.name, "energized");
    assert_eq!((sheet.pack.vent, sheet.pack.wholly_in_heat), (Some(Vent::LooseLid), Some(true)));
    let HeatEvidence::Steps(steps) = &sheet.soak.evidence else { panic!() };
    assert_eq!(steps.len(), 5);
    assert_eq!(steps[4], Step::Quench { medium: Some(QuenchMedium::Oil) });
    assert_eq!(sheet.soak.thermometer.place, ThermometerPlace::InPack);
    assert_eq!(sheet.soak.furnace.as_deref(), Some("small kiln"));
    assert_eq!(sheet.soak.cooled, Cooled::ClosedPack);
    let places: Vec<_> = sheet.soak.witnesses.iter().map(|w| (w.melted, w.place)).collect();
    assert_eq!(places, [(true, WitnessPlace::BesideSteel), (false, WitnessPlace::AtWall)]);
    assert_eq!(sheet.model.law.as_deref(), Some("tibbetts1980"));
    assert_eq!(sheet.model.surface, Some(SurfaceChoice::Transfer));
    assert_eq!(sheet.model.potential, Some(PotentialChoice::ShareOfAcm(0.9)));
    assert_eq!((sheet.model.cooling, sheet.model.heat_through), (Some(CoolingLaw::FollowsAcm), Some(false)));
    let aim = sheet.aim.unwrap();
    assert_eq!((aim.criterion, aim.purpose), (Some(DepthCriterion::Carburization), Some(Use::CuttingEdge)));
    assert_eq!(aim.edge_carbon.unwrap().low().wt_percent(), 0.6);
    assert_eq!(aim.hardness.unwrap().best().points(), 58.0);
    // Only the grade beside the carbon is odd.
    assert_eq!(sheet.warnings.len(), 1, "{:?}", sheet.warnings);
}

#[test]
fn reads_every_field_of_the_observations() {
    let sheet = read_beside(FULL, &[]).unwrap();
    let spark = sheet.spark.unwrap();
    let coupon = &spark.coupon;
    assert_eq!(coupon.state, Some(SteelState::Soft));
    assert_eq!(coupon.bursts, Interval::new(30.0, 40.0, 50.0).map(Told::Number));
    assert_eq!(coupon.bursts_per_carrier, Some(Told::Number(Interval::exact(1.5))));
    assert_eq!(coupon.carrier_length, Some(Told::Word(Reach::Long)));
    assert_eq!(coupon.rays, Some(Told::Word(Amount::Many)));
    assert_eq!(coupon.onset, Some(Told::Word(Onset::FirstThird)));
    assert_eq!(coupon.fine_sparking, Some(Told::Word(FineSparking::Much)));
    assert_eq!(coupon.photos, PhotoPaths::Mixed(vec!["spark-1.jpg".into(), "spark-2.jpg".into()]));
    let stock = spark.untreated.unwrap();
    assert_eq!(stock.share_bursting, Some(Told::Word(PartOf::Few)));
    assert_eq!(stock.tiers, Some(Told::Word(Forking::Single)));
    assert_eq!(stock.fine_sparking, Some(Told::Number(Interval::exact(0.0))));
    assert_eq!(stock.photos, PhotoPaths::Mixed(vec!["spark-stock.jpg".into()]));
    let known = &sheet.known;
    let named = [&known.rig, &known.set].map(|n| n.as_ref().map(|n| (n.text.as_str(), n.line)));
    assert_eq!(named, [Some(("bench", 80)), Some(("known-steels", 81))]);
    let scale = spark.scale.unwrap().on(4000, 3000).unwrap();
    assert!((scale.px_per_mm().best() - 5.0).abs() < 1e-12);
    assert_eq!(spark.compared, Some(Compared::ManyMore));
    assert!(
        matches!(&spark.looks_like, Some(LooksLike::Between(a, b)) if a.name == "1045" && b.name == "1084")
    );
    assert_eq!((spark.over_time, spark.touches), (Some(OverTime::RichThenPlain), Some(2)));
    assert!(
        matches!(spark.ground_depth, Some(GroundDepth::Depth(d)) if (d.high().millimetres() - 0.1).abs() < 1e-12)
    );
    let wheel = spark.wheel.unwrap();
    assert_eq!(wheel.kind, Some(WheelKind::Wheel));
    assert!((wheel.turning.unwrap().rpm() - 2850.0).abs() < 1e-9);
    let fracture = sheet.fracture.unwrap();
    let face = &fracture.coupon;
    assert_eq!((face.rim, face.broken), (Some(Rim::AllRound), Some(Broken::OneBlow)));
    assert_eq!((face.texture_rim, face.texture_core), (Some(Texture::Silky), Some(Texture::Fibrous)));
    let mm = |d: &Option<RimDepth>| match d {
        Some(RimDepth::Length(l)) => Some(l.best().millimetres()),
        _ => None,
    };
    assert_eq!(face.depth.len(), 4);
    assert!((mm(&face.depth[1]).unwrap() - 0.508).abs() < 1e-12);
    assert!(matches!(face.depth[2], Some(RimDepth::OfThickness(s)) if s.best().fraction() == 0.18));
    assert_eq!(face.depth[3], None);
    assert_eq!(face.quenched, Some(Quenching::In(QuenchMedium::Oil)));
    assert!(matches!(&face.quench_heat, Some(QuenchHeat::Colour { word, .. }) if word == "orange"));
    assert!(
        matches!(face.tempered, Some(Tempering::At(Some(t))) if (t.best().celsius() - 200.0).abs() < 1e-9)
    );
    let blank = fracture.blank.unwrap();
    assert_eq!((blank.shear_lip, blank.tempered), (Some(true), Some(Tempering::Not)));
    assert_eq!(blank.quench_heat, Some(QuenchHeat::JustPastMagnet));
    let witness = sheet.witness.unwrap();
    assert_eq!(witness.file.len(), 1);
    assert_eq!(witness.file[0].which, Some(FileKind::Graded(58.0)));
    assert_eq!(witness.file[0].result, Some(FileResult::Skates));
    assert_eq!((witness.skin, witness.magnet), (Some(Skin::LightGrey), Some(Magnet::Sticks)));
}

/// "unknown" in any field reads as if the line were not there.
#[test]
fn unknown_is_the_same_as_leaving_out() {
    let lines: Vec<&str> = FULL.lines().collect();
    let mut tried = 0;
    for (i, line) in lines.iter().enumerate() {
        let Some((key, _)) = line.split_once(" = ") else { continue };
        if ["run-sheet", "steps"].contains(&key) {
            continue;
        }
        let with = |replacement: &str| {
            let mut changed = lines.clone();
            changed[i] = replacement;
            read_beside(&changed.join("\n"), &[]).map(|mut sheet| {
                sheet.typed = Typed::default();
                sheet
            })
        };
        for word in ["unknown", "don't know", "?"] {
            assert_eq!(with(&format!("{key} = \"{word}\"")), with(""), "line {}: {line}", i + 1);
        }
        tried += 1;
    }
    assert!(tried > 75, "{tried}");
}

#[test]
fn a_whole_section_may_be_unknown() {
    assert_eq!(
        told("run-sheet = 1\nstock = \"unknown\"\npack = \"?\"\n[soak]\nsteps = [\"hold 1 h at 900C\"]\n"),
        "nothing wrong"
    );
}

#[test]
fn a_list_of_photos_inside_the_list_is_one_touch() {
    let nested = r#"photos = [["stock-1.jpg", "stock-2.jpg"], "stock-3.jpg", ["?"]]"#;
    let text = FULL.replace(r#"photos = "spark-stock.jpg""#, nested);
    let stock = read_beside(&text, &[]).unwrap().spark.unwrap().untreated.unwrap();
    let touches = [vec!["stock-1.jpg".to_string(), "stock-2.jpg".into()], vec!["stock-3.jpg".into()]];
    assert_eq!(stock.photos, PhotoPaths::ByTouch(touches.to_vec()));
}
