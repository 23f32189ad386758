use super::{Bench, Folds, JudgeError, Judged, LeftOut, judge, scores};
use crate::estimate::{SparkAnswer, SparkReader, read_sparks};
use crate::features::{Feature, Origin, SparkFeatures};
use crate::known::{Beside, By, Piece, Scores, SparkMeasure, bands_with, told_by_photos};
use crate::steel::CarbonBand;
use crate::tree::Tree;

/// How good a rig's steels make its answers: with sessions left out, with steels left out, and what the published trend
/// alone makes of the same.
#[derive(Debug, Clone, PartialEq)]
pub struct RigAudit {
    /// Photos or words.
    pub by: By,
    /// Each session left out.
    pub by_day: Left,
    /// Each steel left out.
    pub by_steel: Left,
    /// The published trend alone, as far as it answers; by photos, amounts are held against the session's reference.
    pub trend: Marks,
    /// Records that look mislabelled.
    pub odd: Vec<Odd>,
}

/// What was left out and how it came out.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    /// How it came out.
    pub marks: Marks,
    /// Whether each was left out by itself.
    pub exact: bool,
    /// What a set of bands must hold to be right nine times in ten; `None`: too few.
    pub stated: Option<StatedSets>,
}

/// Answers beside the truth.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Marks {
    /// Steels and sessions that were asked.
    pub asked: usize,
    /// How often each band (first) came out as each (second).
    pub confusion: [[usize; 6]; 6],
}

/// Sets of bands that are stated with confidence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StatedSets {
    /// Mean number of bands in a set.
    pub size: f64,
    /// How often the set of a piece holds its band, with the share of votes that all the others together ask for.
    pub held: f64,
}

/// A record that looks mislabelled.
#[derive(Debug, Clone, PartialEq)]
pub struct Odd {
    /// Place of the piece.
    pub piece: usize,
    /// The band that came out with its session left out, with its share of the votes.
    pub read: (CarbonBand, f64),
    /// The share of the votes of its own band and the ones beside it.
    pub own: f64,
}

/// The published trend is asked of no more pieces than this, evenly over all: it fills what was not shown from its rows,
/// which takes its time.
const TREND_ASKED: usize = 500;
/// Its own band and those beside it have less than this share of the votes: the label looks wrong (judgement).
const ODD: f64 = 0.05;

impl Marks {
    fn add(&mut self, truth: CarbonBand, read: Option<CarbonBand>) {
        self.asked += 1;
        if let Some(read) = read {
            self.confusion[truth.index()][read.index()] += 1;
        }
    }

    /// Those that were answered.
    pub fn answered(&self) -> usize {
        self.confusion.iter().flatten().sum()
    }

    /// Those that came out no more than so many bands off.
    pub fn within(&self, bands: usize) -> usize {
        let near = |(i, row): (usize, &[usize; 6])| -> usize {
            row.iter().enumerate().filter(|(j, _)| i.abs_diff(*j) <= bands).map(|(_, n)| n).sum()
        };
        self.confusion.iter().enumerate().map(near).sum()
    }

    /// Mean number of bands off. `None`: nothing was answered.
    pub fn error(&self) -> Option<f64> {
        let off = |(i, row): (usize, &[usize; 6])| -> usize {
            row.iter().enumerate().map(|(j, n)| n * i.abs_diff(j)).sum()
        };
        let sum: usize = self.confusion.iter().enumerate().map(off).sum();
        (self.answered() > 0).then(|| sum as f64 / self.answered() as f64)
    }
}

/// Judges a rig by its own steels. `published` is the tree of the trend alone.
pub fn audit(bench: &Bench<'_>, published: &Tree, pieces: &[&Piece]) -> Result<RigAudit, JudgeError> {
    let left = |what| -> Result<(Left, Vec<Judged>), JudgeError> {
        let folds = Folds::of(pieces, what, Folds::OF_AUDIT);
        if folds.groups.is_empty() {
            return Err(JudgeError::TooFew);
        }
        let judged = judge(bench, pieces, &folds)?;
        let mut marks = Marks::default();
        for j in &judged {
            marks.add(j.band, j.answered.as_ref().map(|a| a.band));
        }
        let stated = stated_sets(&judged);
        Ok((Left { marks, exact: folds.exact, stated }, judged))
    };
    let (by_day, judged) = left(LeftOut::Day)?;
    let (by_steel, _) = left(LeftOut::Steel)?;
    let mut trend = Marks::default();
    for j in judged.iter().step_by(judged.len().div_ceil(TREND_ASKED).max(1)) {
        let features = plain(bench, pieces[j.piece], pieces);
        let reader = SparkReader::published(published, &bench.rows.training);
        let read = match read_sparks(&features, &reader)? {
            SparkAnswer::Bands(estimate) => Some(estimate.band),
            _ => None,
        };
        trend.add(j.band, read);
    }
    let odd = judged.iter().filter_map(odd).collect();
    Ok(RigAudit { by: bench.by, by_day, by_steel, trend, odd })
}

/// Each piece by what all the others ask for, so that none is stated by its own score.
fn stated_sets(judged: &[Judged]) -> Option<StatedSets> {
    let all = scores(judged);
    let answered: Vec<_> = judged.iter().filter_map(|j| Some((j.band, j.answered.as_ref()?))).collect();
    let (mut held, mut size) = (0, 0);
    for (i, (band, answer)) in answered.iter().enumerate() {
        let mut bands = all.bands.clone();
        bands.remove(i);
        let share = Scores { bands, ..Scores::default() }.votes_stated()?;
        let (low, high) = bands_with(&answer.votes, share);
        held += usize::from(low <= *band && *band <= high);
        size += high.index() - low.index() + 1;
    }
    let number = answered.len() as f64;
    (!answered.is_empty()).then(|| StatedSets { size: size as f64 / number, held: held as f64 / number })
}

fn odd(judged: &Judged) -> Option<Odd> {
    let answered = judged.answered.as_ref()?;
    let at = judged.band.index();
    let own: f64 =
        answered.votes.iter().enumerate().filter(|(i, _)| i.abs_diff(at) <= 1).map(|(_, v)| v).sum();
    let read = (answered.band, answered.votes[answered.band.index()]);
    (own < ODD).then_some(Odd { piece: judged.piece, read, own })
}

/// What the published trend is asked of a piece: in words as told, by photos beside the reference of its session.
fn plain(bench: &Bench<'_>, piece: &Piece, pieces: &[&Piece]) -> SparkFeatures {
    let reference = pieces.iter().filter(|p| p.day == piece.day && p.reference).take(1);
    let beside = Beside { steels: reference.map(|p| (p.carbon, &p.shown)).collect(), fitted: false };
    let (origin, values) = match bench.by {
        By::Photos => (Origin::Photo, told_by_photos(bench.trend, bench.exposures, &piece.shown, &beside)),
        By::Words => {
            let told = |m: SparkMeasure| Some((m.column(), piece.shown.range(m)?));
            (Origin::Described, SparkMeasure::ALL.into_iter().filter_map(told).collect())
        }
    };
    let mut features = SparkFeatures::default();
    for (name, value) in values {
        features.replace(name, Some(Feature { value, origin }));
    }
    features
}
