use crate::spark::SparkObservation;

/// What was seen of a known steel's sparks.
#[derive(Debug, Clone, PartialEq)]
pub enum Seen {
    /// Photos, in order.
    Photos(Vec<KnownPhoto>),
    /// Told in words and numbers.
    Told(Box<SparkObservation>),
}

/// One photo of a known steel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KnownPhoto {
    /// What its file was called when it was added.
    pub name: String,
    /// SHA-256 of its bytes, 64 hexadecimal digits in small letters.
    pub hash: String,
    /// The touch it is of, from 1; `None`: not said.
    pub touch: Option<u32>,
    /// Where it is, as a whole path, if it was not copied.
    pub link: Option<String>,
}

impl KnownPhoto {
    /// Most touches, and photos, of one record.
    pub const MOST: usize = 1000;
    /// Longest ending that is kept.
    const LONGEST_ENDING: usize = 8;

    /// The ending of its name in small letters, `bin` for one that is odd.
    pub fn ending(&self) -> String {
        let ending = self.name.rsplit_once('.').map_or("", |(_, ending)| ending);
        let plain = !ending.is_empty()
            && ending.len() <= Self::LONGEST_ENDING
            && ending.bytes().all(|b| b.is_ascii_alphanumeric());
        if plain { ending.to_ascii_lowercase() } else { "bin".into() }
    }
}

impl Seen {
    /// The photos; none if it was told.
    pub fn photos(&self) -> &[KnownPhoto] {
        match self {
            Self::Photos(photos) => photos,
            Self::Told(_) => &[],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odd_endings_are_not_kept() {
        let ending = |name: &str| {
            KnownPhoto { name: name.into(), hash: String::new(), touch: None, link: None }.ending()
        };
        assert_eq!(["IMG_1.JPG", "a.b.tiff"].map(ending), ["jpg", "tiff"]);
        assert_eq!(["none", "a.", "a.j/g", "a.averylongone"].map(ending), ["bin"; 4]);
    }
}
