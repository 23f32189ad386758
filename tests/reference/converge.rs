//! The default mesh and steps against six times finer ones on soaks drawn at random from fixed
//! seeds. This is no outside check: it asks whether the default is fine enough, not whether the
//! physics is right.

use crate::support::models;
use snapspark::diffusion::{Case, Direction, Exchange, Fineness, Leg, Potential, Profile, Section, march};

const SEEDS: u64 = 150;
const FINER: f64 = 6.0;
/// The target of the project. Nineteen draws in twenty keep it, all keep twice as much: written
/// down before the first run.
const TOLERANCE_MM: f64 = 0.0005;
const TOLERANCE_WT: f64 = 0.001;
const SHARE_WITHIN: f64 = 0.95;
const ALL_WITHIN: f64 = 2.0;
/// A depth is compared where carbon falls faster than this, wt%/mm. The tail of a case at core +
/// 0.04 %C is this flat after about 24 h at 950 °C, longer than any soak here; what is flatter has
/// been evened out by a stage without exchange, and there a depth has no sharp place:
/// 0.0005 mm would ask for 0.000025 wt%.
const LEAST_SLOPE: f64 = 0.05;

/// `SplitMix64`. Source: G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number
/// generators, 2014 (constants from memory; only spread is asked of it).
struct Random(u64);

impl Random {
    /// 0 to 1.
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        // 32 bits are enough
        f64::from(((z ^ (z >> 31)) >> 32) as u32) / f64::from(u32::MAX)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Even in the logarithm.
    fn spread(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.unit())
    }

    fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        let i = (self.unit() * from.len() as f64) as usize;
        from[i.min(from.len() - 1)]
    }
}

struct Draw {
    /// What was drawn, in words.
    kind: String,
    law: &'static str,
    section: Section,
    core: f64,
    legs: Vec<(Vec<(f64, f64)>, Exchange)>,
}

const K: f64 = 273.15;
const MINUTE: f64 = 60.0;

impl Draw {
    fn new(seed: u64) -> Self {
        let r = &mut Random(seed << 32);
        let law = r.pick(&["agren1986", "tibbetts1980", "lee2011", "slycke1981"]);
        let (section, shape) = section(r);
        let core = r.between(0.05, 0.45);
        let mut draw =
            Self { kind: format!("{law} {shape} core {core:.2}"), law, section, core, legs: Vec::new() };
        draw.soak(r);
        if r.chance(0.25) {
            draw.soak(r);
        }
        if r.chance(0.7) {
            draw.cool(r);
        }
        if r.chance(0.4) {
            draw.reheat(r);
        }
        draw
    }

    fn end(&self) -> (f64, f64) {
        self.legs.last().map_or((0.0, 20.0 + K), |(points, _)| points[points.len() - 1])
    }

    fn add(&mut self, what: &str, points: Vec<(f64, f64)>, exchange: Exchange) {
        let top = points.iter().map(|p| p.1).fold(0.0, f64::max) - K;
        let minutes = (points[points.len() - 1].0 - points[0].0) / MINUTE;
        let how = match exchange.transfer {
            t if exchange.direction == Direction::Closed => format!("closed ({t:.0e})"),
            t if t.is_infinite() => format!("{:?} held", exchange.direction),
            t => format!("{:?} {t:.1e}", exchange.direction),
        };
        let outside = match exchange.potential {
            Potential::Fixed(wt) => format!("{wt:.2} %C"),
            Potential::ShareOfAcm(share) => format!("{share:.2} Acm"),
            Potential::Leaking { share, co2 } => format!("{share:.2} Acm, {co2:.1} CO2"),
        };
        let said = format!("; {what} {top:.0} °C {minutes:.0} min {how} {outside}");
        self.kind.push_str(&said);
        self.legs.push((points, exchange));
    }

    /// Heating and a hold of one shape or another.
    fn soak(&mut self, r: &mut Random) {
        let top = r.between(780.0, 1050.0) + K;
        let start = self.end();
        let up = start.0 + r.between(10.0, 90.0) * MINUTE;
        let hold = r.spread(5.0, 600.0) * MINUTE;
        let mut points = vec![start, (up, top)];
        let shape = r.pick(&["steady", "noisy", "saw", "dip", "drift"]);
        match shape {
            "noisy" => {
                let swing = r.between(3.0, 25.0);
                points.extend(
                    (1..=300).map(|i| (up + hold * f64::from(i) / 300.0, top + r.between(-swing, swing))),
                );
            }
            "saw" => {
                let (swing, teeth) = (r.between(5.0, 40.0), 2 * (1 + (r.unit() * 12.0) as i32));
                points.extend((1..=teeth).map(|i| {
                    let side = if i % 2 == 0 { 0.0 } else { -swing };
                    (up + hold * f64::from(i) / f64::from(teeth), top + side)
                }));
            }
            "dip" => {
                let low = r.between(600.0, 770.0) + K;
                let (a, b) = (r.between(0.2, 0.45), r.between(0.55, 0.8));
                let at = |share: f64| up + share * hold;
                points.extend([(at(a), top), (at(f64::midpoint(a, b)), low), (at(b), top), (at(1.0), top)]);
            }
            "drift" => points.push((up + hold, top - r.between(10.0, 80.0))),
            _ => points.push((up + hold, top)),
        }
        let potential = if r.chance(0.6) {
            Potential::ShareOfAcm(r.between(0.5, 1.0))
        } else {
            Potential::Fixed(r.between(0.5, 1.2))
        };
        let transfer = if r.chance(0.4) { f64::INFINITY } else { r.spread(3e-8, 3e-6) };
        self.add(shape, points, Exchange { potential, transfer, direction: Direction::BothWays });
    }

    /// Newton's cooling to 500 °C.
    fn cool(&mut self, r: &mut Random) {
        let (start, kelvin) = self.end();
        let constant = r.spread(3.0, 120.0) * MINUTE;
        let (shop, low) = (20.0 + K, 500.0 + K);
        let seconds = constant * libm::log((kelvin - shop) / (low - shop));
        let points = (0..=32)
            .map(|i| {
                let t = seconds * f64::from(i) / 32.0;
                (start + t, shop + (kelvin - shop) * libm::exp(-t / constant))
            })
            .collect();
        let last = self.legs[self.legs.len() - 1].1;
        let direction =
            r.pick(&[Direction::Inward, Direction::Inward, Direction::Closed, Direction::BothWays]);
        self.add("cool", points, Exchange { direction, ..last });
    }

    /// A short later heat, from cold.
    fn reheat(&mut self, r: &mut Random) {
        let start = self.end().0;
        let top = r.between(760.0, 900.0) + K;
        let up = start + r.between(1.0, 15.0) * MINUTE;
        let points = vec![(start, 20.0 + K), (up, top), (up + r.between(3.0, 30.0) * MINUTE, top)];
        let slow = Exchange { transfer: r.spread(1e-8, 1e-6), ..Exchange::BARE };
        let exchange = r.pick(&[Exchange::CLOSED, Exchange::CLOSED, Exchange::BARE, slow]);
        self.add("reheat", points, exchange);
    }

    fn solve(&self, fineness: Fineness) -> Vec<Profile> {
        let models = models();
        let case = Case {
            form: &models.law(self.law).expect("a shipped law").form.value,
            factor: 1.0,
            phase: &models.phase,
            section: self.section,
            core: self.core,
            fineness,
        };
        let legs: Vec<Leg> = self.legs.iter().map(|(points, e)| Leg { points, exchange: *e }).collect();
        march(&case, &legs).expect("converges").profiles
    }

    /// Worst differences over all legs: mm, wt%.
    fn differences(&self) -> (f64, f64) {
        let coarse = Fineness::DEFAULT;
        let finer = Fineness {
            nodes_per_unit: FINER * coarse.nodes_per_unit,
            steps: (FINER * coarse.steps as f64) as usize,
        };
        let (mut mm, mut wt) = (0.0_f64, 0.0_f64);
        for (got, want) in self.solve(coarse).iter().zip(&self.solve(finer)) {
            mm = mm.max(depths_apart(got, want, self.core));
            wt = want.points().map(|(x, c)| (got.at(x) - c).abs()).fold(wt, f64::max);
            wt = wt.max((got.uptake_wt_percent_mm() - want.uptake_wt_percent_mm()).abs());
        }
        (mm, wt)
    }
}

fn section(r: &mut Random) -> (Section, String) {
    let mm = r.spread(0.6, 12.0);
    match r.pick(&[0, 1, 1, 2]) {
        0 => (Section::Thick, "thick".into()),
        1 => (Section::Plate { depth: mm * 0.5e-3 }, format!("{mm:.1} mm plate")),
        _ => (Section::Round { radius: mm * 0.5e-3 }, format!("{mm:.1} mm bar")),
    }
}

/// Worst difference in depth at the usual carbon contents, mm.
fn depths_apart(got: &Profile, want: &Profile, core: f64) -> f64 {
    let levels = [core + 0.04, 0.30, 0.35, 0.40, 0.50];
    let near = 5e-6;
    levels
        .into_iter()
        .filter_map(|wt| {
            let depth = want.depth_to(wt)?;
            let slope = (want.at(depth - near) - want.at(depth + near)) / (2.0 * near * 1e3);
            let apart = got.depth_to(wt).map_or(f64::INFINITY, |d| (d - depth).abs() * 1e3);
            (slope > LEAST_SLOPE).then_some(apart)
        })
        .fold(0.0, f64::max)
}

#[test]
fn default_fineness_is_fine_enough() {
    let mut draws: Vec<(f64, f64, f64, u64, String)> = (1..=SEEDS)
        .map(|seed| {
            let draw = Draw::new(seed);
            let (mm, wt) = draw.differences();
            ((mm / TOLERANCE_MM).max(wt / TOLERANCE_WT), mm, wt, seed, draw.kind)
        })
        .collect();
    draws.sort_by(|a, b| b.0.total_cmp(&a.0));
    let line =
        |d: &(f64, f64, f64, u64, String)| format!("{:.5} mm {:.5} wt%: seed {}, {}", d.1, d.2, d.3, d.4);
    let worst: Vec<String> = draws.iter().take(25).map(line).collect();
    let within = draws.iter().filter(|d| d.0 <= 1.0).count();
    let largest = |f: fn(&(f64, f64, f64, u64, String)) -> f64| draws.iter().map(f).fold(0.0, f64::max);
    println!(
        "{within} of {} within; worst {:.5} mm, {:.5} wt%",
        draws.len(),
        largest(|d| d.1),
        largest(|d| d.2)
    );
    println!("{}", worst.join("\n"));
    let text = worst.join("\n");
    assert!(within as f64 >= SHARE_WITHIN * draws.len() as f64, "{within} within the target:\n{text}");
    assert!(draws[0].0 <= ALL_WITHIN, "beyond twice the target:\n{text}");
}
