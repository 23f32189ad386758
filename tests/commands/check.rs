use super::{Said, run, sheet, snapspark};
use serde_json::Value;
use snapspark::crosscheck::{Chances, Sign};
use snapspark::files::Models;
use std::path::Path;

/// The shipped example, an invented run.
const EXAMPLE: &str = include_str!("../../examples/first-run/run.toml");

/// The same run before anybody looked at the coupon.
fn unseen() -> String {
    let run = EXAMPLE.split_once("\n[spark]").unwrap().0;
    run.split_inclusive('\n').filter(|l| !l.starts_with("mass_after")).collect::<String>() + "\n"
}

const SPARKS_ALONE: &str = "
[spark]
compared = \"many more\"
over_time = \"rich then plain\"
tiers = \"forked\"
";

/// Rich sparks, and yet neither a rim nor a hard skin.
const CONTRADICTING: &str = "
[spark]
state = \"soft\"
compared = \"bushy\"
share_bursting = \"all\"
tiers = \"bushy\"
fine_sparking = \"much\"
[spark.untreated]
state = \"soft\"
[fracture]
quenched_in = \"oil\"
rim = \"none\"
texture_core = \"fibrous\"
[witness]
file = { result = \"bites\" }
";

const DEAD_PACK: &str = "
[spark]
state = \"soft\"
compared = \"same\"
share_bursting = \"few\"
tiers = \"single\"
over_time = \"plain throughout\"
[spark.untreated]
state = \"soft\"
[fracture]
quenched_in = \"water\"
rim = \"none\"
texture_core = \"fibrous\"
[witness]
skin = \"dark scale\"
file = { result = \"bites\" }
";

const NO_STEEL: &str = "
[spark]
carriers = \"none\"
bursts = \"none\"
";

/// The wearing face of a thick piece, instead of a thin edge.
fn wearing_face() -> String {
    let lines = EXAMPLE.split_inclusive('\n').filter(|l| !l.starts_with("edge_") && !l.starts_with("bevels"));
    lines.collect::<String>().replace("cutting edge", "wearing face")
}

/// A run in a folder of its own, with the log of the example beside it.
fn check_in(folder: &Path, text: &str, args: &[&str]) -> Said {
    sheet(folder, text);
    let log = crate::support::project("examples/first-run/soak.csv");
    std::fs::copy(log, folder.join("soak.csv")).unwrap();
    run(snapspark().current_dir(folder).args(["check", "run.toml"]).args(args))
}

fn check(text: &str, args: &[&str]) -> Said {
    check_in(tempfile::tempdir().unwrap().path(), text, &[&["--quick"], args].concat())
}

/// With runs drawn.
fn drawn(text: &str) -> Value {
    let said = check_in(tempfile::tempdir().unwrap().path(), text, &["--json"]);
    serde_json::from_str(&said.out).unwrap_or_else(|e| panic!("{e}: {}{}", said.out, said.err))
}

fn seen(what: &str) -> String {
    format!("{}{what}", unseen())
}

fn json(text: &str) -> Value {
    let said = check(text, &["--json"]);
    serde_json::from_str(&said.out).unwrap_or_else(|e| panic!("{e}: {}{}", said.out, said.err))
}

fn fits_the_screen(said: &Said) {
    let wide: Vec<&str> = said.out.lines().filter(|l| l.chars().count() > 80).collect();
    assert!(wide.is_empty(), "{wide:?}");
    assert!(said.out.lines().count() < 140, "{} lines", said.out.lines().count());
}

#[test]
fn a_coupon_that_was_looked_at_well_in_words() {
    let said = check(EXAMPLE, &[]);
    fits_the_screen(&said);
    assert_eq!(said.err, "");
    insta::assert_snapshot!("seen_well", said.out);
}

/// What the runs that are drawn without `--quick` tell, twice the same: where all fits, where a fault is plain, and where
/// nothing was seen.
#[test]
fn drawn_runs_in_words() {
    let folder = tempfile::tempdir().unwrap();
    sheet(folder.path(), &unseen());
    std::fs::copy(crate::support::project("examples/first-run/soak.csv"), folder.path().join("soak.csv"))
        .unwrap();
    let unseen = folder.path().join("run.toml");
    let unseen = unseen.to_str().unwrap();
    for (name, path) in [
        ("drawn", "examples/first-run/run.toml"),
        ("drawn_cold", "examples/cold-steel/run.toml"),
        ("drawn_unseen", unseen),
    ] {
        let said = run(snapspark().args(["check", path]));
        let wide = said.out.lines().filter(|l| l.chars().count() > 80).count();
        let lines = said.out.lines().count();
        assert!(wide == 0 && lines < 170, "{name}: {wide} wide lines of {lines}");
        insta::assert_snapshot!(name, said.out.replace(path, "run.toml"));
    }
    let json = ["check", "examples/first-run/run.toml", "--json"];
    let [once, twice] = [0, 1].map(|_| run(snapspark().args(json)).out);
    assert_eq!(once, twice);
    let answer: Value = serde_json::from_str(&once).unwrap();
    let told = &answer["inference"];
    assert!(told["stories"].as_u64().unwrap() > 2048, "{told}");
    let heat = &told["run"]["temperature_c"];
    for when in ["as_told", "by_all_seen"] {
        let number = |key: &str| heat[when][key].as_f64().unwrap();
        assert!(number("low") < number("best") && number("best") < number("high"), "{heat}");
    }
    for (cause, power) in told["power"].as_object().unwrap() {
        // no test is worse than a coin that calls as many sound runs wrong
        let found = |by: &str| power[by].as_f64().unwrap();
        assert!((0.049..=1.0).contains(&found("best")), "{cause}: {power}");
        assert!((0.0..=1.0).contains(&found("called")), "{cause}: {power}");
    }
}

/// What the signs say by themselves is what the weights and chances of `models/causes.toml` come to, for the four that this
/// sheet denies.
#[test]
fn each_thing_by_itself() {
    let answer = drawn(&seen(SPARKS_ALONE));
    let alone = answer["inference"]["by_itself"].as_array().unwrap();
    let names: Vec<&str> = alone.iter().map(|row| row["seen"].as_str().unwrap()).collect();
    assert_eq!(names, ["sparks", "inward", "signs"]);
    let causes = &Models::shared().unwrap().causes;
    // a known grade, wholly in the heat, sparked as soft as the stock, and its sparks are those of plain carbon steel
    let told = [Sign::StockUnknown, Sign::PartlyOut, Sign::HardAgainstSoft, Sign::NotPlainCarbon];
    let known = |chances: &Chances| told.map(|sign| 1.0 - chances.get(sign)).iter().product::<f64>();
    let applies = |key: &str| answer["causes"].as_array().unwrap().iter().any(|c| c["key"] == key);
    let usual = causes.usual.value * known(&causes.chances.value);
    let faults = causes.list.iter().filter(|c| applies(&c.key)).map(|c| c.weight.value * known(&c.chances));
    let want = usual / (usual + faults.sum::<f64>());
    let got = alone[2]["usual_share"].as_f64().unwrap();
    assert!((got - want).abs() < 1e-3, "{got}, want {want}");
    for row in alone {
        assert!((0.0..=1.0).contains(&row["usual_share"].as_f64().unwrap()), "{row}");
        assert!(row["cause_share"].as_f64().unwrap() > 0.0, "{row}");
    }
}

#[test]
fn sparks_alone_in_words() {
    let said = check(&seen(SPARKS_ALONE), &[]);
    fits_the_screen(&said);
    insta::assert_snapshot!("sparks_alone", said.out);
}

#[test]
fn nothing_seen_in_words() {
    let said = check(&unseen(), &[]);
    fits_the_screen(&said);
    assert_eq!(said.code, Some(4), "{}", said.err);
    insta::assert_snapshot!("nothing_seen", said.out);
}

#[test]
fn witnesses_that_contradict_each_other_in_words() {
    let said = check(&seen(CONTRADICTING), &[]);
    fits_the_screen(&said);
    assert!(said.out.contains("THE WITNESSES CONTRADICT EACH OTHER"));
    insta::assert_snapshot!("contradicting", said.out);
}

#[test]
fn a_face_that_took_in_words() {
    let said = check(&wearing_face(), &[]);
    fits_the_screen(&said);
    insta::assert_snapshot!("face", said.out);
}

/// 0 it took, 1 input, 2 usage, 3 it did not take, 4 cannot tell.
#[test]
fn the_exit_code_says_whether_it_took() {
    for (text, code, word) in [
        (wearing_face(), 0, "Took, for its use: YES"),
        (seen(DEAD_PACK), 3, "Took, for its use: NO"),
        (unseen(), 4, "Took, for its use: CANNOT TELL"),
        (seen(NO_STEEL), 4, "Took, for its use: CANNOT TELL"),
        ("run-sheet = 1\n[soak]\nsteps = [\"hold 1 h at 1200C\"]\n".into(), 1, ""),
    ] {
        let said = check(&text, &[]);
        assert_eq!(said.code, Some(code), "{word}\n{}{}", said.out, said.err);
        assert!(said.out.starts_with(word), "{}", said.out);
    }
    assert_eq!(run(snapspark().arg("check")).code, Some(2));
    assert_eq!(check(&unseen(), &["--color", "sometimes"]).code, Some(2));
    assert_eq!(run(snapspark().args(["check", "--quick", "no/such/run.toml"])).code, Some(1));
}

/// Where it did not take the page ends in a second soak, where it did in what may come off.
#[test]
fn it_ends_in_the_next_soak_or_the_next_heats() {
    let dead = json(&seen(DEAD_PACK));
    let second = &dead["second_soak"];
    let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{second}"));
    let (low, best, high) =
        (&second["needed"]["low_min"], &second["needed"]["best_min"], &second["needed"]["high_min"]);
    assert!(number(low) < number(best) && number(best) < number(high));
    assert!(number(&second["hold_min"]) >= number(best) && number(&second["chance"]) > 0.5);
    assert!(dead.get("afterwards").is_none());
    let said = check(&seen(DEAD_PACK), &[]);
    fits_the_screen(&said);
    assert!(said.out.contains("\nA second soak\n"), "{}", said.out);
    let took = json(&wearing_face());
    assert!(took.get("second_soak").is_none() && took.get("afterwards").is_some());
}

/// Colour adds nothing that the words do not say, and stands on the answer words only.
#[test]
fn colour_is_never_the_only_signal() {
    let plain = check(&seen(DEAD_PACK), &[]).out;
    assert!(!plain.contains('\u{1b}'), "no terminal, no colour");
    let painted = check(&seen(DEAD_PACK), &["--color", "always"]).out;
    assert!(painted.starts_with("Took, for its use: \u{1b}[1m\u{1b}[31mNO\u{1b}[0m\n"), "{painted}");
    let stripped = unpainted(&painted);
    assert_eq!(stripped, plain);
    assert_eq!(check(&seen(DEAD_PACK), &["--color", "never"]).out, plain);

    let folder = tempfile::tempdir().unwrap();
    check_in(folder.path(), &seen(DEAD_PACK), &["--quick"]);
    let no_color = |args: &[&str]| {
        let mut command = snapspark();
        run(command
            .env("NO_COLOR", "1")
            .current_dir(folder.path())
            .args(["check", "--quick", "run.toml"])
            .args(args))
        .out
    };
    assert_eq!(no_color(&[]), plain);
    assert_eq!(no_color(&["--color", "always"]), painted);
}

/// Text without its escape sequences, all of which end in `m`.
fn unpainted(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let first = parts.next().unwrap_or_default().to_string();
    parts.fold(first, |all, part| all + part.split_once('m').map_or("", |(_, rest)| rest))
}

#[test]
fn json_has_what_is_documented() {
    let answer = json(EXAMPLE);
    assert_eq!((answer["schema"].as_str(), answer["version"].as_u64()), (Some("snapspark-answer"), Some(1)));
    assert_eq!(answer["command"], "check");
    for key in
        ["took", "fits", "agreements", "causes", "usual_share", "finish", "advice", "estimate", "prediction"]
    {
        assert!(!answer[key].is_null(), "no {key}");
    }
    let share = |v: &Value| v["share"].as_f64().unwrap();
    let causes = answer["causes"].as_array().unwrap();
    let total = answer["usual_share"].as_f64().unwrap() + causes.iter().map(share).sum::<f64>();
    assert!((total - 1.0).abs() < 1e-9, "{total}");
    assert!(causes.windows(2).all(|pair| share(&pair[0]) >= share(&pair[1])));
    let votes: f64 = answer["estimate"]["sparks"]["votes"].as_array().unwrap().iter().map(share).sum();
    assert!((votes - 1.0).abs() < 1e-9, "{votes}");
    assert_eq!(answer["estimate"]["face"]["class"], "all_round");
    assert_eq!(answer["estimate"]["face"]["per_side_mm"].as_array().unwrap().len(), 3);
    let quantities: Vec<_> =
        answer["agreements"].as_array().unwrap().iter().map(|a| a["quantity"].as_str().unwrap()).collect();
    assert_eq!(quantities, ["sparks", "inward", "rim", "mass_gain", "file"]);
    let carbon = &answer["took"]["carbon_wt_pct"];
    assert!(carbon["low"].as_f64() <= carbon["best"].as_f64());
}

/// What was not told is left out, and what cannot be read says why.
#[test]
fn json_leaves_out_what_nobody_told() {
    let unseen = json(&unseen());
    assert!(unseen["estimate"].as_object().unwrap().is_empty());
    assert_eq!(
        (unseen["fits"].as_str(), unseen["took"]["answer"].as_str()),
        (Some("cannot_tell"), Some("cannot_tell"))
    );
    assert_eq!(unseen["advice"]["first"]["code"], "read_coupon");
    let no_steel = json(&seen(NO_STEEL));
    assert_eq!(no_steel["estimate"]["sparks"]["answer"], "not_plain_carbon");
    assert_eq!(no_steel["estimate"]["sparks"]["looks_like"], "no_sparks");
    let soft = json(&seen("[fracture]\nquenched_in = \"not quenched\"\nrim = \"all round\"\n"));
    assert_eq!(soft["estimate"]["face"]["why"][0], "not_quenched");
}

/// `prediction` is the same object as that of `soak`.
#[test]
fn the_prediction_is_that_of_soak() {
    let folder = tempfile::tempdir().unwrap();
    let said = check_in(folder.path(), &unseen(), &["--quick", "--json"]);
    let check: Value = serde_json::from_str(&said.out).unwrap();
    let said = run(snapspark().current_dir(folder.path()).args(["soak", "--quick", "run.toml", "--json"]));
    let soak: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(check["prediction"], soak["prediction"]);
    assert!(soak["took"].is_null() && soak["estimate"].is_null());
}

#[test]
fn the_profile_can_be_kept_too() {
    let folder = tempfile::tempdir().unwrap();
    let said = check_in(folder.path(), &unseen(), &["--quick", "--profile", "profile.csv"]);
    assert_eq!(said.code, Some(4), "{}", said.err);
    assert!(
        std::fs::read_to_string(folder.path().join("profile.csv")).unwrap().starts_with("stage,depth_mm")
    );
    let said = check_in(folder.path(), &unseen(), &["--quick", "--profile", "run.toml"]);
    assert!(said.code == Some(1) && said.err.contains("overwrite what it is made from"), "{}", said.err);
}

#[test]
fn words_of_the_sheet_send_nothing_to_the_terminal() {
    let nasty = EXAMPLE.replace("\"marking knife\"", "\"a\\u001b[31mb\"");
    for args in [&[][..], &["--color", "always"]] {
        let out = check(&nasty, args).out;
        assert!(out.contains("\\u{1b}[31mb") && !out.contains("\u{1b}[31mb"), "{out}");
    }
}

#[test]
fn help_says_it_all() {
    insta::assert_snapshot!("help", run(snapspark().args(["check", "--help"])).out);
}
