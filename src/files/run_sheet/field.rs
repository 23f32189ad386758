use super::fault::Fault;
use super::reading::Reading;
use crate::files::problem::shown;
use crate::files::words::{is_dont_know, plain};
use crate::files::{Models, UnknownName};
use crate::units::{Depth, Interval, ParseError, Quantity, Temperature, parse, parse_interval};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A value of the sheet with its name and place. The readers give `None` after noting an error.
pub(in crate::files) struct Field<'s> {
    pub(in crate::files) reading: &'s Reading<'s>,
    /// Full name, such as `soak.steps[2]`.
    pub(in crate::files) path: String,
    /// Where it stands, in bytes.
    pub(in crate::files) at: usize,
    pub(in crate::files) value: &'s Spanned<DeValue<'s>>,
}

impl<'s> Field<'s> {
    pub(in crate::files) fn new(
        reading: &'s Reading<'s>,
        path: String,
        at: usize,
        value: &'s Spanned<DeValue<'s>>,
    ) -> Self {
        Self { reading, path, at, value }
    }

    /// Its name without the section's.
    pub(in crate::files) fn name_alone(&self) -> &str {
        self.path.rsplit('.').next().unwrap_or(&self.path)
    }

    /// Notes what is wrong with it.
    pub(in crate::files) fn refuse<T>(&self, fault: Fault) -> Option<T> {
        self.reading.error(self.at, &self.path, fault);
        None
    }

    /// The value, or what is wrong with it.
    pub(in crate::files) fn settle<T>(&self, value: Result<T, Fault>) -> Option<T> {
        value.map_or_else(|fault| self.refuse(fault), Some)
    }

    pub(in crate::files) fn keep_typed(&self) {
        if let Some(text) = self.as_typed() {
            self.reading.keep_typed(&self.path, text);
        }
    }

    pub(in crate::files) fn is_dont_know(&self) -> bool {
        self.value.get_ref().as_str().is_some_and(is_dont_know)
    }

    /// A text's content, a number or date as it stands in the file; `None` for lists and tables.
    fn as_typed(&self) -> Option<&'s str> {
        match self.value.get_ref() {
            DeValue::String(text) => Some(text.as_ref()),
            DeValue::Array(_) | DeValue::Table(_) => None,
            _ => self.reading.text.get(self.value.span()),
        }
    }

    /// What kind of value it is, for messages.
    fn kind(&self) -> &'static str {
        match self.value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or time of day",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a section",
        }
    }

    fn wrong_kind<T>(&self, wanted: &str, help: &str) -> Option<T> {
        self.refuse(Fault::new(format!("{} stands where {wanted} is wanted", self.kind()), help))
    }

    /// Text or number, short enough to be one.
    pub(in crate::files) fn short(&self, wanted: &str) -> Option<&'s str> {
        const LONGEST: usize = 120;
        match self.as_typed() {
            Some(text) if text.len() <= LONGEST => Some(text),
            Some(text) => self.refuse(Fault::new(
                format!("`{}` is too long for {wanted}", shown(text)),
                format!("at most {LONGEST} characters"),
            )),
            None => self.wrong_kind(wanted, "write one value, in quotes"),
        }
    }

    /// Free text.
    pub(in crate::files) fn text(&self) -> Option<String> {
        const LONGEST: usize = 1000;
        match self.value.get_ref() {
            DeValue::String(text) if text.len() <= LONGEST => Some(text.trim().to_string()),
            DeValue::String(text) => self.refuse(Fault::new(
                format!("the text is {} characters long", text.chars().count()),
                format!("at most {LONGEST} characters"),
            )),
            _ => self.wrong_kind("a text", "write it in quotes"),
        }
    }

    /// One number with its unit.
    pub(in crate::files) fn quantity<Q: Quantity>(&self) -> Option<Q> {
        let text = self.short(&format!("a {}", Q::NAME))?;
        self.settle(parse::<Q>(text).map(|w| w.value).map_err(|e| Fault::of_quantity::<Q>(&e)))
    }

    /// A number with its unit, or a range.
    pub(in crate::files) fn interval<Q: Quantity>(&self) -> Option<Interval<Q>> {
        let text = self.short(&format!("a {}", Q::NAME))?;
        self.settle(quantity_range(text))
    }

    /// A number whose unit the field's name tells; the unit may be written all the same.
    pub(in crate::files) fn quantity_in<Q: Quantity>(&self, unit: &str) -> Option<Q> {
        let text = self.short(&format!("a {}", Q::NAME))?;
        let bare = text.trim().parse::<f64>().is_ok();
        let with_unit = if bare { format!("{} {unit}", text.trim()) } else { text.to_string() };
        self.settle(parse::<Q>(&with_unit).map(|w| w.value).map_err(|e| Fault::of_quantity::<Q>(&e)))
    }

    /// A size or mass of something that is there: more than zero.
    pub(in crate::files) fn more_than_zero<Q: Quantity>(&self) -> Option<Q> {
        let value = self.quantity::<Q>()?;
        if Q::from_si(0.0).is_ok_and(|zero| value <= zero) {
            let fault =
                Fault::new(format!("the {} is 0", Q::NAME), "write what was measured, or \"unknown\"");
            return self.refuse(fault);
        }
        Some(value)
    }

    /// The same as a range: a lower end of 0 would ask for nothing.
    pub(in crate::files) fn interval_more_than_zero<Q: Quantity>(&self) -> Option<Interval<Q>> {
        let range = self.interval::<Q>()?;
        if Q::from_si(0.0).is_ok_and(|zero| range.low() <= zero) {
            let fault = Fault::new(
                format!("the {} begins at 0, which every run has", Q::NAME),
                "write the least that is wanted, or \"unknown\"",
            );
            return self.refuse(fault);
        }
        Some(range)
    }

    /// Whether a depth lies inside the coupon, as far as its thickness is known; if not, that is noted.
    pub(in crate::files) fn inside(&self, depth: &Interval<Depth>, thickness: Option<Depth>) -> bool {
        let Some(thickness) = thickness.filter(|t| depth.high() > *t) else { return true };
        let mm = |depth: Depth| (depth.millimetres() * 1e3).round() / 1e3;
        self.refuse::<()>(Fault::new(
            format!("{} mm deep in a coupon of {} mm", mm(depth.high()), mm(thickness)),
            "check both, and their units",
        ));
        false
    }

    /// A temperature or range that a forge and a thermometer can give.
    pub(in crate::files) fn heat(&self) -> Option<Interval<Temperature>> {
        let text = self.short("a temperature")?;
        self.settle(heat_range(text))
    }

    /// One of `words`; several words may mean the same, the first of them is the one that is
    /// listed. Yes and no may be written as `true` and `false`.
    pub(in crate::files) fn word<T: Copy + PartialEq>(&self, words: &[(&'static str, T)]) -> Option<T> {
        let text = self.short("a word")?;
        self.settle(
            find_word(text, words).ok_or_else(|| Fault::not_a_word(self.name_alone(), text, words, "")),
        )
    }

    /// Yes or no.
    pub(in crate::files) fn yes_no(&self) -> Option<bool> {
        self.word(&[("yes", true), ("no", false), ("true", true), ("false", false)])
    }

    /// A name out of one of the tables in `models/`.
    pub(in crate::files) fn name<T: Clone + 's>(
        &self,
        find: impl FnOnce(&'s Models, &str) -> Result<&'s T, UnknownName>,
    ) -> Option<T> {
        let text = self.short("a name")?;
        let entry = find(self.reading.models, text.trim());
        self.settle(entry.cloned().map_err(|e| Fault::unknown_name(&e)))
    }

    /// Whether it is a list.
    pub(in crate::files) fn is_list(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::Array(_))
    }

    /// The entries of a list; one value without brackets is a list of one. `None`: not known.
    pub(in crate::files) fn list(&self) -> Vec<Option<Field<'s>>> {
        const MOST: usize = 1000;
        let entry = |(i, value): (usize, &'s Spanned<DeValue<'s>>)| {
            let path = format!("{}[{}]", self.path, i + 1);
            let field = Field::new(self.reading, path, value.span().start, value);
            field.keep_typed();
            (!field.is_dont_know()).then_some(field)
        };
        match self.value.get_ref() {
            DeValue::Array(list) if list.len() > MOST => {
                self.refuse::<()>(Fault::new(
                    format!("a list of {} entries", list.len()),
                    format!("at most {MOST}"),
                ));
                Vec::new()
            }
            DeValue::Array(list) => list.iter().enumerate().map(entry).collect(),
            DeValue::Table(_) => {
                self.wrong_kind::<()>("a list", "write the entries in quotes, between [ and ]");
                Vec::new()
            }
            _ => vec![Some(Field::new(self.reading, self.path.clone(), self.at, self.value))],
        }
    }

    /// The table it is.
    pub(in crate::files) fn table(&self) -> Option<&'s DeTable<'s>> {
        match self.value.get_ref() {
            DeValue::Table(table) => Some(table),
            _ if self.path.ends_with(']') => {
                self.wrong_kind("a section", "write each entry as { field = value, field = value }")
            }
            _ => self.wrong_kind("a section", &format!("write [{}] and its fields below it", self.path)),
        }
    }
}

/// A quantity or a range of it.
pub(in crate::files) fn quantity_range<Q: Quantity>(text: &str) -> Result<Interval<Q>, Fault> {
    let about = ["about ", "approx", "roughly ", "circa ", "ca.", "ca ", "~"];
    if about.iter().any(|a| text.trim_start().to_lowercase().starts_with(a)) {
        let help =
            "write how far off it may be as a range, such as \"3-5\" with the unit, or the plain number";
        return Err(Fault::new(format!("`{}` does not say how near it is", shown(text)), help));
    }
    parse_interval::<Q>(text).map(|w| w.value).map_err(|e| Fault::of_quantity::<Q>(&e))
}

/// A temperature or range inside what a forge and a thermometer can give.
pub(in crate::files) fn heat_range(text: &str) -> Result<Interval<Temperature>, Fault> {
    let (low, high) = crate::files::log_csv::POSSIBLE_C;
    let impossible = || {
        let message = format!("`{}` is not a temperature of a pack or a forge", shown(text.trim()));
        Fault::new(message, format!("allowed: {low} to {high} °C; is the unit right?"))
    };
    if matches!(parse_interval::<Temperature>(text), Err(ParseError::OutOfRange(_))) {
        return Err(impossible());
    }
    let range = quantity_range::<Temperature>(text)?;
    let possible = |t: Temperature| t.celsius() >= low && t.celsius() <= high;
    if possible(range.low()) && possible(range.high()) { Ok(range) } else { Err(impossible()) }
}

/// The value of the word `text`.
pub(in crate::files) fn find_word<T: Copy>(text: &str, words: &[(&'static str, T)]) -> Option<T> {
    let text = plain(text);
    words.iter().find(|(word, _)| plain(word) == text).map(|&(_, value)| value)
}

/// A length of something; for fields that take words as well.
pub(in crate::files) fn length_range(text: &str) -> Result<Interval<Depth>, Fault> {
    quantity_range::<Depth>(text)
}
