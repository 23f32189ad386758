use super::coupon::quench;
use super::{carbon, seen, state};
use crate::known::{KnownFace, KnownSteel};
use crate::report::Page;
use crate::report::sparks::plural;
use std::collections::BTreeSet;

/// A record by name.
pub type KnownRow<'a> = (&'a str, &'a KnownSteel);

/// Name, carbon, state, what there is; characters.
const COLUMNS: [usize; 4] = [38, 15, 8, 10];

/// Lays out the records of the set in `folder`, and its coupons that were measured another way; `broken` more cannot be
/// read.
pub fn list_page(folder: &str, rows: &[KnownRow<'_>], faces: &[(&str, &KnownFace)], broken: usize) -> Page {
    let mut page = Page::default();
    let steels = || rows.iter().map(|(_, steel)| *steel);
    let photos: usize = steels().map(|s| s.seen.photos().len()).sum();
    let rigs: BTreeSet<&str> = steels().map(|s| s.rig.as_str()).collect();
    let sittings: BTreeSet<_> = steels().map(|s| (&s.session, &s.rig)).collect();
    let broken =
        if broken > 0 { format!("; {} cannot be read", plural(broken, "record")) } else { String::new() };
    let coupons =
        if faces.is_empty() { String::new() } else { format!(", {}", plural(faces.len(), "coupon")) };
    let all = format!(
        "Known steels in {folder}: {}, {}, {}, {}{coupons}{broken}.",
        plural(rows.len(), "record"),
        plural(photos, "photo"),
        plural(rigs.len(), "rig"),
        plural(sittings.len(), "session"),
    );
    page.paragraph("", "  ", &all);
    let mut in_order: Vec<&KnownRow<'_>> = rows.iter().collect();
    in_order.sort_by(|(a, x), (b, y)| (&x.session, &x.rig, *a).cmp(&(&y.session, &y.rig, *b)));
    for sitting in in_order.chunk_by(|(_, a), (_, b)| a.same_sitting(b)) {
        if let Some((_, first)) = sitting.first() {
            page.heading(&format!("{} on rig {}", first.session, first.rig));
        }
        let rows: Vec<[String; 4]> = sitting.iter().map(|row| cells(row)).collect();
        page.table(COLUMNS, &rows);
    }
    if !faces.is_empty() {
        page.heading("Coupons measured another way");
        let row = |(name, face): &(&str, &KnownFace)| {
            let points = plural(face.points.len(), "point");
            [(*name).to_string(), carbon(&face.core), quench(face).to_string(), points]
        };
        page.table(COLUMNS, &faces.iter().map(row).collect::<Vec<_>>());
    }
    page
}

fn cells((name, steel): &KnownRow<'_>) -> [String; 4] {
    let reference = if steel.reference { ", reference" } else { "" };
    [
        if tells(name, &steel.name) { (*name).to_string() } else { format!("{name} ({})", steel.name) },
        carbon(&steel.carbon),
        state(steel.state).to_string(),
        format!("{}{reference}", seen(&steel.seen)),
    ]
}

/// Whether a record's name begins with the steel's, as it does until somebody renames its file.
fn tells(name: &str, steel: &str) -> bool {
    let letters =
        |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_lowercase();
    letters(name).starts_with(&letters(steel))
}
