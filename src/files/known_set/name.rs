use super::carbon::carbon_text;
use super::photo_source::hex;
use super::{FaceFile, ToldFile};
use crate::files::run_sheet::spark::state_word;
use crate::known::{KnownFace, KnownSteel, Seen};
use sha2::{Digest, Sha256};

/// Most characters of a steel in a record's name.
const LONGEST: usize = 40;
/// Most bytes of a record's name: with its ending it fits into the 100 of a tar header.
const LONGEST_NAME: usize = 95;

/// The name of a record: steel, session, and what it holds. The same label with the same photos or answers has the
/// same name, whatever the notes say.
pub(super) fn record_name(steel: &KnownSteel, told: Option<&ToldFile>) -> String {
    let mut hash = Sha256::new();
    let mut add = |part: &str| {
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part.as_bytes());
    };
    for part in [
        steel.name.to_lowercase().as_str(),
        &carbon_text(&steel.carbon),
        state_word(steel.state),
        &steel.rig,
        &steel.session.to_string(),
        if steel.reference { "reference" } else { "" },
    ] {
        add(part);
    }
    match &steel.seen {
        Seen::Photos(photos) => {
            let mut photos: Vec<_> = photos.iter().map(|p| (p.touch, &p.hash)).collect();
            photos.sort();
            for (touch, hash) in photos {
                add(&touch.map(|t| t.to_string()).unwrap_or_default());
                add(hash);
            }
        }
        Seen::Told(_) => add(&told.map(|t| t.typed.to_string()).unwrap_or_default()),
    }
    let digest = hex(&hash.finalize());
    format!("{}-{}-{}", plain(&steel.name), plain(&steel.session.to_string()), &digest[..8])
}

/// The name of a coupon, by the same rule.
pub(super) fn face_name(face: &KnownFace, told: &FaceFile) -> String {
    let session = face.session.to_string();
    let parts = [&face.name.to_lowercase(), &carbon_text(&face.core), &session, &told.typed.to_string()];
    let digest = hex(&Sha256::digest(parts.map(|part| format!("{} {part}", part.len())).concat()));
    format!("coupon-{}-{}-{}", plain(&face.name), plain(&session), &digest[..8])
}

/// Small letters and digits, with single dashes for all else.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.to_lowercase().chars().take(LONGEST) {
        if c.is_ascii_alphanumeric() {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() { "steel".into() } else { out.into() }
}

/// Whether a record's file may be called so: names that every system and every archive can hold.
pub(super) fn is_name(name: &str) -> bool {
    let plain = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.');
    !name.is_empty() && name.len() <= LONGEST_NAME && !name.starts_with('.') && name.bytes().all(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe() {
        assert_eq!(plain("W1-9.5 (drill rod)"), "w1-9-5-drill-rod");
        assert_eq!(plain("../../etc"), "etc");
        assert_eq!(plain("Федер"), "steel");
        assert!(is_name("1095-2026-03-14-0a1b2c3d"));
        for bad in ["", ".hidden", "a/b", "a b", "é", &"x".repeat(96)] {
            assert!(!is_name(bad), "{bad}");
        }
    }
}
