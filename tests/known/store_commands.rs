//! The commands from end to end.

use super::store::{Store, records, whole};
use crate::commands::{run, snapspark};
use serde_json::Value;

const DAY: [&str; 4] = ["--rig", "bench", "--session", "2026-03-14"];

fn add(store: &Store, args: &[&str]) -> crate::commands::Said {
    store.known(&[&["add"], args, &DAY].concat())
}

#[test]
fn help() {
    let all = ["", "add", "list", "show", "remove", "export", "import", "audit", "advise"];
    let said = all.map(|command| {
        let args = ["known", command, "--help"];
        let said = run(snapspark().args(args.iter().filter(|a| !a.is_empty())));
        assert_eq!(said.code, Some(0));
        format!("## {command}\n{}", said.out)
    });
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn add_list_show_remove_and_back() {
    let store = Store::new();
    let (a, b, stock) = (store.photo("a.png", 1), store.photo("b.png", 2), store.photo("stock.png", 3));
    let said =
        add(&store, &["--steel", "file", "--state", "annealed", "--touch", "1", a, b, "--against", stock]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("added", said.out);
    whole(&store.open());
    let again =
        add(&store, &["--steel", "old file", "--state", "soft", "--touch", "1", a, b, "--against", stock]);
    assert_eq!(again.out.matches("There already").count(), 2, "{}", again.out);
    let said = store.known(&["list"]);
    insta::assert_snapshot!("list", said.out);
    let said = store.known(&["list", "--json"]);
    let data: Value = serde_json::from_str(&said.out).unwrap();
    let listed = data["known"]["records"].as_array().unwrap();
    assert_eq!(listed.len(), 2);
    assert!(listed.iter().any(|r| r["reference"] == true && r["steel"] == "mild steel, unknown"));
    assert_eq!(store.known(&["list", "--rig", "belt"]).out.lines().count(), 1);
    let said = store.known(&["show", "old"]);
    insta::assert_snapshot!("show", said.out);
    let name = records(&store.set()).iter().find(|(_, s)| !s.reference).unwrap().0.clone();
    let kept = std::fs::read(store.open().layout().record(&name)).unwrap();
    assert_eq!(store.known(&["remove", &name]).code, Some(0));
    assert_eq!(records(&store.set()).len(), 1);
    assert_eq!(store.known(&["remove", &name]).code, Some(1));
    let back = store.known(&["remove", "--undo", "old"]);
    assert_eq!(back.code, Some(0), "{}", back.err);
    assert_eq!(std::fs::read(store.open().layout().record(&name)).unwrap(), kept);
    for wrong in
        [&["show", "1095"][..], &["show", ""], &["remove", "--undo", "old"], &["remove", "1095", &name]]
    {
        assert_eq!(store.known(wrong).code, Some(1), "{wrong:?}");
    }
    assert_eq!(records(&store.set()).len(), 2, "nothing was removed with a wrong name beside it");
}

#[test]
fn labels_make_records() {
    let store = Store::new();
    for (name, shade) in [("in/a.png", 1), ("in/b.png", 2), ("in/c.png", 3), ("in/d.png", 4)] {
        store.photo(name, shade);
    }
    store.write(
        "labels.csv",
        "photo,steel,carbon,state,rig,session,touch,notes,reference\n\
         a.png,1095,,soft,,2026-03-14,1,from the rack,\n\
         b.png,1095,,soft,,2026-03-14,2,,\n\
         c.png,old bolt,0.3-0.4,,belt,2026-03-15 evening,,,yes\n",
    );
    let said = store.known(&["add", "--dir", "in", "--labels", "labels.csv", "--rig", "bench"]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    assert!(said.out.contains("d.png: no row of the labels names it"), "{}", said.out);
    let records = records(&store.set());
    let told: Vec<_> = records
        .iter()
        .map(|(_, s)| (s.name.as_str(), s.rig.as_str(), s.seen.photos().len(), s.reference))
        .collect();
    assert_eq!(told, [("1095", "bench", 2, false), ("old bolt", "belt", 1, true)]);
    let said = store.known(&["add", "--dir", "in", "--labels", "labels.csv", "--rig", "bench"]);
    assert_eq!(said.out.matches("There already").count(), 2, "{}", said.out);
}

#[test]
fn the_same_picture_under_two_labels_is_refused() {
    let store = Store::new();
    let (a, b) = (store.photo("a.png", 1), store.photo("b.png", 2));
    store.photo("copy of a.png", 1);
    assert_eq!(add(&store, &["--steel", "1095", a]).code, Some(0));
    let said = add(&store, &["--steel", "1045", "copy of a.png", b]);
    assert_eq!(said.code, Some(1));
    assert!(said.err.contains("copy of a.png: the same picture is in the record 1095-"), "{}", said.err);
    let said = add(&store, &["--steel", "1095", a, b]);
    assert!(said.out.contains("a.png was left out: the record 1095-"), "{}", said.out);
    let photos: usize = records(&store.set()).iter().map(|(_, s)| s.seen.photos().len()).sum();
    assert_eq!(photos, 2);
}

#[test]
fn what_cannot_be_added() {
    let store = Store::new();
    let a = store.photo("a.png", 1);
    store.write("note.jpg", "not a photo");
    store.write("bad.toml", "share_bursting = \"mots\"\n");
    for (args, code) in [
        (&["--steel", "unobtainium", a][..], 1),
        (&["--steel", "?", "--carbon", "0.5", a], 1),
        (&["--steel", "rod", "--carbon", "3.5", a], 1),
        (&["--steel", "1095", "note.jpg"], 1),
        (&["--steel", "1095", "missing.png"], 1),
        (&["--steel", "1095", "--touch", "2", a], 1),
        (&["--steel", "1095", "--told", "bad.toml"], 1),
        (&["--steel", "1095", "--told", "none.toml"], 1),
        (&["--steel", "1095", a, "--against", a], 1),
        (&["--steel", "1095"], 2),
        (&["--steel", "1095", a, "--told", "bad.toml"], 2),
        (&["--steel", "1095", "--state", "warm", a], 2),
        (&["--steel", "1095", "--stock", "1018", a], 2),
    ] {
        let said = add(&store, args);
        assert_eq!(said.code, Some(code), "{args:?}: {}{}", said.out, said.err);
        assert!(said.err.starts_with("error: "), "{args:?}: {}", said.err);
    }
    let no_day = store.known(&["add", "--steel", "1095", "--rig", "bench", a]);
    assert!(no_day.err.contains("--session"), "{}", no_day.err);
    let bad_rig = store.known(&["add", "--steel", "1095", "--rig", "a/b", "--session", "2026-03-14", a]);
    assert!(bad_rig.err.starts_with("error: --rig: "), "{}", bad_rig.err);
    assert!(!store.set().join("records").exists() || records(&store.set()).is_empty());
}

/// Hand edits count, and one that is wrong hides nothing else.
#[test]
fn edits_by_hand() {
    let store = Store::new();
    let (a, b) = (store.photo("a.png", 1), store.photo("b.png", 2));
    add(&store, &["--steel", "1095", a]);
    add(&store, &["--steel", "1045", b]);
    let set = store.open();
    let [first, second] = [&set.records()[0].0, &set.records()[1].0].map(|name| set.layout().record(name));
    let edit = |path: &std::path::Path, from: &str, to: &str| {
        let text = std::fs::read_to_string(path).unwrap();
        assert!(text.contains(from));
        std::fs::write(path, format!("\u{feff}{}", text.replace(from, to).replace('\n', "\r\n"))).unwrap();
    };
    edit(&first, "session = \"2026-03-14\"", "session = 2026-03-15 # was wrong\nnotes = 'bar'");
    let known = records(&store.set());
    assert!(known.iter().any(|(_, s)| s.session.to_string() == "2026-03-15" && s.notes == "bar"));
    let text = std::fs::read_to_string(&second).unwrap();
    std::fs::write(second.with_file_name("copy.toml"), text.replace("bench", "belt")).unwrap();
    let said = store.known(&["list"]);
    assert!(
        said.err.contains("the same picture") && said.err.contains("under another label"),
        "{}",
        said.err
    );
    std::fs::remove_file(second.with_file_name("copy.toml")).unwrap();
    edit(&second, "rig = \"bench\"", "rgi = \"bench\"");
    let said = store.known(&["list"]);
    assert_eq!(said.code, Some(0));
    assert!(
        said.out.contains("1 record, 1 photo") && said.out.contains("1 record cannot be"),
        "{}",
        said.out
    );
    insta::assert_snapshot!("a_broken_record", store.plain(&said.err).replace('\\', "/"));
    let name = second.file_stem().unwrap().to_string_lossy().into_owned();
    assert_eq!(store.known(&["show", &name]).code, Some(1));
    assert_eq!(store.known(&["remove", &name]).code, Some(0), "a broken record can be put aside");
    assert_eq!(store.known(&["remove", "--undo", &name]).code, Some(1), "and comes back when it is right");
}

#[test]
fn folders_that_are_no_set() {
    let store = Store::new();
    store.write("docs/letter.txt", "x");
    let a = store.photo("a.png", 1);
    store.write("future/set.toml", "known-steels = 2\n");
    for set in ["docs", "future"] {
        for args in [&["list"][..], &[&["add", "--steel", "1095", a], &DAY[..]].concat()] {
            let said = store.known_in(set, args);
            assert_eq!(said.code, Some(1), "{set} {args:?}: {}", said.out);
        }
    }
    assert_eq!(std::fs::read_dir(store.folder().join("docs")).unwrap().count(), 1);
}

/// The platform's folder is used where none is named.
#[cfg(target_os = "linux")]
#[test]
fn the_default_folder() {
    let store = Store::new();
    let a = store.photo("a.png", 1);
    let args = [&["known", "add", "--steel", "1095", a], &DAY[..]].concat();
    let said = run(snapspark().current_dir(store.folder()).env("XDG_DATA_HOME", store.folder()).args(args));
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert_eq!(records(&store.folder().join("snapspark/known-steels")).len(), 1);
}
