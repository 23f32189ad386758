//! What a smith is told about records and labels that are wrong.

use super::store::Store;
use crate::support::models;
use snapspark::files::known_set::{LabelDefaults, Labels, read_record};
use snapspark::files::problem::ProblemList;

const HASH: &str = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";

fn told(text: &str) -> String {
    match read_record(text, "records/1095.toml", models()) {
        Ok(_) => "nothing wrong".into(),
        Err(problems) => ProblemList(&problems).to_string(),
    }
}

fn record(fields: &str) -> String {
    let good = "known-steel = 1\nsteel = \"1095\"\ncarbon = \"0.90-1.03 %\"\nrig = \"bench\"\nsession = \"2026-03-14\"\n";
    let keys: Vec<&str> = fields.lines().filter_map(|l| l.split_once(" = ")).map(|(key, _)| key).collect();
    let kept: String = good
        .lines()
        .filter(|line| !keys.iter().any(|key| line.starts_with(&format!("{key} = "))))
        .flat_map(|line| [line, "\n"])
        .collect();
    format!("{kept}{fields}")
}

fn each(cases: &[(&str, String)], tell: impl Fn(&str) -> String) -> String {
    let section = |(what, input): &(&str, String)| format!("## {what}\n{}\n", tell(input));
    cases.iter().map(section).collect::<Vec<_>>().join("\n")
}

#[test]
fn records() {
    let photo = format!("[[photo]]\nname = \"a.jpg\"\nsha256 = \"{HASH}\"\n");
    let said = each(
        &[
            ("empty", String::new()),
            ("a run sheet", "run-sheet = 1\n[soak]\ntime_at_heat = \"1 h\"\n".into()),
            ("of the future", "known-steel = 2\nstuff = 1\n".into()),
            ("nothing seen", record("")),
            (
                "label",
                record(&format!(
                    "carbon = \"0,95\"\nstate = \"annealled\"\nrig = \"../bench\"\nsession = \"2026-02-30\"\nreference = \"maybe\"\n{photo}"
                )),
            ),
            ("cast iron", record(&format!("carbon = \"3.2 %\"\n{photo}"))),
            ("misspelt", record(&format!("stel = \"1095\"\nnote = \"x\"\n{photo}"))),
            ("no name, odd day", record(&format!("steel = \"\"\nsession = \"14.03.2026\"\n{photo}"))),
            (
                "photo",
                record(
                    "[[photo]]\nname = \"shop/a.jpg\"\nsha256 = \"ABC\"\ntouch = 0\nlink = \"a.jpg\"\n[[photo]]\nname = \"b.jpg\"\n",
                ),
            ),
            ("the same photo twice", record(&format!("{photo}{photo}"))),
            ("photos and words", record(&format!("{photo}[spark]\nrays = 4\n"))),
            ("words that are none", record("[spark]\nshare_bursting = \"mots\"\nphotos = [\"a.jpg\"]\n")),
            ("no words", record("[spark]\n")),
            ("not TOML", record(&format!("notes = from the scrap yard\n{photo}"))),
        ],
        told,
    );
    insta::assert_snapshot!(said);
}

#[test]
fn labels() {
    let defaults = LabelDefaults { rig: Some("bench".into()), ..LabelDefaults::default() };
    let tell = |text: &str| match Labels::read(text.as_bytes(), "labels.csv", &defaults, models()) {
        Ok(labels) => format!("{} rows", labels.rows.len()),
        Err(problems) => ProblemList(&problems).to_string(),
    };
    let said = each(
        &[
            ("empty", String::new()),
            ("no header", "a.jpg,1095\n".into()),
            ("a column that is none", "photo,steel,carbn,steel\na.jpg,1095,0.95,1\n".into()),
            ("no steel", "photo,rig\na.jpg,bench\n".into()),
            ("header alone", "photo,steel\n".into()),
            (
                "cells",
                "photo;steel;carbon;state;session;touch;reference;rig\n\
                 ../a.jpg;1095;0.95;warm;yesterday;0;perhaps;a/b\n\
                 b.jpg;unobtainium;;;;;;\n\
                 c.jpg;old bolt;lots;;;;;\n"
                    .into(),
            ),
            ("a photo twice", "photo,steel\na.jpg,1095\na.jpg,1045\n".into()),
            ("too many cells", "photo,steel\na.jpg,1095,soft\n".into()),
            ("a spreadsheet", "PK\u{3}\u{4}rest".into()),
            ("nothing wrong", "photo\tsteel\n# a note\na.jpg\tfile\n".into()),
        ],
        tell,
    );
    insta::assert_snapshot!(said);
}

/// Tables whose photos are not as they say: told all at once, and nothing is written.
#[test]
fn photos_of_labels() {
    let store = Store::new();
    store.photo("in/a.png", 1);
    store.photo("in/b.png", 2);
    store.photo("in/c.png", 3);
    store.write("in/notes.jpg", "no photo");
    store.write(
        "labels.csv",
        "photo,steel,carbon,session\na.png,1095,,2026-03-14\nb.png,1095,0.95,2026-03-14\nc.png,1045,,\nnotes.jpg,1045,,2026-03-14\nmissing.png,1045,,2026-03-14\n",
    );
    let said = store.known(&["add", "--dir", "in", "--labels", "labels.csv", "--rig", "bench"]);
    assert_eq!(said.code, Some(1));
    assert!(!store.set().exists(), "nothing is written");
    insta::assert_snapshot!(store.plain(&said.err));
}
