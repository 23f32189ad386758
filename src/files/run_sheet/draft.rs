use super::item::{Item, Line, PARTS, Part};
use super::read::read_up_to;
use super::{MOST_BYTES, VERSION, VERSION_KEY};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::io;
use std::path::Path;

/// What a field that was asked for, and that nobody knows, holds as a comment.
const DONT_KNOW: &str = "don't know";

const HEAD: &str = "\
# Begun with `snapspark start`, which goes on where it was left.
# A line after # is not read: to use it, write the value between the quotes
# and take the # away. Every answer may be \"don't know\". Units as you write
# them: \"1650 F\", \"900 C\", \"3 mm\", \"1/8 in\", \"60 thou\", \"75 min\", \"1:15\".
";

/// What became of a question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// An answer, as it was typed.
    Said(String),
    /// Asked, and nobody knows: the field is left out.
    LeftOut,
}

/// A run sheet that is being written, answer by answer. Its text is a commented sheet at every
/// moment, and holds all there is to know in order to go on.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Draft(BTreeMap<Item, Given>);

impl Draft {
    /// What became of the question for `item`; `None`: not asked yet.
    pub fn given(&self, item: Item) -> Option<&Given> {
        self.0.get(&item)
    }

    /// The answer for `item`, if there is one.
    pub fn said(&self, item: Item) -> Option<&str> {
        match self.given(item)? {
            Given::Said(text) => Some(text),
            Given::LeftOut => None,
        }
    }

    /// Keeps what became of the question for `item`.
    pub fn keep(&mut self, item: Item, given: Given) {
        self.0.insert(item, given);
    }

    /// The sheet as a text. What was not asked yet stands there as a comment without a value.
    pub fn text(&self) -> String {
        let mut out = format!("{VERSION_KEY} = {VERSION}\n\n{HEAD}");
        for part in &PARTS {
            self.write_part(part, &mut out);
        }
        out
    }

    fn write_part(&self, part: &Part, out: &mut String) {
        let said = part.lines.iter().any(|line| self.said(line.item).is_some());
        let off = if part.only_if_said && !said { "# " } else { "" };
        // writing to a String cannot fail
        let _ = writeln!(out, "\n{off}{}", part.header);
        for Line { item, key, comment } in part.lines {
            let _ = writeln!(out, "# {comment}");
            let _ = match self.given(*item) {
                Some(Given::Said(text)) => writeln!(out, "{key} = {}", quoted(text)),
                Some(Given::LeftOut) => writeln!(out, "# {key} = {}", quoted(DONT_KNOW)),
                None => writeln!(out, "# {key} = \"\""),
            };
        }
    }

    /// The draft that the file at `path` holds, as [`Self::of_text`] sees it.
    pub fn read_file(path: &Path) -> io::Result<Option<Self>> {
        let bytes = read_up_to(path, MOST_BYTES + 1)?;
        Ok(String::from_utf8(bytes).ok().and_then(|text| Self::of_text(&text)))
    }

    /// The draft whose text this is; `None` if lines were added to it or taken out, or if it was
    /// never one. Changed values are taken as they are now.
    pub fn of_text(text: &str) -> Option<Self> {
        if text.len() as u64 > MOST_BYTES {
            return None;
        }
        let text = text.replace("\r\n", "\n");
        let mut draft = Self::default();
        let mut part: Option<&Part> = None;
        for line in text.lines() {
            let off = line.strip_prefix("# ");
            let content = off.unwrap_or(line);
            if let Some(next) = PARTS.iter().find(|p| p.header == content) {
                part = Some(next);
            } else if let Some((item, value)) = part.and_then(|part| field(part, content)) {
                match off {
                    None => draft.keep(item, Given::Said(value)),
                    Some(_) if value == DONT_KNOW => draft.keep(item, Given::LeftOut),
                    Some(_) => {}
                }
            }
        }
        // whatever else stands in the text would be lost with the next answer
        (draft.text().trim_end() == text.trim_end()).then_some(draft)
    }
}

/// Reads `key = "value"` of a part.
fn field(part: &Part, line: &str) -> Option<(Item, String)> {
    let (key, _) = line.split_once(" = ")?;
    let known = part.lines.iter().find(|known| known.key == key)?;
    let table: toml::Table = line.parse().ok()?;
    Some((known.item, table.get(key)?.as_str()?.to_string()))
}

/// `text` as a TOML string on one line, whatever it holds.
pub(in crate::files) fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn items() -> Vec<Item> {
        PARTS.iter().flat_map(|part| part.lines).map(|line| line.item).collect()
    }

    fn given() -> impl Strategy<Value = Given> {
        let nasty = "([\"'\\\\\\n\\r\\t#=\\[\\]\u{0}\u{7f}\u{85}\u{2028}\u{1b}]|\\PC|don't know){0,12}";
        prop_oneof![nasty.prop_map(Given::Said), Just(Given::LeftOut)]
    }

    #[test]
    fn an_empty_one_comes_back_and_a_changed_one_is_not_ours() {
        let text = Draft::default().text();
        assert_eq!(Draft::of_text(&text), Some(Draft::default()));
        assert_eq!(Draft::of_text(&text.replace('\n', "\r\n")), Some(Draft::default()));
        assert_eq!(Draft::of_text(text.trim_end()), Some(Draft::default()));
        for changed in ["", "run-sheet = 1\n[soak]\n", &format!("{text}# a note\n")] {
            assert_eq!(Draft::of_text(changed), None, "{changed}");
        }
        let by_hand = text.replace("# thickness = \"\"", "thickness = '3 mm'");
        assert_eq!(Draft::of_text(&by_hand), None);
        let draft = Draft::of_text(&by_hand.replace("'3 mm'", "\"3 mm\"")).unwrap();
        assert_eq!(draft.said(Item::Thickness), Some("3 mm"));
    }

    proptest! {
        /// No answer can leave its quotes, and every one comes back as it was typed.
        #[test]
        fn whatever_is_answered_comes_back(answers in proptest::collection::vec((0..23_usize, given()), 0..30)) {
            let mut draft = Draft::default();
            let items = items();
            for (at, given) in answers {
                draft.keep(items[at], given);
            }
            let text = draft.text();
            prop_assert_eq!(Draft::of_text(&text), Some(draft.clone()));
            let table: toml::Table = text.parse().unwrap();
            let soak = table["soak"].as_table().unwrap();
            prop_assert_eq!(soak.get("colour").and_then(|v| v.as_str()), draft.said(Item::Colour));
            let stock = table["stock"].as_table().unwrap();
            prop_assert_eq!(stock.get("grade").and_then(|v| v.as_str()), draft.said(Item::Grade));
            let said = [Item::Grade, Item::Thickness].iter().filter(|i| draft.said(**i).is_some()).count();
            prop_assert_eq!(stock.len(), said);
        }
    }
}
