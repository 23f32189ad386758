use super::said;
use crate::cli::looking::Looking;
use crate::files::known_set::PublishedTrend;
use crate::files::{KnownSet, Models, ProblemList};
use crate::known::{By, Piece};

/// The pieces of a rig that were seen in one way.
pub(super) struct OfRig {
    pub(super) rig: String,
    pub(super) by: By,
    pub(super) pieces: Vec<Piece>,
    /// What its days are called, by their numbers.
    pub(super) days: Vec<String>,
}

impl OfRig {
    /// The rigs that are meant, in the ways that they were seen in, their photos measured where that is not done yet; the
    /// published trend; and what could not be kept, for standard error.
    pub(super) fn all(
        set: &KnownSet,
        named: Option<&str>,
        models: &Models,
    ) -> Result<(Vec<Self>, PublishedTrend, String), String> {
        let rigs = set.rigs_meant(named.map(str::trim)).map_err(|p| said(&[*p]))?;
        let published = PublishedTrend::shipped(models).map_err(|e| format!("error: {e}"))?;
        let mut looking = Looking::new(KnownSet::unmeasured(&set.readings()), None, false);
        let (readings, problems) = set.measured(&mut |path| looking.look(path));
        let mut all = Vec::new();
        for rig in rigs {
            let known = set.pieces(&readings, &rig);
            for by in [By::Photos, By::Words] {
                let pieces: Vec<Piece> =
                    known.pieces.iter().filter(|p| p.shown.by() == by).cloned().collect();
                if !pieces.is_empty() {
                    all.push(Self { rig: rig.clone(), by, pieces, days: known.days.clone() });
                }
            }
        }
        let problems =
            if problems.is_empty() { String::new() } else { format!("{}\n", ProblemList(&problems)) };
        Ok((all, published, problems))
    }
}
