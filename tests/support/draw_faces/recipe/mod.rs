//! A coupon of a kind, drawn by lot. All ranges are judgements over what such breaks look like; depths and sizes are
//! those of coupons: bars of 2 to 12 mm with 0.2 to 1.5 mm of case.

mod damage;
mod finishes;

use super::coupon::Coupon;
use super::finish::{Finish, Worked};
use super::kind::Kind;
use super::noise::Noise;
use super::outline::{Nick, Outline};
use super::rim::{Rim, SideRim};
use super::section::Section;
use crate::support::drawing::dice::Dice;
use damage::lip;
pub(crate) use damage::{chips, stains};
use finishes::{finishes, grain_of, ratio};

/// ASTM E112 (Table 4): mean diameter of grain number G, mm; number 1 is 0.254 mm, two numbers halve it.
pub(crate) fn grain_mm(number: f64) -> f64 {
    0.254 * 0.5_f64.powf((number - 1.0) / 2.0)
}

/// Grain number of a mean diameter, mm.
pub(crate) fn grain_number(mm: f64) -> f64 {
    1.0 + 2.0 * (0.254 / mm).log2()
}

/// Depths of at least so many pixels can be read.
pub(crate) const READABLE_PX: f64 = 12.0;

pub(crate) fn seed(dice: &mut Dice) -> u32 {
    (dice.unit() * f64::from(u32::MAX)) as u32
}

pub(crate) fn noise(dice: &mut Dice) -> Noise {
    Noise(seed(dice))
}

pub(crate) fn between(dice: &mut Dice, low: f64, high: f64) -> f32 {
    dice.between(low, high) as f32
}

/// The section of a coupon; `hard` allows a blade's tip.
pub(crate) fn section(hard: bool, dice: &mut Dice) -> Section {
    let t = dice.triangle(2.0, 5.0, 12.0);
    match dice.unit() {
        x if x < 0.36 => Section::rectangle(t, t * dice.between(0.97, 1.03), fillet(t, dice)),
        x if x < 0.72 => {
            let (t, wide) = (t.min(8.0), dice.between(1.2, 2.6));
            Section::rectangle((t * wide).min(14.0), t, fillet(t, dice))
        }
        x if x < 0.93 || !hard => Section::Round { radius: t / 2.0 },
        _ => {
            let spine = t.clamp(3.0, 6.0);
            Section::wedge(spine, spine * dice.between(1.8, 3.0), spine * 0.28, 0.1 * spine)
        }
    }
}

fn fillet(t: f64, dice: &mut Dice) -> f64 {
    t * dice.log_between(0.012, 0.09)
}

/// The whole coupon. `finest`: depths below this, mm, could not be read in the picture; `hard`: 0..1, how much goes
/// wrong with it.
pub(crate) fn coupon(kind: Kind, section: Section, finest: f64, hard: f64, dice: &mut Dice) -> Coupon {
    let t = section.thickness();
    let n = section.sides();
    let most = match kind {
        Kind::Partial | Kind::OneSided => 0.2,
        _ if section.is_round() => 0.24,
        _ => 0.27,
    } * t;
    let depth = dice.log_between(0.2, 1.5).clamp(finest.min(most), most);
    let nicked = !section.is_round() && dice.chance(0.15 + 0.25 * hard);
    let nick = nicked.then(|| Nick {
        side: dice.whole(0, n - 1),
        depth: t * dice.between(0.05, 0.16),
        uneven: t * dice.log_between(0.002, 0.012),
    });
    let rim = rim(kind, &section, (depth, finest), nick.map(|n| n.side), hard, dice);
    let (case, core) = finishes(kind, dice);
    let ratio = ratio(kind, dice);
    let torn = (t * dice.log_between(0.002, 0.012), t * dice.between(0.06, 0.3));
    let chips = chips(&section, hard, dice);
    // a crack begins at the nick
    let begins = nick.map_or(0, |n| n.side);
    let from = section.foot(begins, section.side_length(begins) * dice.between(0.3, 0.7)).0;
    let lipped = kind == Kind::Lip || !section.is_round() && dice.chance(0.12 * hard);
    let lip = lipped.then(|| lip(kind, &section, begins, dice));
    let along_nick = nick.map_or(0.0, |k| {
        let inward = section.foot(k.side, 0.0).1;
        inward[0].atan2(-inward[1])
    });
    let warm = between(dice, -0.03, 0.05);
    Coupon {
        rim,
        ratio,
        step: if dice.chance(0.6) { between(dice, -0.10, 0.10) * depth as f32 } else { 0.0 },
        mottle: ((2.0 * grain_of(&case)).max(0.04) * between(dice, 0.8, 2.5), between(dice, 0.0, 0.8)),
        swell: (t as f32 * between(dice, 0.005, 0.04), t as f32 * between(dice, 0.4, 1.2)),
        marks: (
            from.map(|v| v as f32),
            if dice.chance(0.45) { between(dice, 0.03, 0.22) } else { 0.0 },
            between(dice, 4.0, 12.0),
        ),
        lip,
        notch: Finish::Worked(Worked {
            seed: seed(dice),
            direction: along_nick as f32,
            bend: between(dice, -0.04, 0.04),
            pitch: between(dice, 0.05, 0.3),
            long: 40.0,
            steep: between(dice, 0.1, 0.3),
            tone: between(dice, 0.2, 0.4),
            gloss: between(dice, 0.1, 0.3),
        }),
        stains: stains(t, hard, dice),
        burr: between(dice, -0.05, 0.03),
        uneven: between(dice, 0.0, 0.3),
        noise: noise(dice),
        tints: [[1.0 - 0.5 * warm, 1.0, 1.0 + warm], [1.0 + 0.8 * warm.abs(), 1.0, 1.0 - 1.2 * warm.abs()]],
        outline: Outline { section, torn, noise: noise(dice), chips, nick, bore: 0.0 },
        case,
        core,
    }
}

fn rim(
    kind: Kind,
    section: &Section,
    (depth, finest): (f64, f64),
    nicked: Option<usize>,
    hard: f64,
    dice: &mut Dice,
) -> Option<Rim> {
    if matches!(kind, Kind::Plain | Kind::Lip) {
        return None;
    }
    let n = section.sides();
    let t = section.thickness();
    let depth = if kind == Kind::Through { t * dice.between(0.62, 1.2) } else { depth };
    // the side that keeps its case is one that can be read
    let keep = dice.whole(0, n - 1);
    let keep = if nicked == Some(keep) { (keep + 1) % n } else { keep };
    let thin = dice.whole(0, n - 1);
    let thinner = if dice.chance(0.5) { dice.between(0.55, 0.9) } else { 1.0 };
    let sides = (0..n)
        .map(|i| {
            let long = section.side_length(i);
            let own = dice.between(0.93, 1.07) * if i == thin && n > 1 { thinner } else { 1.0 };
            // a thin side can still be read
            let own = own.max((finest / depth).min(1.0));
            let missing = match kind {
                Kind::OneSided => n > 1 && i != keep,
                Kind::Partial => n > 1 && i != keep && dice.chance(0.35),
                _ => false,
            };
            // on a round bar one side is a part of the way round
            let part = match kind {
                Kind::OneSided if n == 1 => Some(dice.between(0.25, 0.5)),
                Kind::Partial if n == 1 => Some(dice.between(0.5, 0.75)),
                // it ends in the middle of a side, clear of the corners
                Kind::Partial if i == keep => Some(dice.between(0.42, 0.58)),
                _ => None,
            };
            let start = if n == 1 { dice.between(0.08, 0.3) } else { -1.0 };
            SideRim {
                depth: if missing { 0.0 } else { depth * own },
                varies: (dice.between(0.04, 0.10 + 0.12 * hard), dice.log_between(0.35, 1.2) * t),
                noise: noise(dice),
                mirrored: false,
                where_: part.map(|p| {
                    let low = start.min(0.96 - p);
                    let high = if n == 1 { low + p } else { p };
                    ([low * long, high * long], dice.between(0.5, 1.5) * depth)
                }),
            }
        })
        .collect();
    Some(Rim { sides, width: depth.min(0.3 * t) * dice.between(0.08, 0.15 + 0.35 * hard) })
}
