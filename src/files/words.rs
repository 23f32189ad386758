//! Comparing words that people typed.

/// The candidate that `word` was probably meant to be.
pub(super) fn closest<'c>(word: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    const LONGEST: usize = 60;
    let word = plain(word);
    let length = word.chars().count();
    if length == 0 || length > LONGEST {
        return None;
    }
    // Two slips in a short word are common; in a number they make another number.
    let allowed = match length {
        _ if word.chars().all(|c| c.is_ascii_digit()) => 1,
        0..4 => 1,
        4..9 => 2,
        more => more / 3,
    };
    let candidates: Vec<_> = candidates.into_iter().map(|c| (plain(c), c)).collect();
    let near = candidates
        .iter()
        .map(|(plain, c)| (strsim::damerau_levenshtein(&word, plain), *c))
        .filter(|&(distance, c)| distance <= allowed && distance < c.chars().count())
        .filter(|&(distance, c)| distance < 2 || length > 5 || starts_alike(&word, c))
        .min_by_key(|&(distance, _)| distance);
    let as_a_part = || {
        let mut holding = candidates.iter().filter(|(plain, _)| plain.split(' ').any(|part| part == word));
        holding.next().filter(|_| length > 2 && holding.next().is_none()).map(|(_, c)| *c)
    };
    near.map(|(_, c)| c).or_else(as_a_part)
}

fn starts_alike(word: &str, candidate: &str) -> bool {
    word.chars().next() == plain(candidate).chars().next()
}

/// Lower case, with single spaces for `_`, `-` and blanks.
pub(super) fn plain(text: &str) -> String {
    let text = text.to_lowercase().replace(['_', '-'], " ").replace('’', "'");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether `text` says that nobody knows.
pub(super) fn is_dont_know(text: &str) -> bool {
    const SAYINGS: [&str; 9] = [
        "unknown",
        "don't know",
        "dont know",
        "do not know",
        "i don't know",
        "i dont know",
        "i do not know",
        "not known",
        "?",
    ];
    text.len() < 40 && SAYINGS.contains(&plain(text).as_str())
}

/// `"a", "b" or "c"`.
pub(super) fn either<'c>(words: impl IntoIterator<Item = &'c str>) -> String {
    let quoted: Vec<String> = words.into_iter().map(|w| format!("\"{w}\"")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn guesses_only_what_is_near() {
        let fields = ["thickness", "diameter", "grade"];
        assert_eq!(closest("thicknes", fields), Some("thickness"));
        assert_eq!(closest("Thick-ness", fields), Some("thickness"));
        assert_eq!(closest("diamter", fields), Some("diameter"));
        assert_eq!(closest("soke", ["spark", "soak", "stock"]), Some("soak"));
        assert_eq!(closest("1080", ["1018", "1084"]), Some("1084"));
        assert_eq!(closest("grey", ["light grey", "dark scale"]), Some("light grey"));
        assert_eq!(closest("milk", ["water", "oil"]), None);
        assert_eq!(closest("rich", ["rich then plain", "rich throughout"]), None);
        assert_eq!(closest("colour", fields), None);
        assert_eq!(closest("", fields), None);
        assert_eq!(closest("x", ["y"]), None);
    }

    #[test]
    fn knows_when_nobody_knows() {
        for text in ["unknown", "Don't know", "don’t  know", "?", "not-known"] {
            assert!(is_dont_know(text), "{text}");
        }
        assert!(!is_dont_know("unknown brass"));
        assert!(!is_dont_know(""));
    }
}
