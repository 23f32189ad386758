use super::believed::Believed;
use super::draw::Draw;
use super::fault::Fault;
use super::smith::Smith;
use super::truth::truth;
use crate::support::models;
use snapspark::crosscheck::{Answer, Fits, cross_check};
use snapspark::files::problem::ProblemList;
use snapspark::files::{Observed, RunSheet};
use snapspark::prediction::{Prediction, predict};
use snapspark::units::Depth;
use std::io;

/// A drawn run with what the cross-check says of it.
pub(super) struct Looked {
    /// The sheet.
    pub(super) text: String,
    /// Place of the true cause among all, from 1.
    pub(super) rank: usize,
    /// Share of runs with this fault that the best test of what was read finds, where runs were drawn.
    pub(super) power: Option<f64>,
    /// Shares of the run without fault, and of the causes, the likeliest first.
    pub(super) usual: f64,
    pub(super) causes: Vec<(String, f64)>,
    pub(super) fits: Fits,
    pub(super) took: Answer,
    /// True carbon of the part that the verdict speaks of, what it wants and the least, wt%.
    pub(super) part: f64,
    pub(super) wanted: f64,
    pub(super) least: f64,
    /// What was seen beside what should have been.
    pub(super) agreements: Vec<String>,
    /// How it really was.
    pub(super) really: String,
}

pub(in crate::reference) fn read(text: &str) -> RunSheet {
    let no_log = |_: &str| Err(io::Error::other("no log"));
    RunSheet::read(text, "drawn.toml", &no_log, models())
        .unwrap_or_else(|problems| panic!("{}\n{text}", ProblemList(&problems)))
}

/// Draws a run with or without a fault and looks at it.
pub(super) fn look(fault: Option<Fault>, seed: u64) -> Looked {
    let mut draw = Draw::seeded(seed ^ fault.map_or(0, |f| (f as u64 + 1) << 32));
    // a run in which such a fault hardly matters is drawn again; the soak may leave no room for it
    for _ in 0..400 {
        let believed = Believed::draw(&mut draw, fault);
        let sheet = read(&believed.text(None));
        let physics = models().physics(None).unwrap();
        let run = sheet.run();
        let Ok(prediction) = predict(&run, &physics) else { continue };
        for _ in 0..8 {
            let Some(truth) = truth(&mut draw, fault, &believed, &run, &physics, &prediction) else {
                continue;
            };
            let talkative = draw.chance(0.5);
            let mut smith = Smith { draw: &mut draw, believed: &believed, truth: &truth, fault, talkative };
            let mass = smith.weighs();
            let text = believed.text(mass) + &smith.tells_all();
            let really = format!(
                "visible {:?} mm, surface {:.2}, ground layer {:.2}, core {:.2}, edge at {:.2}, {:?}, {:?}",
                truth.visible,
                truth.profile.surface(),
                truth.profile.mean_over(truth.ground * 1e-3),
                truth.inputs.core,
                truth.inputs.visible_edge,
                truth.quench,
                truth.inputs
            );
            return judged(text, fault, truth.part, really, (run.ground, &prediction));
        }
    }
    panic!("no run in which {fault:?} matters, seed {seed}");
}

/// `before` is what was predicted before anything was seen; only a depth ground while sparking can move it.
fn judged(
    text: String,
    fault: Option<Fault>,
    part: f64,
    really: String,
    before: (Option<Depth>, &Prediction),
) -> Looked {
    let sheet = read(&text);
    let physics = models().physics(None).unwrap();
    let run = sheet.run();
    let again = (run.ground != before.0).then(|| predict(&run, &physics).unwrap());
    let prediction = again.as_ref().unwrap_or(before.1);
    let drawn = draws().map(|count| prediction.clone().drawn(&run, &physics, count));
    let prediction = drawn.as_ref().unwrap_or(prediction);
    let observed = Observed::of(&sheet, None, models()).unwrap();
    let seen = observed.seen(&sheet, models());
    let check = cross_check(&models().question((&run, &physics), prediction, &seen, sheet.aim.as_ref()));
    let place = fault.and_then(|f| check.causes.iter().position(|b| b.cause.key == f.key()));
    let powers = check.inference.iter().flat_map(|i| &i.powers);
    let power = fault.and_then(|f| powers.into_iter().find(|p| p.cause.key == f.key()).map(|p| p.best));
    Looked {
        power,
        rank: place.map_or(usize::MAX, |p| p + 1),
        usual: check.usual,
        causes: check.causes.iter().map(|b| (b.cause.key.clone(), b.share)).collect(),
        fits: check.fits,
        took: check.took.answer,
        part,
        wanted: check.took.wanted,
        least: check.took.least,
        agreements: check
            .agreements
            .iter()
            .map(|a| format!("{:?} at {:.3}: {:?}, expected {:?}", a.side, a.place, a.seen, a.expected))
            .collect(),
        really,
        text,
    }
}

/// How many runs the cross-check draws: `DRAWS`, or none.
fn draws() -> Option<usize> {
    std::env::var("DRAWS").ok()?.parse().ok()
}
