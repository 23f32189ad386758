use super::KnownReading;
use crate::features::SparkFeatures;
use crate::files::Models;
use crate::known::{KnownSteel, Piece, RigPieces, Seen, Shown, UnusedRecord};
use crate::spark::SteelState;
use crate::units::{CarbonPercent, Interval};

/// The records of a rig, with what their photos show.
pub(super) fn rig_pieces(readings: &[KnownReading<'_>], rig: &str, models: &Models) -> RigPieces {
    let (mut steels, mut days) = (Numbers::default(), Numbers::default());
    let mut list = RigPieces::default();
    for reading in readings.iter().filter(|r| r.steel.rig == rig) {
        let steel = reading.steel;
        match shown(reading, models) {
            Ok(shown) => list.pieces.push(Piece {
                name: reading.name.to_string(),
                carbon: percent(&steel.carbon),
                steel: steels.of(&steel.name.to_lowercase()),
                day: days.of(&steel.session.to_string()),
                reference: steel.reference,
                shown,
            }),
            Err(why) => list.unused.push((reading.name.to_string(), why)),
        }
    }
    list.days = days.names();
    list
}

/// Carbon as plain numbers, wt%.
pub(crate) fn percent(carbon: &Interval<CarbonPercent>) -> Interval<f64> {
    let [low, best, high] = [carbon.low(), carbon.best(), carbon.high()].map(CarbonPercent::wt_percent);
    Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best))
}

fn shown(reading: &KnownReading<'_>, models: &Models) -> Result<Shown, UnusedRecord> {
    let steel: &KnownSteel = reading.steel;
    if steel.state == Some(SteelState::Hardened) {
        return Err(UnusedRecord::Hardened);
    }
    match &steel.seen {
        Seen::Photos(_) => {
            let figures = reading.measured.as_ref().and_then(|m| m.figures.as_ref());
            figures.map(Shown::on_photos).ok_or(UnusedRecord::NoPhoto)
        }
        Seen::Told(told) => {
            let mild =
                models.grade(&models.default_grade).map_or(0.0, |g| g.carbon.value.best().wt_percent());
            let shown = Shown::in_words(&SparkFeatures::observed(told, &models.spark_words, mild, &[]));
            if shown.is_empty() { Err(UnusedRecord::NothingTold) } else { Ok(shown) }
        }
    }
}

/// Names numbered in the order in which they come.
#[derive(Default)]
struct Numbers(std::collections::BTreeMap<String, usize>);

impl Numbers {
    fn of(&mut self, name: &str) -> usize {
        let next = self.0.len();
        *self.0.entry(name.to_string()).or_insert(next)
    }

    /// The names, in the order of their numbers.
    fn names(self) -> Vec<String> {
        let mut all: Vec<(usize, String)> = self.0.into_iter().map(|(name, number)| (number, name)).collect();
        all.sort();
        all.into_iter().map(|(_, name)| name).collect()
    }
}

/// Grades whose carbon lies within limits no wider than so much, wt%: what a smith could spark next.
pub fn plain_grades(models: &Models, widest: f64) -> Vec<(String, Interval<f64>)> {
    let grades = models.grades.iter().map(|grade| (grade.name.clone(), percent(&grade.carbon.value)));
    grades.filter(|(_, carbon)| carbon.high() - carbon.low() <= widest).collect()
}

/// Carbon of untreated stock of which nothing is known, wt%.
pub fn mild_steel(models: &Models) -> Interval<f64> {
    models.grade(&models.default_grade).map_or(Interval::exact(0.0), |grade| percent(&grade.carbon.value))
}
