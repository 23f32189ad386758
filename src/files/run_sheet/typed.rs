use std::collections::BTreeMap;

/// The values of a sheet as they were typed, by field (`soak.steps[2]`, counted from 1).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Typed(BTreeMap<String, String>);

impl Typed {
    /// What was typed for `field`; texts without their quotes.
    pub fn get(&self, field: &str) -> Option<&str> {
        self.0.get(field).map(String::as_str)
    }

    /// All fields with what was typed, in the order of their names.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(field, text)| (field.as_str(), text.as_str()))
    }

    pub(super) fn keep(&mut self, field: &str, text: &str) {
        self.0.insert(field.to_string(), text.to_string());
    }
}
