use super::fault::Fault;
use super::field::Field;
use super::reading::Reading;
use crate::files::problem::shown;
use crate::files::words::closest;
use toml::de::{DeTable, DeValue};

/// A table of the sheet. Fields are asked for by name; what nobody asked for is refused.
pub(in crate::files) struct Section<'s> {
    pub(in crate::files) reading: &'s Reading<'s>,
    /// Where its header stands, in bytes.
    pub(in crate::files) at: usize,
    path: String,
    table: &'s DeTable<'s>,
    asked: Vec<&'static str>,
    banned: Vec<&'static str>,
}

impl<'s> Section<'s> {
    /// Hands the table to `read`, then refuses what it did not ask for.
    pub(in crate::files) fn read<T>(
        reading: &'s Reading<'s>,
        path: &str,
        at: usize,
        table: &'s DeTable<'s>,
        read: impl FnOnce(&mut Self) -> T,
    ) -> T {
        let mut section =
            Self { reading, at, path: path.to_string(), table, asked: Vec::new(), banned: Vec::new() };
        let value = read(&mut section);
        section.refuse_the_rest();
        value
    }

    /// The full name of one of its fields.
    pub(in crate::files) fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_string() } else { format!("{}.{key}", self.path) }
    }

    /// A field; `None` if it is missing or not known.
    pub(in crate::files) fn take(&mut self, key: &'static str) -> Option<Field<'s>> {
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        let (name, value) = self.table.get_key_value(key)?;
        let field = Field::new(self.reading, self.path_of(key), name.span().start, value);
        field.keep_typed();
        (!field.is_dont_know()).then_some(field)
    }

    /// Refuses a field that people may expect here, with the reason; it is not listed among the fields.
    pub(in crate::files) fn ban(&mut self, key: &'static str, fault: Fault) {
        self.banned.push(key);
        if let Some((name, _)) = self.table.get_key_value(key) {
            self.reading.error(name.span().start, &self.path_of(key), fault);
        }
    }

    /// Sets the order in which fields are listed to the user.
    pub(in crate::files) fn list_in_order(&mut self, keys: &[&'static str]) {
        for key in keys {
            self.take(key);
        }
    }

    /// The first of `keys` that is there and known.
    pub(in crate::files) fn first_of(&mut self, keys: &[&'static str]) -> Option<Field<'s>> {
        let there: Vec<_> = keys.iter().filter_map(|key| self.take(key)).collect();
        there.into_iter().min_by_key(|field| field.at)
    }

    /// A table inside this one.
    pub(in crate::files) fn within<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Section<'s>) -> T,
    ) -> Option<T> {
        let field = self.take(key)?;
        field.table().map(|table| Section::read(self.reading, &field.path, field.at, table, read))
    }

    /// Tables inside this one: `[[name]]`, or a single `[name]`.
    pub(in crate::files) fn each<T>(
        &mut self,
        key: &'static str,
        mut read: impl FnMut(&mut Section<'s>) -> T,
    ) -> Vec<T> {
        let Some(field) = self.take(key) else { return Vec::new() };
        let entries = if matches!(field.value.get_ref(), DeValue::Array(_)) {
            field.list().into_iter().flatten().collect()
        } else {
            vec![field]
        };
        entries
            .into_iter()
            .filter_map(|entry| {
                let table = entry.table()?;
                Some(Section::read(self.reading, &entry.path, entry.at, table, &mut read))
            })
            .collect()
    }

    /// Notes something odd about the section as a whole.
    pub(in crate::files) fn warning(&self, fault: Fault) {
        self.reading.warning(self.at, &self.path, fault);
    }

    /// Notes that the section lacks something.
    pub(in crate::files) fn missing(&self, message: impl Into<String>, help: impl Into<String>) {
        self.reading.missing(self.at, &self.path, Fault::new(message, help));
    }

    fn refuse_the_rest(&self) {
        let asked = || self.asked.iter().copied();
        for (name, value) in self.table {
            let key = name.get_ref().as_ref();
            if asked().chain(self.banned.iter().copied()).any(|known| known == key) {
                continue;
            }
            let one = self.reading.kind.one;
            let (kind, owner, all) = if !self.path.is_empty() {
                ("field", format!("[{}]", self.path), "fields")
            } else if self.reading.kind.flat {
                ("field", one.to_string(), "fields")
            } else if value.get_ref().is_table() {
                ("section", one.to_string(), "sections")
            } else {
                ("field", format!("{one} outside its sections"), "sections")
            };
            let is_version = |key: &str| self.reading.kind.version.is_some_and(|(version, _)| key == version);
            let guess = closest(key, asked()).map(|g| format!("did you mean \"{g}\"?\n"));
            let list = asked().filter(|k| !self.path.is_empty() || !is_version(k));
            let help =
                format!("{}{all} here: {}", guess.unwrap_or_default(), list.collect::<Vec<_>>().join(", "));
            let fault = Fault::new(format!("`{}` is not a {kind} of {owner}", shown(key)), help);
            self.reading.error(name.span().start, &self.path_of(&shown(key)), fault);
        }
    }
}
