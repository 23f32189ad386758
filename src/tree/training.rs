use super::fitted::{TreeError, check_names};
use super::{Settings, Tree};
use thiserror::Error;

/// One training row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// One finite number per feature. A row with a missing value has no place here: a tree of fewer
    /// features, or a row that says so in a feature of its own.
    pub values: Vec<f64>,
    /// Its class.
    pub label: usize,
    /// How much it counts; 1 for an ordinary row.
    pub weight: f64,
}

/// Rows with the names of their features.
#[derive(Debug, Clone, PartialEq)]
pub struct Training {
    /// Names, in the order of the values.
    pub features: Vec<String>,
    /// Labels run from 0 to one less than this.
    pub classes: usize,
    /// The rows; their order does not matter.
    pub rows: Vec<Row>,
}

/// Why no tree was fitted. Rows are counted from 1.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FitError {
    /// Names or number of classes.
    #[error(transparent)]
    Names(#[from] TreeError),
    /// Nothing to learn from.
    #[error("no training rows; allowed: rows of at least two classes")]
    NoRows,
    /// Nothing to tell apart: such a tree would give the one answer to any question.
    #[error("every training row is of class {label}; allowed: rows of at least two classes")]
    OneClass {
        /// The class of every row.
        label: usize,
    },
    /// More than the 24 bits of the engine's sums can count.
    #[error("{got} rows with {draws} draws each; allowed: {most} draws in all", most = Settings::MOST_DRAWS_IN_ALL)]
    TooMany {
        /// Rows.
        got: usize,
        /// Draws of each.
        draws: usize,
    },
    /// A number in a row.
    #[error("row {row}: {field} {got}; allowed: {allowed}")]
    Row {
        /// Its number.
        row: usize,
        /// What in it.
        field: String,
        /// What it is.
        got: String,
        /// What it may be.
        allowed: String,
    },
    /// A setting.
    #[error("{setting} is {got}; allowed: {allowed}")]
    Setting {
        /// Its name.
        setting: &'static str,
        /// What it is.
        got: String,
        /// What it may be.
        allowed: String,
    },
    /// The engine gave something that is no answer to what it was asked.
    #[error("linfa-trees failed: {problem}")]
    Engine {
        /// In its words.
        problem: String,
    },
}

impl Training {
    /// Refuses whatever a fit could trip over.
    pub(super) fn check(&self, settings: &Settings) -> Result<(), FitError> {
        check_names(&self.features, self.classes)?;
        settings.check(self.features.len())?;
        let first = self.rows.first().ok_or(FitError::NoRows)?;
        for (at, row) in self.rows.iter().enumerate() {
            self.check_row(at + 1, row)?;
        }
        if self.rows.len().saturating_mul(settings.draws_used()) > Settings::MOST_DRAWS_IN_ALL {
            return Err(FitError::TooMany { got: self.rows.len(), draws: settings.draws_used() });
        }
        if self.rows.iter().all(|row| row.label == first.label) {
            return Err(FitError::OneClass { label: first.label });
        }
        Ok(())
    }

    fn check_row(&self, row: usize, Row { values, label, weight }: &Row) -> Result<(), FitError> {
        let wrong =
            |field: String, got: String, allowed: String| Err(FitError::Row { row, field, got, allowed });
        if values.len() != self.features.len() {
            let allowed = format!("one for each of the {} features", self.features.len());
            return wrong("values are".to_owned(), values.len().to_string(), allowed);
        }
        for (feature, value) in self.features.iter().zip(values) {
            if !value.is_finite() {
                return wrong(format!("`{feature}` is"), value.to_string(), "a finite number".to_owned());
            }
        }
        if *label >= self.classes {
            return wrong("label is".to_owned(), label.to_string(), format!("0 to {}", self.classes - 1));
        }
        let (least, most) = (Settings::LEAST_WEIGHT, Settings::MOST_WEIGHT);
        if !(least..=most).contains(weight) {
            return wrong("weight is".to_owned(), weight.to_string(), format!("{least} to {most}"));
        }
        Ok(())
    }

    /// The rows in an order that depends on nothing but themselves, zeros without a sign.
    pub(super) fn in_order(&self) -> Vec<Row> {
        let unsigned =
            |row: &Row| Row { values: row.values.iter().map(|v| v + 0.0).collect(), ..row.clone() };
        let mut rows: Vec<Row> = self.rows.iter().map(unsigned).collect();
        rows.sort_by(|a, b| {
            let values = a.values.iter().zip(&b.values).map(|(a, b)| a.total_cmp(b));
            let values = values.into_iter().find(|order| order.is_ne());
            values.unwrap_or(a.label.cmp(&b.label).then(a.weight.total_cmp(&b.weight)))
        });
        rows
    }

    /// A tree with the names of these rows.
    pub(super) fn tree(&self, root: super::Node) -> Result<Tree, FitError> {
        Ok(Tree::new(self.features.clone(), self.classes, root)?)
    }
}
