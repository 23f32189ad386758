//! Drawn runs with one fault, and without: does the cross-check name the fault, and is it silent where nothing
//! is wrong?
//!
//! Nothing is measured here against the world: a run is drawn, solved by the program's own simulator, and told
//! by a smith whose eye and hand are drawn too (`faults/smith.rs`, from the published trend of sparks, a ruler
//! and a file). So the figures say that the cross-check does what it is meant to on runs that are as this test
//! imagines them; they are no accuracy on real coupons. Independent of the cross-check: faults have magnitudes
//! from a continuous range where the table of causes has a few fixed ones, and the words come from another
//! model of the eye. Doubts of the run sheet are drawn as wide as the prediction says they are.
//!
//! Bounds, written before the first run: the right cause first or second in 70 %; at most 15 % of sound runs
//! called a mismatch; at most 5 % of the *took* wrong.

pub(super) mod believed;
pub(super) mod draw;
pub(super) mod fault;
mod furnaces;
pub(super) mod looked;
mod smith;
mod trend;
mod truth;

use fault::Fault;
use looked::{Looked, look};
use snapspark::crosscheck::{Answer, Fits};
use std::thread;

/// The right cause ranks first or second in this share of all runs with one fault.
const NAMED: f64 = 0.70;
/// Most sound runs that may be called a mismatch.
const FALSE_ALARMS: f64 = 0.15;
/// Most of the answers *took* that may stand over an edge below the least carbon.
const TOOK_WRONGLY: f64 = 0.05;

/// Looks at runs of these seeds, on both cores.
fn look_at(fault: Option<Fault>, seeds: &[u64]) -> Vec<Looked> {
    let (front, back) = seeds.split_at(seeds.len() / 2);
    let all = |seeds: &[u64]| seeds.iter().map(|s| look(fault, *s)).collect::<Vec<_>>();
    thread::scope(|scope| {
        let other = scope.spawn(|| all(back));
        let mut looked = all(front);
        looked.extend(other.join().unwrap());
        looked
    })
}

fn share(looked: &[Looked], of: impl Fn(&Looked) -> bool) -> f64 {
    looked.iter().filter(|l| of(l)).count() as f64 / looked.len().max(1) as f64
}

/// Prints how the faults rank, and gives the share that rank first or second.
fn ranks(seeds: &[u64]) -> f64 {
    println!("{:<18} first  1-2   noticed: less more contradicts | took wrongly | mostly taken for", "fault");
    let mut all = Vec::new();
    for fault in Fault::ALL {
        let looked = look_at(Some(fault), seeds);
        let mut wrong: Vec<&str> =
            looked.iter().filter(|l| l.rank > 2).map(|l| l.causes[0].0.as_str()).collect();
        wrong.sort_unstable();
        let mut taken: Vec<(usize, &str)> =
            wrong.chunk_by(|a, b| a == b).map(|same| (same.len(), same[0])).collect();
        taken.sort_by(|a, b| b.cmp(a));
        println!(
            "{:<18} {:5.2} {:5.2}   {:7.2} {:5.2} {:5.2} {:5.2}      | {:5.2}  | {:?}",
            fault.key(),
            share(&looked, |l| l.rank == 1),
            share(&looked, |l| l.rank <= 2),
            share(&looked, |l| !matches!(l.fits, Fits::Yes | Fits::CannotTell)),
            share(&looked, |l| l.fits == Fits::Less),
            share(&looked, |l| l.fits == Fits::More),
            share(&looked, |l| l.fits == Fits::Contradicts),
            share(&looked, |l| l.took == Answer::Yes && l.part < l.least),
            &taken[..taken.len().min(3)],
        );
        let missed = looked.iter().zip(seeds).filter(|(l, _)| l.rank > 2).map(|(l, s)| (*s, l.rank));
        println!("                   missed (seed, rank): {:?}", missed.collect::<Vec<_>>());
        all.extend(looked);
    }
    let named = share(&all, |l| l.rank <= 2);
    let seen: Vec<_> = all.iter().filter(|l| l.power.is_some_and(|power| power > 0.5)).collect();
    if !seen.is_empty() {
        let first = seen.iter().filter(|l| l.rank == 1).count() as f64 / seen.len() as f64;
        let second = seen.iter().filter(|l| l.rank <= 2).count() as f64 / seen.len() as f64;
        println!(
            "where what was read can show it ({} runs): first {first:.2}, first or second {second:.2}",
            seen.len()
        );
    }
    println!(
        "{:<18} {:5.2} {:5.2}   {:7.2}",
        "all",
        share(&all, |l| l.rank == 1),
        named,
        share(&all, |l| !matches!(l.fits, Fits::Yes | Fits::CannotTell)),
    );
    named
}

/// Prints how sound runs are judged; gives the share called a mismatch, and of the answers *took* the share
/// that stands over too little carbon.
fn alarms(seeds: &[u64]) -> (f64, f64) {
    let looked = look_at(None, seeds);
    let mismatch = |l: &Looked| !matches!(l.fits, Fits::Yes | Fits::CannotTell);
    for fits in [Fits::Yes, Fits::Less, Fits::More, Fits::Contradicts, Fits::CannotTell] {
        println!("fits {fits:?}: {:.3}", share(&looked, |l| l.fits == fits));
    }
    for took in [Answer::Yes, Answer::Partly, Answer::No, Answer::CannotTell] {
        let (enough, between, little) = (
            share(&looked, |l| l.took == took && l.part >= l.wanted),
            share(&looked, |l| l.took == took && l.part < l.wanted && l.part >= l.least),
            share(&looked, |l| l.took == took && l.part < l.least),
        );
        println!("took {took:?}: truly enough {enough:.3}, between {between:.3}, too little {little:.3}");
    }
    let seeds_of = |of: &dyn Fn(&Looked) -> bool| {
        looked.iter().zip(seeds).filter(|(l, _)| of(l)).map(|(_, s)| *s).collect::<Vec<_>>()
    };
    println!("called a mismatch: {:?}", seeds_of(&mismatch));
    let all_within = |l: &Looked| mismatch(l) && l.agreements.iter().all(|a| a.starts_with("Within"));
    println!("of these, though each observation by itself fits: {:?}", seeds_of(&all_within));
    let wrong = |l: &Looked| l.took == Answer::Yes && l.part < l.least;
    println!("took wrongly: {:?}", seeds_of(&wrong));
    println!("not, but enough: {:?}", seeds_of(&|l| l.took == Answer::No && l.part >= l.wanted));
    let yes = share(&looked, |l| l.took == Answer::Yes);
    (share(&looked, mismatch), share(&looked, wrong) / yes.max(f64::MIN_POSITIVE))
}

#[test]
fn the_right_cause_ranks_first_or_second() {
    let named = ranks(&(0..12).collect::<Vec<_>>());
    assert!(named >= NAMED, "{named:.3}");
}

#[test]
fn sound_runs_are_seldom_called_a_mismatch() {
    let (mismatch, wrong) = alarms(&(0..100).collect::<Vec<_>>());
    assert!(mismatch <= FALSE_ALARMS, "called a mismatch: {mismatch:.3}");
    assert!(wrong <= TOOK_WRONGLY, "took wrongly: {wrong:.3}");
}

#[test]
#[ignore = "some minutes; seeds that the other tests do not use"]
fn many_more_drawn_runs() {
    let number = |name: &str, usual| std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(usual);
    let (first, count): (u64, u64) = (number("FIRST", 1000), number("COUNT", 100));
    let named = ranks(&(first..first + count).collect::<Vec<_>>());
    let (mismatch, wrong) = alarms(&(first..first + 10 * count).collect::<Vec<_>>());
    println!("named {named:.3}, called a mismatch {mismatch:.3}, took wrongly {wrong:.3}");
    assert!(named >= NAMED && mismatch <= FALSE_ALARMS && wrong <= TOOK_WRONGLY);
}

/// One drawn run in full, by the number of its fault in [`Fault::ALL`] (none: sound) and its seed:
/// `FAULT=3 SEED=17 cargo test one_drawn_run -- --ignored --nocapture`.
#[test]
#[ignore = "shows one run"]
fn one_drawn_run() {
    let number = |name: &str| std::env::var(name).ok().and_then(|v| v.parse::<usize>().ok());
    let fault = number("FAULT").map(|i| Fault::ALL[i]);
    let looked = look(fault, number("SEED").unwrap_or(0) as u64);
    println!("{}\nreally: {}\n{:?}, took {:?}", looked.text, looked.really, looked.fits, looked.took);
    println!("part {:.2}, usual {:.3}", looked.part, looked.usual);
    for line in &looked.agreements {
        println!("  {line}");
    }
    for (key, share) in &looked.causes {
        println!("  {share:.3} {key}");
    }
}
