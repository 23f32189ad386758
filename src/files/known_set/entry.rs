use super::Layout;
use super::name::is_name;
use super::record::is_hash;

/// What a path inside an archive stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Place {
    /// The version of the set.
    Set,
    /// A record, by name.
    Record(String),
    /// A photo: its hash, and the name of its file.
    Photo(String, String),
    /// Something of a set that is not carried over, or a folder.
    Left,
}

impl Place {
    /// `None`: the path leads somewhere else.
    pub(super) fn of(path: &str, folder: bool) -> Option<Self> {
        let path = path.strip_prefix("./").unwrap_or(path);
        let parts: Vec<&str> = path.trim_end_matches('/').split('/').collect();
        let odd = |part: &&str| part.is_empty() || *part == ".." || part.contains(['\\', ':', '\0']);
        if folder && matches!(parts[..], ["" | "."]) {
            return Some(Self::Left);
        }
        if parts.iter().any(odd) {
            return None;
        }
        match parts[..] {
            [Layout::RECORDS | Layout::PHOTOS] if folder => Some(Self::Left),
            [Layout::MEASURED | Layout::REMOVED | Layout::TREES, ..] => Some(Self::Left),
            _ if folder => None,
            [Layout::SET] => Some(Self::Set),
            [Layout::EDGE] => Some(Self::Left),
            [.., file] if file.starts_with(Layout::PART) => Some(Self::Left),
            [Layout::RECORDS, file] => {
                file.strip_suffix(".toml").filter(|name| is_name(name)).map(|name| Self::Record(name.into()))
            }
            [Layout::PHOTOS, file] => {
                let (hash, ending) = file.split_once('.')?;
                let plain =
                    (1..=8).contains(&ending.len()) && ending.bytes().all(|b| b.is_ascii_alphanumeric());
                (is_hash(hash) && plain).then(|| Self::Photo(hash.into(), file.into()))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_leads_out_of_a_set() {
        let hash = "0123456789abcdef".repeat(4);
        let photo = format!("photos/{hash}.jpg");
        assert_eq!(Place::of("./set.toml", false), Some(Place::Set));
        assert_eq!(Place::of("records/a-b.toml", false), Some(Place::Record("a-b".into())));
        assert_eq!(Place::of(&photo, false), Some(Place::Photo(hash.clone(), format!("{hash}.jpg"))));
        for left in ["records/", "./", "photos", "measured/"] {
            assert_eq!(Place::of(left, true), Some(Place::Left), "{left}");
        }
        for bad in [
            "../set.toml",
            "/set.toml",
            "records/../../x.toml",
            "records/a/b.toml",
            "records\\a.toml",
            "records/.a.toml",
            "C:/records/a.toml",
            "records//a.toml",
            "photos/short.jpg",
            "readme.txt",
            "",
        ] {
            assert_eq!(Place::of(bad, false), None, "{bad}");
        }
        assert_eq!(Place::of("../", true), None);
        assert_eq!(Place::of("elsewhere/", true), None);
    }
}
