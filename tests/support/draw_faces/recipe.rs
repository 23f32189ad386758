//! A coupon of a kind, drawn by lot. All ranges are judgements over what such breaks look like; depths and sizes are
//! those of issue coupons: bars of 2 to 12 mm with 0.15 to 1.6 mm of case.

use super::coupon::{Coupon, Lip};
use super::finish::{Cleavage, Fibrous, Finish, Grains, Worked};
use super::kind::Kind;
use super::noise::Noise;
use super::outline::{Chip, Nick, Outline};
use super::rim::{Rim, SideRim};
use super::section::Section;
use super::stain::Stain;
use crate::support::drawing::dice::Dice;

/// ASTM E112 (Table 4): mean diameter of grain number G, mm; number 1 is 0.254 mm, two numbers halve it.
pub(crate) fn grain_mm(number: f64) -> f64 {
    0.254 * 0.5_f64.powf((number - 1.0) / 2.0)
}

/// Grain number of a mean diameter, mm.
pub(crate) fn grain_number(mm: f64) -> f64 {
    1.0 + 2.0 * (0.254 / mm).log2()
}

fn seed(dice: &mut Dice) -> u32 {
    (dice.unit() * f64::from(u32::MAX)) as u32
}

fn noise(dice: &mut Dice) -> Noise {
    Noise(seed(dice))
}

fn between(dice: &mut Dice, low: f64, high: f64) -> f32 {
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
    let most = if section.is_round() { 0.24 } else { 0.27 } * t;
    let depth = dice.log_between(0.2, 1.5).clamp(finest.min(most), most);
    let nicked = !section.is_round() && dice.chance(0.15 + 0.25 * hard);
    let nick = nicked.then(|| Nick {
        side: dice.whole(0, n - 1),
        depth: t * dice.between(0.05, 0.16),
        uneven: t * dice.log_between(0.002, 0.012),
    });
    let rim = rim(kind, &section, depth, hard, dice);
    let (case, core) = finishes(kind, dice);
    let ratio = ratio(kind, dice);
    let torn = (t * dice.log_between(0.0015, 0.008), t * dice.between(0.06, 0.25));
    let chips = chips(&section, hard, dice);
    // a crack begins at the nick
    let begins = nick.map_or(0, |n| n.side);
    let from = section.foot(begins, section.side_length(begins) * dice.between(0.3, 0.7)).0;
    let lip = (kind == Kind::Lip || dice.chance(0.12 * hard)).then(|| {
        let far = (begins + n / 2) % n;
        let mut sides = vec![far];
        if kind == Kind::Lip && dice.chance(0.6) {
            sides.extend((0..n).filter(|i| *i != far && dice.chance(0.7)));
        }
        let up = if dice.chance(0.5) { 1.0 } else { -1.0 };
        Lip {
            sides,
            width: t * dice.between(0.04, if kind == Kind::Lip { 0.14 } else { 0.07 }),
            slope: up * between(dice, 0.4, 1.0),
            finish: Finish::Worked(Worked {
                seed: seed(dice),
                direction: between(dice, 0.0, 3.1),
                bend: 0.0,
                pitch: between(dice, 0.08, 0.3),
                steep: between(dice, 0.04, 0.15),
                tone: between(dice, 0.2, 0.4),
                gloss: between(dice, 0.05, 0.15),
            }),
        }
    });
    let along_nick = nick.map_or(0.0, |k| {
        let inward = section.foot(k.side, 0.0).1;
        inward[0].atan2(-inward[1])
    });
    let warm = between(dice, -0.03, 0.05);
    Coupon {
        rim,
        ratio,
        step: if dice.chance(0.6) { between(dice, -0.10, 0.10) * depth as f32 } else { 0.0 },
        mottle: (case_grain(&case).max(0.02) * between(dice, 1.0, 4.0), between(dice, 0.0, 0.8)),
        swell: (t as f32 * between(dice, 0.005, 0.04), t as f32 * between(dice, 0.4, 1.2)),
        marks: (
            from.map(|v| v as f32),
            if dice.chance(0.5) { between(dice, 0.004, 0.02) * t as f32 } else { 0.0 },
            between(dice, 5.0, 16.0),
        ),
        lip,
        notch: Finish::Worked(Worked {
            seed: seed(dice),
            direction: along_nick as f32,
            bend: between(dice, -0.04, 0.04),
            pitch: between(dice, 0.05, 0.3),
            steep: between(dice, 0.1, 0.3),
            tone: between(dice, 0.2, 0.4),
            gloss: between(dice, 0.1, 0.3),
        }),
        stains: stains(t, hard, dice),
        noise: noise(dice),
        tints: [[1.0 - 0.5 * warm, 1.0, 1.0 + warm], [1.0 + 0.8 * warm.abs(), 1.0, 1.0 - 1.2 * warm.abs()]],
        outline: Outline { section, torn, noise: noise(dice), chips, nick },
        case,
        core,
    }
}

fn case_grain(finish: &Finish) -> f32 {
    match finish {
        Finish::Grains(g) => g.grain,
        Finish::Cleavage(c) => c.grain,
        Finish::Fibrous(f) => f.hollow,
        Finish::Worked(w) => w.pitch,
    }
}

fn rim(kind: Kind, section: &Section, depth: f64, hard: f64, dice: &mut Dice) -> Option<Rim> {
    if matches!(kind, Kind::Plain | Kind::Lip) {
        return None;
    }
    let n = section.sides();
    let t = section.thickness();
    let depth = if kind == Kind::Through { t * dice.between(0.62, 1.2) } else { depth };
    let keep = dice.whole(0, n - 1);
    let thin = dice.whole(0, n - 1);
    let thinner = if dice.chance(0.5) { dice.between(0.55, 0.9) } else { 1.0 };
    let sides = (0..n)
        .map(|i| {
            let long = section.side_length(i);
            let own = dice.between(0.93, 1.07) * if i == thin && n > 1 { thinner } else { 1.0 };
            let missing = match kind {
                Kind::OneSided => n > 1 && i != keep,
                Kind::Partial => n > 1 && i != keep && dice.chance(0.35),
                _ => false,
            };
            // on a round bar one side is a part of the way round
            let part = match kind {
                Kind::OneSided if n == 1 => Some(dice.between(0.25, 0.5)),
                Kind::Partial if n == 1 || i == keep => Some(dice.between(0.45, 0.75)),
                _ => None,
            };
            let start = dice.between(0.08, 0.3);
            SideRim {
                depth: if missing { 0.0 } else { depth * own },
                varies: (dice.between(0.04, 0.10 + 0.12 * hard), dice.log_between(0.35, 1.2) * t),
                noise: noise(dice),
                where_: part.map(|p| {
                    let low = start.min(0.96 - p);
                    ([low * long, (low + p) * long], dice.between(0.5, 1.5) * depth)
                }),
            }
        })
        .collect();
    Some(Rim { sides, width: depth.min(0.3 * t) * dice.between(0.08, 0.15 + 0.35 * hard) })
}

fn grains(number: f64, tone: f32, dice: &mut Dice) -> Finish {
    Finish::Grains(Grains {
        seed: seed(dice),
        grain: grain_mm(number) as f32,
        steep: between(dice, 0.12, 0.38),
        round: between(dice, 0.0, 0.8),
        tone,
        gloss: between(dice, 0.03, 0.14),
        glints: between(dice, 0.0, 0.10),
        grooves: between(dice, 0.1, 0.6),
    })
}

fn fibrous(tone: f32, dice: &mut Dice) -> Finish {
    Finish::Fibrous(Fibrous {
        seed: seed(dice),
        scale: dice.log_between(0.25, 1.0) as f32,
        steep: between(dice, 0.45, 1.1),
        grain: (between(dice, 0.0, 3.1), between(dice, 1.0, 2.6)),
        hollow: dice.log_between(0.025, 0.12) as f32,
        tone,
        dark: between(dice, 0.3, 0.8),
        gloss: between(dice, 0.02, 0.08),
        flecks: between(dice, 0.0, 0.08),
    })
}

fn cleavage(number: f64, tone: f32, dice: &mut Dice) -> Finish {
    Finish::Cleavage(Cleavage {
        seed: seed(dice),
        grain: grain_mm(number) as f32,
        steep: between(dice, 0.25, 0.5),
        tone,
        gloss: between(dice, 0.15, 0.4),
        rivers: between(dice, 0.0, 0.8),
    })
}

fn finishes(kind: Kind, dice: &mut Dice) -> (Finish, Finish) {
    let bright = between(dice, 0.30, 0.48);
    let fine = dice.between(6.5, 10.0);
    match kind {
        Kind::Darker => (grains(fine, 0.24, dice), cleavage(dice.between(1.0, 4.0), 0.3, dice)),
        Kind::TextureOnly => {
            let core = if dice.chance(0.5) {
                fibrous(bright, dice)
            } else {
                cleavage(dice.between(1.0, 4.0), bright, dice)
            };
            (grains(fine, bright, dice), core)
        }
        Kind::ToneOnly => {
            let case = grains(fine, bright, dice);
            let Finish::Grains(mut same) = case.clone() else { unreachable!("grains were asked for") };
            same.seed = seed(dice);
            (case, Finish::Grains(same))
        }
        Kind::Faint => (grains(fine, bright, dice), grains(fine - dice.between(1.0, 2.5), bright, dice)),
        Kind::Coarse => {
            let core = if dice.chance(0.6) {
                fibrous(0.26, dice)
            } else {
                grains(dice.between(6.0, 8.0), bright, dice)
            };
            let case = if dice.chance(0.5) {
                cleavage(dice.between(1.5, 4.0), bright, dice)
            } else {
                grains(dice.between(1.5, 4.5), bright, dice)
            };
            (case, core)
        }
        _ => {
            let tone = between(dice, 0.16, 0.34);
            let core = if dice.chance(0.75) {
                fibrous(tone, dice)
            } else {
                cleavage(dice.between(1.5, 5.0), tone, dice)
            };
            (grains(dice.between(5.5, 10.0), bright, dice), core)
        }
    }
}

fn ratio(kind: Kind, dice: &mut Dice) -> Option<f32> {
    let (low, high) = match kind {
        Kind::Lighter => (0.45, 0.78),
        Kind::Darker => (1.2, 1.7),
        Kind::TextureOnly => (0.97, 1.03),
        Kind::ToneOnly => (0.55, 0.82),
        Kind::Faint => (0.88, 1.10),
        _ => return None,
    };
    Some(between(dice, low, high))
}

fn chips(section: &Section, hard: f64, dice: &mut Dice) -> Vec<Chip> {
    let t = section.thickness();
    let mut out = Vec::new();
    while out.len() < 3 && dice.chance(0.1 + 0.35 * hard) {
        let side = dice.whole(0, section.sides() - 1);
        let long = section.side_length(side);
        // most chips take a corner
        let corner = !section.is_round() && dice.chance(0.7);
        let (at, inward) = section.foot(side, if corner { 0.0 } else { long * dice.unit() });
        let turn = if corner { std::f64::consts::FRAC_PI_4 } else { 0.0 } + dice.between(-0.3, 0.3);
        let (sin, cos) = (-turn).sin_cos();
        let inward = [inward[0] * cos - inward[1] * sin, inward[0] * sin + inward[1] * cos];
        let depth = t * dice.log_between(0.03, 0.12) * if corner { 1.4 } else { 0.7 };
        out.push(Chip { at, inward, depth, hollow: dice.between(0.3, 1.6) });
    }
    out
}

fn stains(t: f64, hard: f64, dice: &mut Dice) -> Vec<Stain> {
    let t = t as f32;
    let mut out = Vec::new();
    let lot = |share: f64, dice: &mut Dice| dice.chance(share * hard);
    if lot(0.35, dice) {
        out.push(Stain::Rust {
            seed: seed(dice),
            amount: between(dice, 0.02, 0.18),
            scale: t * between(dice, 0.1, 0.4),
        });
    }
    if lot(0.25, dice) {
        out.push(Stain::Oil {
            seed: seed(dice),
            amount: between(dice, 0.05, 0.3),
            scale: t * between(dice, 0.2, 0.6),
        });
    }
    if lot(0.2, dice) {
        out.push(Stain::Oxide {
            seed: seed(dice),
            amount: between(dice, 0.05, 0.25),
            scale: t * between(dice, 0.2, 0.6),
        });
    }
    if lot(0.12, dice) {
        out.push(Stain::Temper { seed: seed(dice), scale: t * between(dice, 0.5, 1.5) });
    }
    if dice.chance(0.3 + 0.3 * hard) {
        out.push(Stain::Dust {
            seed: seed(dice),
            amount: between(dice, 0.02, 0.12),
            scale: between(dice, 0.12, 0.35),
        });
    }
    if lot(0.3, dice) {
        out.push(Stain::Scratch {
            seed: seed(dice),
            at: [between(dice, -0.3, 0.3) * t, between(dice, -0.3, 0.3) * t],
            direction: between(dice, 0.0, 3.1),
            width: between(dice, 0.01, 0.03),
        });
    }
    out
}
