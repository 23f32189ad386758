use std::cmp::Ordering;

/// Order of names as people count: `img2` before `img10`, capitals no different from small letters. Names that
/// differ in nothing else are ordered by their bytes.
pub(super) fn natural(a: &str, b: &str) -> Ordering {
    let (mut left, mut right) = (a, b);
    while !left.is_empty() && !right.is_empty() {
        let ((l, l_rest), (r, r_rest)) = (piece(left), piece(right));
        let numbers =
            l.starts_with(|c: char| c.is_ascii_digit()) && r.starts_with(|c: char| c.is_ascii_digit());
        let order = if numbers {
            // Without leading zeros the longer number is the larger.
            let (l, r) = (l.trim_start_matches('0'), r.trim_start_matches('0'));
            l.len().cmp(&r.len()).then_with(|| l.cmp(r))
        } else {
            l.to_lowercase().cmp(&r.to_lowercase())
        };
        if order.is_ne() {
            return order;
        }
        (left, right) = (l_rest, r_rest);
    }
    left.len().cmp(&right.len()).then_with(|| a.cmp(b))
}

/// The digits, or the one other character, at the front of a text, and the rest.
fn piece(text: &str) -> (&str, &str) {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let end = if digits > 0 { digits } else { text.chars().next().map_or(0, char::len_utf8) };
    text.split_at(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_as_people_do() {
        let mut names = ["img10", "IMG2", "img1b", "img01", "img1", "a", "img", "é2", "é10"];
        names.sort_by(|a, b| natural(a, b));
        assert_eq!(names, ["a", "img", "img01", "img1", "img1b", "IMG2", "img10", "é2", "é10"]);
    }

    proptest::proptest! {
        #[test]
        fn is_an_order(mut names in proptest::collection::vec("[a-bA0-2é]{0,6}", 0..12)) {
            // Sorting panics on what is no total order.
            names.sort_by(|a, b| natural(a, b));
            proptest::prop_assert!(names.is_sorted_by(|a, b| natural(a, b).is_le()));
        }
    }
}
