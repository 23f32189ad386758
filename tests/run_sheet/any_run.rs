//! Any run sheet that can be written, and what must hold of its check; the fuzz target uses it too.

use snapspark::crosscheck::cross_check;
use snapspark::files::{Models, Observed, RunSheet};
use snapspark::prediction::predict;
use std::io;

const FILE: &[&str] = &[
    r#"{ result = "bites" }"#,
    r#"{ which = "worn file", result = "skates" }"#,
    r#"{ which = "35 HRC", result = "bites", after_grinding = "0.2 mm" }"#,
    r#"[{ which = "68 HRC", result = "skates" }, { which = "mill file" }]"#,
];
const WHEEL: &[&str] =
    &[r#"{ kind = "belt" }"#, r#"{ kind = "angle grinder" }"#, r#"{ diameter = "6 in", rpm = 2850 }"#];
const COUNT: &[&str] = &["0", "3", r#""2-9""#, r#""few""#, r#""very many""#, r#""many more than the stock""#];
const OF_STOCK: &[&str] = &["0", "4", r#""none""#, r#""some""#, r#""many""#];
const LENGTH: &[&str] = &[r#""1 mm""#, r#""300-500 mm""#, r#""short""#, r#""long""#];
const COLOUR: &[&str] = &[r#""white""#, r#""straw""#, r#""red""#];
const STATE: &[&str] = &[r#""soft""#, r#""hardened""#];
const SHARE: &[&str] = &[r#""0 %""#, r#""100 %""#, r#""40-60 %""#];
const TEXTURE: &[&str] =
    &[r#""fibrous""#, r#""silky""#, r#""fine""#, r#""grainy""#, r#""coarse""#, r#""faceted""#];
const RIM: &[&str] = &[r#""none""#, r#""partial""#, r#""all round""#, r#""through""#];
const DEPTH: &[&str] =
    &[r#""0.3 mm""#, r#"["0.2-0.4 mm", "?"]"#, r#""20 %""#, r#""1 um""#, r#"["0 %", "50 %"]"#];
const QUENCHED: &[&str] = &[r#""water""#, r#""brine""#, r#""oil""#, r#""not quenched""#];
const QUENCH_HEAT: &[&str] = &[
    r#""just past magnet""#,
    r#""straight from the soak""#,
    r#""720 C""#,
    r#""800-1100 C""#,
    r#""dark cherry""#,
];
const TEMPERED: &[&str] = &["false", "true", r#""180 C""#, r#""650 C""#];
const YES_NO: &[&str] = &["true", "false"];
const BROKEN: &[&str] = &[r#""one blow""#, r#""bent first""#];

/// Name of a field, and values.
type Field = (&'static str, &'static [&'static str]);

/// Sections with their fields, and right values for each as they are written.
const SECTIONS: &[(&str, &[Field])] = &[
    (
        "stock",
        &[
            ("grade", &[r#""1018""#, r#""1095""#, r#""A36 bar""#]),
            ("carbon", &[r#""0.02 %C""#, r#""0.2 %C""#, r#""0.9-1.2 %C""#]),
            ("thickness", &[r#""0.1 mm""#, r#""3 mm""#, r#""100 mm""#]),
            ("length", &[r#""40 mm""#]),
            ("width", &[r#""20 mm""#]),
            ("packed", &[r#""one face""#, r#""both faces""#]),
            ("mass_before", &[r#""20 g""#, r#""20.1234 g""#, r#""1 kg""#]),
            ("mass_after", &[r#""20 g""#, r#""20.0313 g""#, r#""19.5 g""#]),
        ],
    ),
    (
        "piece",
        &[
            ("edge_thickness", &[r#""0.3 mm""#, r#""2 mm""#, r#""30 mm""#]),
            ("metal_off", &[r#""0 mm""#, r#""0.15 mm""#]),
            ("bevels", &[r#""both""#, r#""one""#]),
            ("coupon_sat", &[r#""hotter""#, r#""colder""#, r#""same""#]),
        ],
    ),
    ("pack", &[("compound", &[r#""spent""#, r#""energized""#]), ("wholly_in_heat", YES_NO)]),
    (
        "soak",
        &[
            ("cooled", &[r#""in the closed pack""#, r#""opened hot""#, r#""quenched from the heat""#]),
            ("thermometer", &[r#""beside the steel""#, r#""outside""#]),
            ("furnace", &[r#""small kiln""#, r#""""#]),
        ],
    ),
    (
        "spark",
        &[
            ("state", STATE),
            ("bursts", COUNT),
            ("bursts_per_carrier", COUNT),
            ("carrier_length", LENGTH),
            ("stream_length", LENGTH),
            ("carriers", COUNT),
            ("share_bursting", SHARE),
            ("rays", COUNT),
            ("tiers", &["0", "5", r#""single""#, r#""bushy""#]),
            ("onset", &[r#""5 %""#, r#""at the wheel""#, r#""nowhere""#]),
            ("fine_sparking", &["0", "2", r#""some""#]),
            ("colour", COLOUR),
            ("colour_tip", COLOUR),
            ("compared", &[r#""fewer""#, r#""same""#, r#""some more""#, r#""many more""#, r#""bushy""#]),
            ("looks_like", &[r#""1018""#, r#"["1045", "1084"]"#, r#""O1""#]),
            (
                "over_time",
                &[
                    r#""rich then plain""#,
                    r#""plain then rich then plain""#,
                    r#""rich throughout""#,
                    r#""plain throughout""#,
                ],
            ),
            ("touches", &["1", "200"]),
            ("ground_depth", &[r#""one touch""#, r#""a few seconds""#, r#""0.02-0.05 mm""#, r#""2 mm""#]),
            ("wheel", WHEEL),
        ],
    ),
    (
        "spark.untreated",
        &[
            ("state", STATE),
            ("bursts", OF_STOCK),
            ("bursts_per_carrier", OF_STOCK),
            ("stream_length", LENGTH),
            ("carriers", OF_STOCK),
            ("share_bursting", SHARE),
            ("colour", COLOUR),
        ],
    ),
    (
        "fracture",
        &[
            ("rim", RIM),
            ("depth", DEPTH),
            ("texture_rim", TEXTURE),
            ("texture_core", TEXTURE),
            ("shear_lip", YES_NO),
            ("quenched_in", QUENCHED),
            ("quench_heat", QUENCH_HEAT),
            ("tempered", TEMPERED),
            ("broken", BROKEN),
        ],
    ),
    (
        "fracture.blank",
        &[
            ("rim", RIM),
            ("depth", DEPTH),
            ("texture_core", TEXTURE),
            ("quenched_in", QUENCHED),
            ("quench_heat", QUENCH_HEAT),
        ],
    ),
    (
        "witness",
        &[
            ("file", FILE),
            ("skin", &[r#""light grey""#, r#""dark scale""#]),
            ("magnet", &[r#""sticks""#, r#""weak""#, r#""does not stick""#]),
        ],
    ),
    (
        "aim",
        &[
            ("depth", &[r#""0.01 mm""#, r#""0.4-0.6 mm""#, r#""5 mm""#]),
            ("criterion", &[r#""total""#, r#""0.35 %C""#, r#""550 HV""#, r#""50 HRC""#]),
            ("edge_carbon", &[r#""0.1 %C""#, r#""0.6-0.8 %C""#, r#""2 %C""#]),
            ("use", &[r#""cutting edge""#, r#""wearing face""#, r#""other""#]),
        ],
    ),
];

/// Soaks that end soon, so that many can be tried.
const SOAKS: &[&str] = &[
    "time_at_heat = \"20 min\"\ntemperature = \"900 C\"",
    "time_at_heat = \"2 h\"\ntemperature = \"950-980 C\"",
    "time_at_heat = \"1 h\"\ntemperature = \"690 C\"",
    "steps = [\"20 min to 925C\", \"hold 30 min\", \"open hot\", \"air 5 min at 900C\", \"quench in oil\"]",
];

/// A sheet; `choose` gives a number from 0 up to and without what it is asked, `other` a value
/// that may stand for any other, as it is written.
pub(crate) fn sheet(
    mut choose: impl FnMut(usize) -> usize,
    mut other: impl FnMut() -> Option<String>,
) -> String {
    let soak = SOAKS[choose(SOAKS.len())];
    let mut text = "run-sheet = 1\n".to_string();
    for (section, fields) in SECTIONS {
        text.extend(["[", section, "]\n"]);
        if *section == "soak" {
            text.extend([soak, "\n"]);
        }
        for (key, values) in *fields {
            // about every other field is left out
            let value = match choose(2 * values.len() + 1) {
                0 => other(),
                chosen => values.get(chosen - 1).map(ToString::to_string),
            };
            if let Some(value) = value {
                text.extend([*key, " = ", &value, "\n"]);
            }
        }
    }
    text
}

/// Reads and checks the run; panics where an answer is no answer. `false`: there was a problem with
/// it, and it was told.
pub(crate) fn check(text: &str, models: &Models) -> bool {
    let no_folder = |_: &str| Err(io::Error::from(io::ErrorKind::NotFound));
    let sheet = match RunSheet::read(text, "run.toml", &no_folder, models) {
        Ok(sheet) => sheet,
        Err(problems) => {
            assert!(!problems.is_empty() && problems.iter().all(|p| !p.message.is_empty()));
            return false;
        }
    };
    let physics = models.physics(None).expect("the default law is there");
    let run = sheet.run();
    let prediction = match predict(&run, &physics) {
        Ok(prediction) => prediction,
        Err(problem) => {
            assert!(!problem.to_string().is_empty() && !problem.help().is_empty());
            return false;
        }
    };
    let observed = Observed::of(&sheet, None, models).expect("the tables of the program fit each other");
    let seen = observed.seen(&sheet, models);
    let check = cross_check(&models.question((&run, &physics), &prediction, &seen, sheet.aim.as_ref()));

    // to rounding
    let whole = |share: f64| (-1e-9..=1.0 + 1e-9).contains(&share);
    let took = &check.took;
    for share in [took.enough, took.too_little, took.faces, took.depth.as_ref().map_or(0.0, |d| d.enough)] {
        assert!(whole(share), "{took:?}\n{text}");
    }
    assert!(took.enough + took.too_little <= 1.0 + 1e-9, "{took:?}\n{text}");
    assert!(took.least <= took.wanted, "{took:?}\n{text}");
    let carbon = took.carbon.expect("there is carbon, or none of it, everywhere");
    assert!(carbon.low() >= 0.0 && carbon.high() <= 6.67, "{took:?}\n{text}");
    for agreement in &check.agreements {
        assert!(whole(agreement.place), "{agreement:?}\n{text}");
        let expected = agreement.expected.map_or([0.0; 3], |e| [e.best, e.down, e.up]);
        assert!(expected.iter().all(|v| v.is_finite()), "{agreement:?}\n{text}");
        assert!(expected[1] >= 0.0 && expected[2] >= 0.0, "{agreement:?}\n{text}");
    }
    let shares: Vec<f64> = check.causes.iter().map(|blamed| blamed.share).chain([check.usual]).collect();
    assert!(shares.iter().all(|share| whole(*share)), "{shares:?}\n{text}");
    assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-6, "{shares:?}\n{text}");
    assert!(check.causes.is_sorted_by(|a, b| a.share >= b.share), "{shares:?}\n{text}");
    for hrc in [check.finish.quenched, check.finish.tempered].into_iter().flatten() {
        assert!(hrc.low() >= 0.0 && hrc.high() <= 72.0, "{hrc:?}\n{text}");
    }
    if let Some(air) = check.finish.after_air {
        assert!(
            air.part >= 0.0 && air.peak >= 0.0 && air.part <= 6.67 && air.peak <= 6.67,
            "{air:?}\n{text}"
        );
    }
    true
}
