use super::{Said, run, snapspark};
use crate::support::models;
use proptest::prelude::*;
use snapspark::files::run_sheet::{Draft, Item, RunSheet};
use snapspark::spark::{OverTime, SteelState};
use std::path::Path;

/// `snapspark start` in `folder`, with these lines piped in.
fn start(folder: &Path, args: &[&str], answers: &str) -> Said {
    run(snapspark().current_dir(folder).arg("start").args(args).write_stdin(answers))
}

fn written(folder: &Path) -> String {
    std::fs::read_to_string(folder.join("run.toml")).unwrap()
}

fn read(text: &str) -> RunSheet {
    let no_log = |_: &str| Err(std::io::Error::from(std::io::ErrorKind::NotFound));
    RunSheet::read(text, "run.toml", &no_log, models()).unwrap_or_else(|p| panic!("{p:?}\n{text}"))
}

const ALL: &str = "1018\n3 mm\nmarking knife\n60 thou\n0.2 mm\npipe\n2 in\ngranules\n1650 F\nin the pack\n75 min\n\
                   in the closed pack\nlight grey\nmany more\nsoft\nrich then plain\noil\nall round\n0.5 mm\nskates\n";
/// Whether the questions came to an answer, whatever it is.
fn answered(said: &Said) -> bool {
    matches!(said.code, Some(0 | 3 | 4))
}

/// Exit code where nothing was seen of the coupon.
const CANNOT_TELL: Option<i32> = Some(4);
/// Nothing is known but the heat.
const HEAT_ALONE: &str = "?\n?\n?\n\ndon't know\n?\norange\n75 min\n?\nI don't know\n?\n?\n?\n?\n";

#[test]
fn ten_answers_make_a_sheet_and_an_answer() {
    let folder = tempfile::tempdir().unwrap();
    let said = start(folder.path(), &[], ALL);
    insta::assert_snapshot!("questions", said.err);
    insta::assert_snapshot!("sheet", written(folder.path()));
    assert!(said.err.lines().all(|line| line.split(']').next().unwrap().chars().count() < 80));
    let sheet = read(&written(folder.path()));
    assert!(sheet.warnings.is_empty(), "{:?}", sheet.warnings);
    let alone = run(snapspark().current_dir(folder.path()).args(["check", "run.toml"]));
    assert_eq!((said.out, said.code), (alone.out, alone.code));
}

/// "Don't know" leaves a field out: the answer is that of the shortest sheet.
#[test]
fn the_heat_alone_is_enough() {
    let folder = tempfile::tempdir().unwrap();
    let said = start(folder.path(), &[], HEAT_ALONE);
    assert_eq!(said.code, CANNOT_TELL, "{}", said.err);
    insta::assert_snapshot!("sheet_of_the_heat_alone", written(folder.path()));
    let short = "run-sheet = 1\n[piece]\n[soak]\ntime_at_heat = \"75 min\"\ncolour = \"orange\"\n";
    std::fs::write(folder.path().join("run.toml"), short).unwrap();
    let shortest = run(snapspark().current_dir(folder.path()).args(["check", "run.toml"]));
    assert_eq!(said.out, shortest.out);
}

#[test]
fn a_melted_metal_tells_the_heat() {
    let folder = tempfile::tempdir().unwrap();
    let answers = HEAT_ALONE.replace("orange\n", "unknown brass\nbeside the steel\n");
    let said = start(folder.path(), &[], &answers);
    assert_eq!(said.code, CANNOT_TELL, "{}", said.err);
    let sheet = read(&written(folder.path()));
    assert!(sheet.soak.witnesses[0].melted && sheet.warnings.is_empty());
}

/// How the stock was is asked only beside a hardened coupon: as bought it is soft.
#[test]
fn stock_is_asked_about_only_beside_a_hardened_coupon() {
    for (said_of_both, coupon, stock) in [
        ("Soft\n", Some(SteelState::Soft), Some(SteelState::Soft)),
        ("?\n", None, None),
        ("hardened\nsoft\n", Some(SteelState::Hardened), Some(SteelState::Soft)),
        ("hardened\nhardened\n", Some(SteelState::Hardened), Some(SteelState::Hardened)),
        ("hardened\n?\n", Some(SteelState::Hardened), None),
    ] {
        let folder = tempfile::tempdir().unwrap();
        let answers = ALL.replace("\nsoft\n", &format!("\n{said_of_both}"));
        let said = start(folder.path(), &[], &answers);
        assert!(answered(&said), "{}", said.err);
        let spark = read(&written(folder.path())).spark.unwrap();
        assert_eq!(spark.coupon.state, coupon);
        assert_eq!(spark.untreated.and_then(|stock| stock.state), stock);
        assert_eq!(spark.over_time, Some(OverTime::RichThenPlain));
    }
}

#[test]
fn what_cannot_be_read_is_told_why_and_asked_again() {
    let folder = tempfile::tempdir().unwrap();
    let answers = "1081\n1018\n3\nthick\n3,2 mm\nknife\n?\ntube\npipe\n-2 in\n2 in\ncoal\n?\nornage\n1300 C\n\
                   1650 F\noven\noutside\nlong\n75\n75 min\nfast\n?\ngrey\nlight grey\nlots\nsame\nred\nhardened\nhot\n?\n?\nmilk\noil\n\
                   yes\npartial\ndeep\n150 %\n15 %\nslips\nskates\n";
    let said = start(folder.path(), &[], answers);
    assert!(answered(&said), "{}", said.err);
    insta::assert_snapshot!("wrong_answers", said.err);
    assert!(written(folder.path()).contains("\n# thickness = \"don't know\"\n"));
}

/// The same wrong answer for ever ends, too.
#[test]
fn never_asks_for_ever() {
    let folder = tempfile::tempdir().unwrap();
    let said = start(folder.path(), &[], &"zzz\n".repeat(200));
    assert_eq!(said.code, CANNOT_TELL, "{}", said.err);
    assert!(said.out.starts_with("Took, for its use: CANNOT TELL\n"), "{}", said.out);
    assert!(said.out.contains("`snapspark start run.toml`\n  asks for them again"), "{}", said.out);
    let endless = start(folder.path(), &["other.toml"], &"z".repeat(3_000_000));
    assert!(endless.err.contains("goes on from here"), "{}", endless.err.len());
    let said = start(folder.path(), &[], "orange\n75 min\n");
    assert_eq!(said.code, CANNOT_TELL, "{}", said.err);
    assert!(said.out.contains("total case depth"));
}

/// Left after any line, it goes on from there, and the sheet ends up the same.
#[test]
fn left_half_way_it_goes_on() {
    let whole = tempfile::tempdir().unwrap();
    let at_once = start(whole.path(), &[], ALL);
    let lines: Vec<&str> = ALL.split_inclusive('\n').collect();
    for left_after in [0, 1, 4, 9, 11, 14, 15, 19] {
        let folder = tempfile::tempdir().unwrap();
        let first = start(folder.path(), &[], &lines[..left_after].concat());
        assert_eq!((first.code, first.out.as_str()), (Some(0), ""), "{}", first.err);
        assert!(first.err.contains("`snapspark start run.toml` goes on from here"), "{}", first.err);
        if left_after >= 11 {
            read(&written(folder.path()));
        }
        let second = start(folder.path(), &[], &lines[left_after..].concat());
        assert!(answered(&second), "after {left_after}: {}", second.err);
        assert!(second.err.contains("Going on with run.toml"), "{}", second.err);
        assert_eq!(written(folder.path()), written(whole.path()));
        assert_eq!(second.out, at_once.out);
    }
}

#[test]
fn what_is_there_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let mine = "run-sheet = 1\n[soak]\nsteps = [\"hold 1 h at 900C\"]\n";
    std::fs::write(folder.path().join("run.toml"), mine).unwrap();
    let foreign = start(folder.path(), &[], ALL);
    assert_eq!((foreign.code, foreign.out.as_str()), (Some(1), ""));
    assert_eq!(written(folder.path()), mine);

    for (aside, was) in [("run.toml.bak", "steps"), ("run.toml.bak2", "1018")] {
        let anew = start(folder.path(), &["--over"], ALL);
        assert!(answered(&anew), "{}", anew.err);
        assert!(anew.err.contains(&format!("What was there is now {aside}.")), "{}", anew.err);
        assert!(std::fs::read_to_string(folder.path().join(aside)).unwrap().contains(was));
    }

    let finished = start(folder.path(), &[], ALL);
    assert_eq!(finished.code, Some(1));
    std::fs::write(
        folder.path().join("run.toml"),
        written(folder.path()).replace("= \"1650 F\"", "= \"1650\""),
    )
    .unwrap();
    let broken = start(folder.path(), &[], ALL);
    assert_eq!(broken.code, Some(1));
    let nowhere = start(folder.path(), &["no/such/run.toml"], ALL);
    assert_eq!(nowhere.code, Some(1));
    std::fs::create_dir(folder.path().join("folder")).unwrap();
    let no_file = start(folder.path(), &["folder", "--over"], ALL);
    assert_eq!(no_file.code, Some(1));
    let told: Vec<String> = [foreign, finished, broken, nowhere, no_file].map(|said| said.err).into();
    insta::with_settings!({filters => vec![(r"written: .*", "written: [why]")]}, {
        insta::assert_snapshot!("refused", told.join("\n"));
    });
}

/// A value changed by hand is kept when the questions go on.
#[test]
fn a_value_changed_by_hand_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    start(folder.path(), &[], "1018\n3 mm\n");
    let by_hand = written(folder.path()).replace("= \"3 mm\"", "= \"4 mm\"");
    std::fs::write(folder.path().join("run.toml"), by_hand).unwrap();
    let rest = ALL.split_once("3 mm\n").unwrap().1;
    assert!(answered(&start(folder.path(), &[], rest)));
    assert!(written(folder.path()).contains("thickness = \"4 mm\""));
}

#[test]
fn help_says_it_all() {
    insta::assert_snapshot!("help", run(snapspark().args(["start", "--help"])).out);
}

/// Free text with everything that TOML gives a meaning to.
#[test]
fn quotes_and_escapes_in_an_answer_stay_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let what = "a \"5\\n\" 'blade' \u{1b}[31m #1 = [x]\\";
    let said = start(folder.path(), &[], &HEAT_ALONE.replacen("?\n?\n?\n", &format!("?\n?\n{what}\n"), 1));
    assert_eq!(said.code, CANNOT_TELL, "{}", said.err);
    assert_eq!(read(&written(folder.path())).piece.unwrap().what, "a \"5\\n\" 'blade'  [31m #1 = [x]\\");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Whatever is answered, the sheet is either refused a field or says just that.
    #[test]
    fn no_answer_breaks_the_sheet(answer in "([\"'\\\\\\n\\r\\t#=\\[\\]\u{0}\u{7f}\u{2028}]|\\PC){1,20}") {
        let mut heat = Draft::default();
        for (item, text) in [(Item::Colour, "orange"), (Item::TimeAtHeat, "75 min")] {
            heat = heat.with_answer(&[item], text, models()).unwrap();
        }
        if let Ok(draft) = heat.with_answer(&[Item::What], &answer, models()) {
            let sheet = read(&draft.text());
            if !Draft::is_dont_know(&answer) {
                prop_assert_eq!(sheet.piece.unwrap().what, answer.trim());
            }
            prop_assert_eq!(Draft::of_text(&draft.text()), Some(draft));
        }
        for item in [Item::Grade, Item::Inside, Item::Colour, Item::RimDepth, Item::Sat] {
            if let Ok(draft) = heat.with_answer(&[item], &answer, models()) {
                read(&draft.text());
            }
        }
    }
}
