use super::{At, Bibliography, FILE, ModelsError, Single, all_bounded, bounded, rising};
use crate::files::models::value::Range;
use crate::hardness::{CarbonPiece, Hardenability, Severity, Stirring};
use crate::steel::QuenchMedium;
use crate::units::{CarbonPercent, OutOfRange};
use serde::Deserialize;

/// Twin of [`Hardenability`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HardenabilityTwin {
    carbon_factor: Single<Vec<PieceTwin>>,
    manganese_factor: Single<f64>,
    silicon_factor: Single<f64>,
    manganese_range_percent: Range,
    silicon_range_percent: Range,
    spread: Range,
    times_for_90_percent: Range,
    times_for_99_percent: Range,
}

/// Twin of [`CarbonPiece`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PieceTwin {
    to: f64,
    k: [f64; 3],
}

/// Twin of [`Severity`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SeverityTwin {
    medium: String,
    stirring: String,
    per_inch: Range,
}

impl HardenabilityTwin {
    pub(super) fn read(self, books: &mut Bibliography) -> Result<Hardenability, ModelsError> {
        let at = |field| At { file: FILE, entry: "hardenability", field };
        let factor = bounded("factor", "per wt%", 0.0, 20.0);
        let content = bounded("content", "wt%", 0.0, 5.0);
        let times = bounded("factor", "times", 1.0, 5.0);
        Ok(Hardenability {
            carbon: self.carbon_factor.sourced(books, at("carbon_factor"), pieces)?,
            manganese: self.manganese_factor.sourced(books, at("manganese_factor"), &factor)?,
            silicon: self.silicon_factor.sourced(books, at("silicon_factor"), &factor)?,
            manganese_range: self.manganese_range_percent.sourced(
                books,
                at("manganese_range_percent"),
                &content,
            )?,
            silicon_range: self.silicon_range_percent.sourced(
                books,
                at("silicon_range_percent"),
                &content,
            )?,
            spread: self.spread.sourced(books, at("spread"), bounded("factor", "times", 0.1, 10.0))?,
            times_for_90: self.times_for_90_percent.sourced(books, at("times_for_90_percent"), &times)?,
            times_for_99: self.times_for_99_percent.sourced(books, at("times_for_99_percent"), &times)?,
        })
    }
}

fn pieces(twins: Vec<PieceTwin>) -> Result<Vec<CarbonPiece>, OutOfRange> {
    for PieceTwin { to, k } in &twins {
        CarbonPercent::new(*to)?;
        all_bounded(*k, "coefficient", "inch", (-10.0, 10.0))?;
        bounded("carbon factor", "inch", 0.0, 1.0)(k[0] + to * (k[1] + to * k[2]))?;
    }
    let twins = rising("carbon", "%C", twins, |twin| twin.to)?;
    Ok(twins.into_iter().map(|PieceTwin { to, k }| CarbonPiece { to, k }).collect())
}

/// The severities, each medium and stirring once.
pub(super) fn severities(
    twins: Vec<SeverityTwin>,
    books: &mut Bibliography,
) -> Result<Vec<Severity>, ModelsError> {
    let mut all: Vec<Severity> = Vec::new();
    for SeverityTwin { medium, stirring, per_inch } in twins {
        let entry = format!("severity {medium}, {stirring}");
        let at = |field| At { file: FILE, entry: &entry, field };
        let medium = word(at("medium"), &medium, &QuenchMedium::WORDS)?;
        let stirring = word(at("stirring"), &stirring, &Stirring::WORDS)?;
        let h = bounded("severity", "per inch", 0.001, 20.0);
        let per_inch = per_inch.sourced(books, at("per_inch"), h)?;
        if all.iter().any(|s| s.medium == medium && s.stirring == stirring) {
            return Err(ModelsError::value(at("the entry"), "there twice", "each once"));
        }
        all.push(Severity { medium, stirring, per_inch });
    }
    Ok(all)
}

fn word<T: Copy>(at: At<'_>, got: &str, words: &[(&str, T)]) -> Result<T, ModelsError> {
    words.iter().find(|(word, _)| *word == got).map(|(_, value)| *value).ok_or_else(|| {
        let known: Vec<_> = words.iter().map(|(word, _)| *word).collect();
        ModelsError::value(at, format!("`{got}`"), known.join(", "))
    })
}
