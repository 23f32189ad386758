use super::at_rig::KnownSteels;
use crate::files::problem::harmless;
use crate::files::{self, Models, Problem, ProblemList, RunSheet};
use crate::fracture::Quenching;
use crate::known::EdgeQuench;
use crate::prediction::{Physics, Prediction, Run, predict};
use std::path::{Path, PathBuf};

/// A run sheet that was read, with the tables; what `soak` and `check` begin with. Errors are ready to be shown.
pub(super) struct ToldRun {
    pub(super) models: Models,
    pub(super) sheet: RunSheet,
    /// The sheet's name, as it may be shown.
    pub(super) name: String,
    path: PathBuf,
}

impl ToldRun {
    pub(super) fn read(path: &Path) -> Result<Self, String> {
        let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
        let sheet = RunSheet::read_file(path, &models).map_err(|p| ProblemList(&p).to_string())?;
        let name = harmless(&path.display().to_string());
        Ok(Self { models, sheet, name, path: path.to_path_buf() })
    }

    /// The sheet's folder.
    pub(super) fn folder(&self) -> &Path {
        self.path.parent().unwrap_or(Path::new(""))
    }

    /// Takes over what the coupons of a set say of the visible edge in this coupon's quench.
    pub(super) fn learn_edge(&mut self, known: &KnownSteels) -> Result<(), String> {
        let learned = known.learned_edge()?;
        let face = self.sheet.fracture.as_ref().map(|f| &f.coupon);
        let quench = face.and_then(|face| face.quenched);
        match quench {
            Some(Quenching::In(medium)) => {
                let quench = EdgeQuench::of(medium);
                if let Some(edge) = learned.iter().find(|edge| edge.quench == quench) {
                    self.models.learn_edge(edge);
                }
            }
            None if !learned.is_empty() => {
                let message =
                    "coupons of the set tell where a rim ends, but not for a quench that nobody told";
                let help = "write quenched_in into [fracture], so that what they say is used";
                self.sheet.warnings.push(Problem::warning(&self.name, message).help(help));
            }
            Some(Quenching::NotQuenched) | None => {}
        }
        Ok(())
    }

    pub(super) fn physics(&self) -> Result<Physics<'_>, String> {
        let law = self.sheet.model.law.as_deref();
        let physics = self.models.physics(law);
        physics.map_err(|e| format!("error: {}, model.law: {e}\n help: {}", self.name, e.help()))
    }

    /// The prediction; its ranges from `draws` runs, or each doubt alone at both its ends.
    pub(super) fn predict(
        &self,
        run: &Run,
        physics: &Physics,
        draws: Option<usize>,
    ) -> Result<Prediction, String> {
        let told =
            predict(run, physics).map_err(|e| format!("error: {}: {e}\n help: {}", self.name, e.help()))?;
        Ok(match draws {
            Some(count) => told.drawn(run, physics, count),
            None => told,
        })
    }

    /// What is odd in the sheet, for standard error.
    pub(super) fn remarks(&self) -> String {
        match self.sheet.warnings.as_slice() {
            [] => String::new(),
            warnings => format!("{}\n", ProblemList(warnings)),
        }
    }

    /// Writes the profile of a prediction, if a place for it was named.
    pub(super) fn save_profile(&self, to: Option<&Path>, prediction: &Prediction) -> Result<(), String> {
        let Some(to) = to else { return Ok(()) };
        let shown = to.display();
        let log = self.sheet.typed.get("soak.log").map(|log| self.path.with_file_name(log));
        if std::iter::once(&self.path).chain(&log).any(|input| files::same_file(input, to)) {
            return Err(format!(
                "error: {shown}: the profile would overwrite what it is made from\n help: choose another name"
            ));
        }
        let bytes = files::profile_csv(prediction).map_err(|e| format!("error: {shown}: {e}"))?;
        files::save(to, &bytes).map_err(|e| {
            format!(
                "error: {shown}: the profile cannot be written: {e}\n \
                 help: check that the folder exists and may be written to, or choose another name"
            )
        })
    }
}
