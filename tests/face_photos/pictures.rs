//! Pictures of seeds: drawn, or read from a folder that `draw_faces` or `draw_unusable_faces` wrote, if the environment
//! names one in `FROM`.

use crate::support::draw_faces::{Order, Picture, Truth, Unusable, draw_unusable};
use std::path::Path;

/// A number from the environment.
pub(super) fn number(name: &str, or: u64) -> u64 {
    std::env::var(name).map_or(or, |v| v.parse().unwrap_or_else(|_| panic!("{name}={v}: a whole number")))
}

/// The picture of a seed; `None` if the folder does not have it.
pub(super) fn picture(seed: u64, unusable: bool) -> Option<Picture> {
    let Some(folder) = std::env::var_os("FROM") else {
        return Some(if unusable {
            draw_unusable(Unusable::of(seed), seed, None)
        } else {
            Order::of(seed).draw()
        });
    };
    let truth = std::fs::read_to_string(Path::new(&folder).join(format!("{seed:04}.json"))).ok()?;
    let truth: Truth = serde_json::from_str(&truth).expect("a truth as it was written");
    let bytes = std::fs::read(Path::new(&folder).join(&truth.file)).expect("a picture beside its truth");
    Some(Picture { bytes, truth })
}
