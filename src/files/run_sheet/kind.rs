use super::fault::Fault;
use super::lines::Lines;
use super::reading::{Reading, Unknown};
use super::section::Section;
use super::typed::Typed;
use super::{MOST_BYTES, syntax};
use crate::files::problem::{Problem, shown};
use crate::files::{Models, UnknownName};
use toml::de::{DeTable, DeValue};

/// A kind of file that people write in TOML, as messages call it.
#[derive(Debug)]
pub(in crate::files) struct Kind {
    /// "a run sheet".
    pub(in crate::files) one: &'static str,
    /// "sheet".
    pub(in crate::files) noun: &'static str,
    /// The first field and the version that is understood; `None`: it has none.
    pub(in crate::files) version: Option<(&'static str, i64)>,
    /// Whether its fields stand at the top, in no section.
    pub(in crate::files) flat: bool,
    /// Whether every value is kept as it was typed: not where thousands of files are read.
    pub(in crate::files) typed: bool,
    /// What to do with one that is too long.
    pub(in crate::files) shorter: &'static str,
}

/// What was read, every value as it was typed, and what is odd.
pub(in crate::files) type Read<T> = Result<(T, Typed, Vec<Problem>), Vec<Problem>>;

impl Kind {
    /// Hands the top of a file to `read`. On errors: all of them, in the order of the lines.
    pub(in crate::files) fn read<T>(
        &'static self,
        text: &str,
        file_name: &str,
        models: &Models,
        read: impl FnOnce(&Reading<'_>, &DeTable<'_>) -> T,
    ) -> Read<T> {
        let unknown = unknown(models).map_err(|e| vec![Problem::error(file_name, e.to_string())])?;
        if text.len() as u64 > MOST_BYTES {
            return Err(vec![self.too_long(file_name)]);
        }
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let lines = Lines::of(text);
        let (root, errors) = DeTable::parse_recoverable(text);
        let root = root.get_ref();
        let syntax = syntax::problems(file_name, self.one, text, &lines, &errors);
        if syntax::breaks_a_section(&lines, &syntax) {
            return Err(syntax.into_iter().map(|(_, problem)| problem).collect());
        }
        let reading = Reading::new(self, file_name, lines, text, models, unknown, syntax);
        if self.is_other_version(&reading, root) {
            return Err(reading.into_found().settle().err().unwrap_or_default());
        }
        let value = read(&reading, root);
        let (typed, warnings) = reading.into_found().settle()?;
        Ok((value, typed, warnings))
    }

    /// Reads all of a file as one table of fields and sections.
    pub(in crate::files) fn read_whole<T>(
        &'static self,
        text: &str,
        file_name: &str,
        models: &Models,
        read: impl FnOnce(&mut Section<'_>) -> T,
    ) -> Read<T> {
        self.read(text, file_name, models, |reading, root| {
            Section::read(reading, "", 0, root, |section| {
                self.ask_version(section);
                read(section)
            })
        })
    }

    /// The text of a file, or what is wrong with its bytes.
    pub(in crate::files) fn text(&self, name: &str, bytes: Vec<u8>) -> Result<String, Box<Problem>> {
        if bytes.len() as u64 > MOST_BYTES {
            return Err(Box::new(self.too_long(name)));
        }
        String::from_utf8(bytes).map_err(|e| {
            let good = &e.as_bytes()[..e.utf8_error().valid_up_to()];
            let line = good.split(|&b| b == b'\n').count();
            let help = format!(
                "save {} as UTF-8 text; a ° or µ typed in an old editor is the usual cause",
                self.one.replacen("a ", "the ", 1)
            );
            Box::new(Problem::error(name, "a character that is not UTF-8").at_line(line).help(help))
        })
    }

    fn too_long(&self, name: &str) -> Problem {
        let message = format!("longer than {} KiB, so it is no {}", MOST_BYTES / 1024, &self.one[2..]);
        Problem::error(name, message).help(self.shorter)
    }

    /// Whether the file says that it is of another version; then nothing else is worth reading.
    fn is_other_version(&self, reading: &Reading<'_>, root: &DeTable<'_>) -> bool {
        let Some((version_key, version)) = self.version else { return false };
        let Some((key, value)) = root.get_key_value(version_key) else { return false };
        let number = match value.get_ref() {
            DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok(),
            _ => None,
        };
        if number == Some(version) {
            return false;
        }
        let got = shown(reading.text.get(value.span()).unwrap_or(""));
        let noun = self.noun;
        let help = match number {
            Some(n) if n > version => {
                format!("use a newer snapspark, or write the {noun} anew for this one")
            }
            _ => format!("the first line of {} is `{version_key} = {version}`", self.one),
        };
        let message = format!("this {noun} is of version `{got}`; understood is version {version}");
        reading.error(key.span().start, version_key, Fault::new(message, help));
        true
    }

    /// The version is there and comes first.
    fn ask_version(&self, root: &mut Section<'_>) {
        let Some((key, version)) = self.version else { return };
        let help = format!("write `{key} = {version}` as the first line");
        match root.take(key) {
            None => {
                let message = format!(
                    "the version line is missing, so the {} cannot be told from other files",
                    self.noun
                );
                root.reading.missing(0, key, Fault::new(message, help));
            }
            Some(field) => {
                let before = field.reading.text.get(..field.at).unwrap_or("");
                let blank = |line: &str| line.trim().is_empty() || line.trim_start().starts_with('#');
                if !before.lines().all(blank) {
                    field.refuse::<()>(Fault::new("the version line comes after other fields", help));
                }
            }
        }
    }
}

/// What stands for a steel and a compound of which nothing is known.
fn unknown(models: &Models) -> Result<Unknown<'_>, UnknownName> {
    let grade = models.grade(&models.default_grade)?;
    Ok(Unknown { grade, compound: models.compound(&models.default_compound)? })
}
