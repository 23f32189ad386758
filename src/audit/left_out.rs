use super::{Folds, LeftOut};
use crate::estimate::{Rig, SparkAnswer, read_sparks_at};
use crate::features::SparkFeatures;
use crate::known::{Beside, By, Exposures, Personal, Piece, Scores, Trend, TrendRows, votes_to};
use crate::steel::CarbonBand;
use crate::tree::{FitError, WalkError};
use crate::units::{CarbonPercent, Interval};
use std::thread;
use thiserror::Error;

/// Why known steels cannot be fitted or judged.
#[derive(Debug, Error)]
pub enum JudgeError {
    /// None of them has carbon that is known well enough to judge an answer by.
    #[error("no known steel to leave out")]
    TooFew,
    /// No tree.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// A tree that is not for these features: a fault of the program.
    #[error(transparent)]
    Walk(#[from] WalkError),
}

/// What is fitted on and read with.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    /// The published trend.
    pub trend: &'a Trend,
    /// Its rows.
    pub rows: &'a TrendRows,
    /// Photos or words.
    pub by: By,
    /// How exposures are compared.
    pub exposures: &'a Exposures,
}

/// How a piece was read while it had been left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// Place of the piece.
    pub piece: usize,
    /// Its band, by the best value of its carbon.
    pub band: CarbonBand,
    /// What came out; `None`: no answer.
    pub answered: Option<Answered>,
}

/// An answer to a piece that had been left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Answered {
    /// Votes of the bands.
    pub votes: [f64; 6],
    /// The band with most.
    pub band: CarbonBand,
    /// Carbon by the corrected trend, wt%, the middle of nine tenths of its chance.
    pub carbon: Interval<f64>,
    /// Part of the chance that the middle had to hold to take in all that the piece's carbon may be.
    pub reach: f64,
}

/// Fits a rig and judges it by its own days left out.
pub fn train(bench: &Bench<'_>, pieces: &[&Piece]) -> Result<Rig, JudgeError> {
    let personal = Personal::fit(bench.trend, bench.rows, bench.by, pieces, bench.exposures)?;
    let judged = judge(bench, pieces, &Folds::of(pieces, LeftOut::Day, Folds::OF_FIT))?;
    Ok(Rig { personal, scores: scores(&judged) })
}

/// What was left out, as scores.
pub fn scores(judged: &[Judged]) -> Scores {
    let mut scores = Scores::default();
    for Judged { band, answered, .. } in judged {
        let Some(answered) = answered else { continue };
        scores.bands.push(votes_to(&answered.votes, *band));
        scores.carbon.push(answered.reach);
        scores.right += usize::from(answered.band == *band);
    }
    scores
}

/// Reads every group with a rig that was fitted without it. What stays of a day, such as its stock, stands beside it.
pub fn judge(bench: &Bench<'_>, pieces: &[&Piece], folds: &Folds) -> Result<Vec<Judged>, JudgeError> {
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let part = folds.groups.len().div_ceil(threads).max(1);
    let parts: Vec<Result<Vec<Judged>, JudgeError>> = thread::scope(|scope| {
        let each = |groups: &'_ [Vec<usize>]| -> Result<Vec<Judged>, JudgeError> {
            let mut judged = Vec::new();
            for group in groups {
                judged.extend(without(bench, pieces, group)?);
            }
            Ok(judged)
        };
        let running: Vec<_> =
            folds.groups.chunks(part).map(|groups| scope.spawn(move || each(groups))).collect();
        // a thread ends early only if it panics, which nothing here does
        running.into_iter().filter_map(|thread| thread.join().ok()).collect()
    });
    let mut judged = Vec::new();
    for part in parts {
        judged.extend(part?);
    }
    judged.sort_by_key(|j| j.piece);
    Ok(judged)
}

/// Reads one group.
fn without(bench: &Bench<'_>, pieces: &[&Piece], group: &[usize]) -> Result<Vec<Judged>, JudgeError> {
    let kept: Vec<&Piece> =
        pieces.iter().enumerate().filter(|(at, _)| !group.contains(at)).map(|(_, p)| *p).collect();
    let personal = Personal::fit(bench.trend, bench.rows, bench.by, &kept, bench.exposures)?;
    let rig = Rig { personal, scores: Scores::default() };
    let days = Beside::by_day(&kept);
    let alone = Beside::default();
    let read = |at: &usize| {
        let beside = days.get(&pieces[*at].day).unwrap_or(&alone);
        read(&rig, pieces[*at], beside, *at).map_err(JudgeError::from)
    };
    group.iter().map(read).collect()
}

fn read(rig: &Rig, piece: &Piece, beside: &Beside<'_>, at: usize) -> Result<Judged, WalkError> {
    let features = SparkFeatures::default();
    let answer = read_sparks_at(rig, &features, &piece.shown, beside)?;
    let wt = piece.carbon.best();
    let band = CarbonPercent::new(wt).map_or(CarbonBand::UpTo010, CarbonBand::of);
    let answered = match answer {
        SparkAnswer::Bands(estimate) => {
            let density = rig.personal.density(&piece.shown, beside);
            // the true carbon lies anywhere in the label
            let reach = density.reach_of(piece.carbon.low()).max(density.reach_of(piece.carbon.high()));
            let carbon = estimate.known.map(|k| k.carbon);
            carbon.map(|carbon| Answered { votes: estimate.votes, band: estimate.band, carbon, reach })
        }
        _ => None,
    };
    Ok(Judged { piece: at, band, answered })
}
