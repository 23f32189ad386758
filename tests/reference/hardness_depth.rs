//! Hardened depths, files and sections: `hardness_16nicrmo13.csv`, `hardness_files.csv`,
//! `hardness_ideal_diameter.csv`, `hardness_sections.csv`, `hardness_severity.csv`. Tolerances as their
//! heads say.

use crate::support::{models, rows};
use snapspark::hardness::{
    Alloy, Body, CaseHardeningDepth, HardnessProfile, HardnessRange, Quench, Reach, Stirring, largest_section,
};
use snapspark::steel::QuenchMedium;
use snapspark::units::{CarbonPercent, Depth, Hrc, Hv, Interval, Share, Temperature};

const MEASURED_RELATIVE: f64 = 0.15;
const DEPTH_550_MM: f64 = 0.89;
const DEPTH_RELATIVE: f64 = 0.20;
const IDEAL_MM: f64 = 0.06;
const SECTION_MM: f64 = 0.1;
const SECTION_RELATIVE: f64 = 0.01;
const SMALLEST_MM: f64 = 0.56;
/// Core of the measured steel, wt%, and a depth where nothing else is left, mm.
const CORE: (f64, f64) = (3.0, 0.16);
const MEASURED: Alloy = Alloy { manganese: 0.45, silicon: 0.25 };

fn mm(n: f64) -> Depth {
    Depth::from_millimetres(n).unwrap()
}

fn percent(c: f64) -> CarbonPercent {
    CarbonPercent::new(c).unwrap()
}

fn hrc(n: f64) -> Hrc {
    Hrc::new(n).unwrap()
}

fn profile(points: &[(f64, f64)], coldest: f64) -> HardnessProfile {
    let celsius = |t| Temperature::from_celsius(t).unwrap();
    let quench =
        Quench { heat: celsius(900.0), coldest: celsius(coldest), martensite: Share::new(1.0).unwrap() };
    let carbon = points.iter().map(|(depth, c)| (mm(*depth), percent(*c)));
    models().hardness.profile(&models().phase, carbon, &MEASURED, &quench).unwrap().unwrap()
}

#[test]
fn measured_hardness_from_measured_carbon() {
    let mut carbon = rows::<(f64, f64)>("measured_16nicrmo13.csv");
    carbon.push(CORE);
    let measured = rows::<(f64, f64, f64)>("hardness_16nicrmo13.csv");
    assert_eq!(measured.len(), 28);
    let (mut worst, mut sum) = (0.0_f64, 0.0);
    for (depth, coldest, hv) in measured {
        let ours = profile(&carbon, coldest).at(mm(depth)).best().number();
        println!("{depth:4} mm, {coldest:4} °C: measured {hv}, ours {ours:.0}, {:+.3}", ours / hv - 1.0);
        worst = worst.max((ours / hv - 1.0).abs());
        sum += ours / hv - 1.0;
    }
    println!("worst {worst:.3}, on average {:+.3}", sum / 28.0);

    let rules = &models().hardness.depth;
    let answer = profile(&carbon, 25.0).case_hardening_depth(rules);
    let CaseHardeningDepth::Stands { depth, sure } = answer else { panic!("{answer:?}") };
    let ours = depth.best().millimetres();
    println!(
        "550 HV: measured {DEPTH_550_MM} mm, ours {ours:.3} ({:.3} to {:.3}), {:+.3}, sure {sure}",
        depth.low().millimetres(),
        depth.high().millimetres(),
        ours / DEPTH_550_MM - 1.0
    );
    assert!(worst <= MEASURED_RELATIVE, "{worst}");
    assert!((ours / DEPTH_550_MM - 1.0).abs() <= DEPTH_RELATIVE, "{ours}");
}

/// A case of 0.9 %C that falls evenly to the core at 1 mm.
fn case_on(core: f64, end: f64) -> HardnessProfile {
    let points: Vec<_> = (0..=50)
        .map(|i| f64::from(i) * end / 50.0)
        .map(|depth| (depth, (0.9 - (0.9 - core) * depth).max(core)))
        .collect();
    profile(&points, 20.0)
}

/// ISO 2639: a depth to 550 HV stands only where the steel is under 450 HV1 at three times the depth.
#[test]
fn a_depth_to_550_hv_has_its_rule() {
    let rules = &models().hardness.depth;
    assert_eq!(rules.effective.value, hrc(50.0));
    assert_eq!(rules.case_hardening.value.number(), 550.0);
    let CaseHardeningDepth::Stands { depth, sure } = case_on(0.15, 5.0).case_hardening_depth(rules) else {
        panic!("a soft core")
    };
    assert!(sure && depth.low() < depth.best() && depth.best() < depth.high());

    let CaseHardeningDepth::DoesNotApply { at, hardness, under } =
        case_on(0.25, 5.0).case_hardening_depth(rules)
    else {
        panic!("a core that hardened too")
    };
    assert!(hardness.best() >= under && under.number() == 450.0);
    assert!(at.millimetres() > 1.5 && at.millimetres() < 3.0, "{at:?}");

    // 0.22 %C: 45.6 HRC, 453 HV; 0.21 %C: 446 HV, which may as well be over
    let answer = case_on(0.21, 5.0).case_hardening_depth(rules);
    assert!(matches!(answer, CaseHardeningDepth::Stands { sure: false, .. }), "{answer:?}");

    // hard to the middle
    let through = profile(&[(0.0, 0.9), (1.0, 0.6)], 20.0);
    let answer = through.case_hardening_depth(rules);
    assert!(matches!(answer, CaseHardeningDepth::DoesNotApply { .. }), "{answer:?}");
    assert_eq!(through.reach(rules.case_hardening.value), Reach::Throughout);

    let soft = profile(&[(0.0, 0.15), (1.0, 0.08)], 20.0);
    assert_eq!(soft.case_hardening_depth(rules), CaseHardeningDepth::NotReached);
    assert_eq!(soft.reach(rules.case_hardening.value), Reach::Nowhere);
}

/// 50 HRC needs less carbon than 550 HV, so it lies deeper: at 0.29 %C as quenched.
#[test]
fn fifty_hrc_depth() {
    let limit = models().hardness.conversion.to_hv(models().hardness.depth.effective.value).unwrap();
    let Reach::To(depth) = case_on(0.15, 5.0).reach(limit) else { panic!("it ends") };
    let Reach::To(shallower) = case_on(0.15, 5.0).reach(Hv::new(550.0).unwrap()) else { panic!("it ends") };
    let carbon = 0.9 - 0.75 * depth.best().millimetres();
    println!("50 HRC at {:.3} mm, {carbon:.3} %C", depth.best().millimetres());
    assert!((carbon - 0.30).abs() <= 0.015, "{carbon}");
    assert!(depth.best() > shallower.best());
}

#[test]
fn files_of_the_standard() {
    type Row = (String, f64, f64, f64, f64, f64);
    let files = rows::<Row>("hardness_files.csv");
    assert_eq!(files.len(), 5);
    for (name, low, high, standard, cuts, skates) in files {
        let file = models().hardness.file(&name).unwrap();
        assert_eq!((file.hardness.value.low(), file.hardness.value.high()), (hrc(low), hrc(high)));
        let band = file.undecided.value;
        assert_eq!([band.low(), band.best(), band.high()], [cuts, standard, skates].map(hrc));
        // 4 HRC in which either may happen
        assert_eq!(band.high().points() - band.low().points(), 4.0);
        let (bites, slides) = (file.bites().range(), file.skates().range());
        for points in 30..=68 {
            let points = f64::from(points);
            assert_eq!(bites.allows(hrc(points)), points <= skates, "{name} bites at {points}");
            assert_eq!(slides.allows(hrc(points)), points >= cuts, "{name} skates at {points}");
        }
    }
}

/// The 50 file skates and the 58 file bites: between. The 58 file skates and the 50 file bites: not both true.
#[test]
fn strokes_together() {
    let file = |name: &str| models().hardness.file(name).unwrap();
    let both = HardnessRange::of_all(&[file("58").bites(), file("50").skates(), file("62").bites()]).unwrap();
    assert_eq!((both.at_least, both.at_most), (Some(hrc(48.0)), Some(hrc(60.0))));
    assert_eq!(HardnessRange::of_all(&[file("58").skates(), file("50").bites()]), None);
    assert_eq!(HardnessRange::of_all(&[]), Some(HardnessRange::ANY));
    // a plain new mill file is 62 to 66 HRC, and "file hard" with it is roughly 60 HRC or more (from memory):
    // 60 is where it turns from biting to skating, no bound of its own
    let mill = file("mill file");
    assert_eq!((mill.hardness.value.low(), mill.hardness.value.high()), (hrc(62.0), hrc(66.0)));
    let turns = mill.undecided.value;
    assert!(turns.low() < hrc(60.0) && hrc(60.0) < turns.high());
    assert!((turns.best().points() - 60.0).abs() <= 1.0);
    assert!(!mill.skates().range().allows(hrc(55.0)) && !mill.bites().range().allows(hrc(66.0)));
}

#[test]
fn ideal_diameters() {
    type Row = (String, f64, f64, f64, f64);
    let mut worst = 0.0_f64;
    let all = rows::<Row>("hardness_ideal_diameter.csv");
    assert_eq!(all.len(), 40);
    for (steel, manganese, silicon, carbon, wanted) in all {
        let ideal = &models().hardness.hardenability;
        let got = ideal.ideal_diameter(percent(carbon), &Alloy { manganese, silicon }).unwrap();
        let off = (got.best().millimetres() - wanted).abs();
        assert!(off <= IDEAL_MM, "{steel} {carbon} %C: {got:?}, wanted {wanted}");
        assert!(got.low().millimetres() < 0.91 * wanted && got.high().millimetres() > 1.09 * wanted);
        worst = worst.max(off);
    }
    println!("worst {worst:.3} mm");
    let ideal = &models().hardness.hardenability;
    let plain = Alloy { manganese: 0.5, silicon: 0.2 };
    assert_eq!(ideal.ideal_diameter(percent(0.91), &plain), None);
    assert_eq!(ideal.ideal_diameter(percent(0.5), &Alloy { manganese: 1.3, ..plain }), None);
}

#[test]
fn largest_sections() {
    let all = rows::<(f64, f64, f64, f64)>("hardness_sections.csv");
    assert_eq!(all.len(), 70);
    let (mut worst, mut misses) = (0.0_f64, Vec::new());
    for (ideal, severity, bar, plate) in all {
        for (body, wanted) in [(Body::Bar, bar), (Body::Plate, plate)] {
            let made =
                largest_section(body, &Interval::exact(mm(ideal)), &Interval::exact(severity)).unwrap();
            let got = made.best().millimetres();
            let fits = if wanted == 0.0 {
                got < SMALLEST_MM
            } else {
                worst = worst.max((got - wanted).abs());
                (got - wanted).abs() <= SECTION_MM + SECTION_RELATIVE * wanted
            };
            if !fits {
                misses.push(format!("{body:?} {ideal} mm, H {severity}: {got:.2}, wanted {wanted}"));
            }
        }
    }
    println!("worst {worst:.3} mm");
    assert!(misses.is_empty(), "{}", misses.join("\n"));
}

#[test]
fn severities() {
    let word = |medium: &str| QuenchMedium::WORDS.iter().find(|(w, _)| *w == medium).unwrap().1;
    let stirred = |how: &str| Stirring::WORDS.iter().find(|(w, _)| *w == how).unwrap().1;
    let all = rows::<(String, String, f64, f64)>("hardness_severity.csv");
    assert_eq!(all.len(), models().hardness.severities.len());
    for (medium, how, low, high) in all {
        let severity = models().hardness.severity(word(&medium), stirred(&how)).unwrap();
        let got = severity.per_inch.value;
        assert_eq!((got.low(), got.high()), (low, high), "{medium} {how}");
    }
    assert!(models().hardness.severity(QuenchMedium::Brine, Stirring::Good).is_none());
}
