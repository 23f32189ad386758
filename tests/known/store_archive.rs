//! Out and in again: the same set.

use super::store::{Store, open, records, whole};

fn filled() -> Store {
    let store = Store::new();
    store.write("seen.toml", "# by eye\nshare_bursting = \"most\"\n");
    let (a, b, c) = (store.photo("a.png", 1), store.photo("b.png", 2), store.photo("c.png", 3));
    let day = ["--rig", "bench", "--session", "2026-03-14"];
    for args in [
        &["add", "--steel", "1095", "--touch", "1,1", "--notes", "bar \"A\"", a, b][..],
        &["add", "--steel", "1045", "--told", "seen.toml"],
        &["add", "--steel", "old bolt", "--carbon", "0.3-0.5", "--link", c],
    ] {
        let said = store.known(&[args, &day].concat());
        assert_eq!(said.code, Some(0), "{}", said.err);
    }
    store
}

#[test]
fn the_same_set_comes_back() {
    let store = filled();
    for out in ["out.tar", "out"] {
        let said = store.known(&["export", out]);
        assert_eq!(said.code, Some(0), "{}", said.err);
        let to = format!("from-{out}");
        let said = store.known_in(&to, &["import", out]);
        assert_eq!(said.code, Some(0), "{}", said.err);
        let copy = store.folder().join(&to);
        whole(&open(&copy));
        let mut before = records(&store.set());
        for photo in before.iter_mut().filter_map(|(_, steel)| match &mut steel.seen {
            snapspark::known::Seen::Photos(photos) => Some(photos),
            snapspark::known::Seen::Told(_) => None,
        }) {
            for p in photo {
                p.link = None;
            }
        }
        assert_eq!(records(&copy), before);
        let again = store.known_in(&to, &["import", out]);
        assert!(again.out.contains("0 imported, 3 there already, 0 skipped"), "{}", again.out);
    }
    let [a, b] = ["out.tar", "again.tar"].map(|out| {
        store.known(&["export", out]);
        std::fs::read(store.folder().join(out)).unwrap()
    });
    assert_eq!(a, b, "the same set is the same archive");
}

#[test]
fn nothing_is_written_over() {
    let store = filled();
    store.write("there.tar", "mine");
    std::fs::create_dir(store.folder().join("folder")).unwrap();
    for (out, code) in [("there.tar", 1), ("folder", 1), ("out.zip", 1), ("nowhere/out.tar", 1)] {
        let said = store.known(&["export", out]);
        assert_eq!(said.code, Some(code), "{out}: {}", said.out);
    }
    assert_eq!(std::fs::read_to_string(store.folder().join("there.tar")).unwrap(), "mine");
    std::fs::remove_file(store.folder().join("c.png")).unwrap();
    let said = store.known(&["export", "out.tar"]);
    assert!(said.err.contains("c.png is missing"), "{}", said.err);
    assert!(!store.folder().join("out.tar").exists());
}

/// What is there is never changed: other content, and pictures under another label, are skipped.
#[test]
fn what_contradicts_is_skipped() {
    let store = filled();
    store.known(&["export", "out"]);
    let day = ["--session", "2026-03-14"];
    let other = ["add", "--steel", "1084", "--rig", "bench", "a.png"];
    assert_eq!(store.known_in("other", &[&other[..], &day].concat()).code, Some(0));
    let name = records(&store.set()).iter().find(|(_, s)| s.name == "1045").unwrap().0.clone();
    std::fs::create_dir_all(store.folder().join("other/records")).unwrap();
    let text = std::fs::read_to_string(store.open().layout().record(&name)).unwrap();
    let edited = text.replace("rig = \"bench\"", "rig = \"belt\"");
    std::fs::write(store.folder().join(format!("other/records/{name}.toml")), &edited).unwrap();
    let said = store.known_in("other", &["import", "out"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains("1 imported, 0 there already, 2 skipped"), "{}", said.out);
    let kept = std::fs::read_to_string(store.folder().join(format!("other/records/{name}.toml"))).unwrap();
    assert_eq!(kept, edited);
}
