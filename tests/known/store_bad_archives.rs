//! Archives that are cut, forged or hostile: a clear error, and nothing changes.

use super::store::{Store, records, sha256};
use std::io::Write;
use std::path::Path;
use tar::{EntryType, Header};

const SET: (&str, &[u8]) = ("set.toml", b"known-steels = 1\n");

/// One entry as it stands in the file, with a name that no library would write.
fn entry(name: &str, kind: EntryType, link: &str, bytes: &[u8]) -> Vec<u8> {
    sized(name, kind, link, bytes, bytes.len() as u64)
}

fn sized(name: &str, kind: EntryType, link: &str, bytes: &[u8], size: u64) -> Vec<u8> {
    let mut head = Header::new_ustar();
    let old = head.as_old_mut();
    old.name[..name.len()].copy_from_slice(name.as_bytes());
    old.linkname[..link.len()].copy_from_slice(link.as_bytes());
    head.set_entry_type(kind);
    head.set_size(size);
    head.set_mode(0o644);
    head.set_mtime(0);
    head.set_cksum();
    let mut out = head.as_bytes().to_vec();
    out.extend(bytes);
    out.resize(out.len().next_multiple_of(512), 0);
    out
}

fn file((name, bytes): (&str, &[u8])) -> Vec<u8> {
    entry(name, EntryType::Regular, "", bytes)
}

fn tar(path: &Path, entries: &[Vec<u8>]) {
    let mut out = std::fs::File::create(path).unwrap();
    for entry in entries {
        out.write_all(entry).unwrap();
    }
    out.write_all(&[0; 1024]).unwrap();
}

fn record(hash: &str) -> String {
    format!(
        "known-steel = 1\nsteel = \"1095\"\ncarbon = \"0.9-1.03 %\"\nrig = \"bench\"\nsession = \"2026-03-14\"\n\n\
         [[photo]]\nname = \"a.jpg\"\nsha256 = \"{hash}\"\n"
    )
}

#[test]
fn are_refused_and_change_nothing() {
    let store = Store::new();
    store.write("seen.toml", "rays = 4\n");
    let told = ["add", "--steel", "1045", "--rig", "bench", "--session", "2026-03-14", "--told", "seen.toml"];
    assert_eq!(store.known(&told).code, Some(0));
    let before = records(&store.set());
    let hash = sha256(b"light");
    let photo = format!("photos/{hash}.jpg");
    let text = record(&hash);
    let good = [file(SET), file((&photo, b"light")), file(("records/a.toml", text.as_bytes()))];
    let many: Vec<u8> = (0..3).flat_map(|_| file(("records/a.toml", text.as_bytes()))).collect();
    let linked = format!("{text}link = \"/home/smith/a.jpg\"\n");
    let cases: Vec<(&str, Vec<Vec<u8>>)> = vec![
        ("no set.toml", good[1..].to_vec()),
        ("a set of the future", vec![file(("set.toml", b"known-steels = 9\n"))]),
        ("out by ..", vec![file(SET), file(("records/../../out.toml", b"x"))]),
        ("from the root", vec![file(SET), file(("/etc/out.toml", b"x"))]),
        ("another place", vec![file(SET), file(("readme.txt", b"x"))]),
        ("a link", vec![file(SET), entry("records/a.toml", EntryType::Symlink, "/etc/passwd", b"")]),
        ("a hard link", vec![file(SET), entry(&photo, EntryType::Link, "set.toml", b"")]),
        ("a device", vec![file(SET), entry("records/a.toml", EntryType::Char, "", b"")]),
        ("a sparse bomb", vec![file(SET), sized(&photo, EntryType::GNUSparse, "", b"", 1 << 40)]),
        (
            "a long name",
            vec![file(SET), entry("././@LongLink", EntryType::GNULongName, "", b"records/a.toml")],
        ),
        ("a bomb by size", vec![file(SET), sized(&photo, EntryType::Regular, "", b"", 1 << 40)]),
        ("a record of a megabyte", vec![file(SET), file(("records/a.toml", &[b'#'; 1 << 20]))]),
        ("other bytes", vec![file(SET), file((&photo, b"dark")), good[2].clone()]),
        ("a photo is missing", vec![file(SET), good[2].clone()]),
        ("a broken record", vec![file(SET), file(("records/a.toml", b"known-steel = 1\nsteel = 7\n"))]),
        ("a record thrice", [good[..2].to_vec(), vec![many]].concat()),
        (
            "a record with a link out",
            [good[..2].to_vec(), vec![file(("records/a.toml", linked.as_bytes()))]].concat(),
        ),
        ("a broken header", vec![file(SET), vec![7; 512]]),
    ];
    let mut said = String::new();
    for (what, entries) in cases {
        let path = store.folder().join("in.tar");
        tar(&path, &entries);
        let got = store.known(&["import", "in.tar"]);
        assert_eq!(got.code, Some(1), "{what}: {}", got.out);
        said.extend(["## ", what, "\n", &got.err, "\n"]);
        assert_eq!(records(&store.set()), before, "{what}");
        assert_eq!(std::fs::read_dir(store.set().join("photos")).unwrap().count(), 0, "{what}");
    }
    insta::assert_snapshot!(said.replace(&hash, "HASH"));
    tar(&store.folder().join("good.tar"), &good);
    assert_eq!(store.known(&["import", "good.tar"]).code, Some(0));
    assert_eq!(records(&store.set()).len(), before.len() + 1);
}

/// Cut anywhere, an archive is an error, and no set is made for it.
#[test]
fn cut_anywhere_is_refused() {
    let store = Store::new();
    let hash = sha256(b"light");
    let photo = format!("photos/{hash}.jpg");
    let text = record(&hash);
    tar(
        &store.folder().join("whole.tar"),
        &[file(SET), file((&photo, b"light")), file(("records/a.toml", text.as_bytes()))],
    );
    let bytes = std::fs::read(store.folder().join("whole.tar")).unwrap();
    for end in (0..bytes.len() - 512).step_by(509) {
        std::fs::write(store.folder().join("cut.tar"), &bytes[..end]).unwrap();
        let said = store.known(&["import", "cut.tar"]);
        assert_eq!(said.code, Some(1), "cut at {end}: {}", said.out);
        assert!(said.err.contains("cut short or damaged"), "{}", said.err);
    }
    assert!(!store.set().exists());
}

#[cfg(unix)]
#[test]
fn links_in_a_folder_are_refused() {
    let store = Store::new();
    store.write("in/set.toml", "known-steels = 1\n");
    store.write("secret.toml", &record(&sha256(b"x")));
    std::fs::create_dir(store.folder().join("in/records")).unwrap();
    std::os::unix::fs::symlink(store.folder().join("secret.toml"), store.folder().join("in/records/a.toml"))
        .unwrap();
    let said = store.known(&["import", "in"]);
    assert_eq!(said.code, Some(1), "{}", said.out);
    assert!(said.err.contains("a link"), "{}", said.err);
    assert!(!store.set().exists());
}
