//! The conditions of one picture, drawn from its seed: rig, steel, view, light, shutter.

use super::camera::Camera;
use super::dice::Dice;
use super::exif::Exif;
use super::physics::Steel;
use super::rig::{Rig, SHUTTERS};
use super::scene::Backdrop;
use super::sensor::Sensor;
use super::store::Format;
use std::f64::consts::{PI, TAU};

/// Width and height, px, with how often.
const SIZES: [(usize, usize, f64); 11] = [
    (640, 480, 0.06),
    (800, 600, 0.08),
    (1024, 768, 0.12),
    (1280, 960, 0.14),
    (1440, 1080, 0.10),
    (1600, 1200, 0.17),
    (1920, 1080, 0.14),
    (2048, 1536, 0.09),
    (2592, 1944, 0.04),
    (3264, 2448, 0.03),
    (4000, 3000, 0.03),
];

/// Rigs in turn.
const RIGS: u64 = 24;

/// Everything about a picture but its sparks.
pub(crate) struct View {
    pub(crate) rig: Rig,
    pub(crate) steel: Steel,
    pub(crate) camera: Camera,
    pub(crate) sensor: Sensor,
    pub(crate) format: Format,
    pub(crate) shutter: f64,
    pub(crate) direction: f64,
    pub(crate) towards: f64,
    pub(crate) hand: f64,
    pub(crate) carriers: usize,
    pub(crate) fines: usize,
    pub(crate) pressure: f64,
    pub(crate) backdrop: Backdrop,
    /// Light of the backdrop, of full scale, and its blur, px.
    pub(crate) level: f64,
    pub(crate) soft: f64,
    /// Light of a usual carrier's centre line at its best, of full scale.
    pub(crate) exposure: f64,
    pub(crate) glow: f64,
    pub(crate) in_front: usize,
    pub(crate) exif: Option<Exif>,
}

impl View {
    /// `pixels`: a wanted width and height.
    pub(crate) fn draw(seed: u64, pixels: Option<(usize, usize)>, dice: &mut Dice) -> Self {
        let rig = Rig::number(1 + seed % RIGS);
        // carbon runs evenly through the range within each rig
        let steps = (seed / RIGS) as f64 * 0.618_034 + (seed % RIGS) as f64 * 0.37;
        let carbon = 0.03 + 1.12 * (steps.fract() * 0.94 + 0.06 * dice.unit()).powf(1.25);
        let steel = Steel::draw((carbon * 1000.0).round() / 1000.0, dice);
        Self::of(rig, steel, pixels, dice)
    }

    /// All that is not rig and steel, drawn.
    pub(super) fn of(rig: Rig, steel: Steel, pixels: Option<(usize, usize)>, dice: &mut Dice) -> Self {
        let drawn = size(dice);
        let (width, height) = pixels.unwrap_or(drawn);
        let long = width.max(height) as f64;
        let direction = dice.between(-PI, PI);
        let camera = camera(&rig, &steel, direction, (width, height), dice);
        let sensor = Sensor::draw(long / 1600.0, dice);
        let kinds = [
            Backdrop::Night,
            Backdrop::Board,
            Backdrop::Shop,
            Backdrop::Wall,
            Backdrop::Outdoors,
            Backdrop::Lights,
        ];
        let share = [0.18, 0.2, 0.28, 0.14, 0.1, 0.1];
        let backdrop = kinds[weighted(&share, dice)];
        let level = match backdrop {
            Backdrop::Night | Backdrop::Lights => dice.log_between(0.0004, 0.004),
            Backdrop::Board => dice.log_between(0.002, 0.03),
            Backdrop::Shop | Backdrop::Wall => dice.log_between(0.004, 0.12),
            Backdrop::Outdoors => dice.log_between(0.05, 0.3),
        };
        let noise = f64::from(sensor.noise([level as f32; 3]));
        let exposure = dice.log_between(0.12, 2.2).max(25.0 * noise).max(0.8 * level);
        let shutter = if dice.chance(0.12) { dice.pick(&SHUTTERS) } else { rig.shutter };
        let pressure = dice.log_normal(1.0, 0.2);
        let carriers = carriers(&rig, &steel, shutter, pressure) * dice.log_normal(1.0, 0.25);
        Self {
            shutter,
            towards: dice.normal() * 0.22,
            hand: dice.pick(&[-1.0, 1.0]),
            carriers: whole(carriers),
            fines: (carriers * dice.log_between(0.1, 2.0)) as usize,
            pressure,
            level,
            soft: if dice.chance(0.6) { long / 1600.0 * dice.log_between(0.5, 14.0) } else { 0.0 },
            exposure,
            glow: if dice.chance(0.8) { exposure * dice.log_between(0.3, 6.0) } else { 0.0 },
            in_front: if dice.chance(0.3) { dice.whole(1, 2) } else { 0 },
            format: Format::draw(dice),
            exif: dice.chance(0.6).then(|| Exif::draw(shutter, dice)),
            rig,
            steel,
            camera,
            sensor,
            direction,
            backdrop,
        }
    }
}

/// Carriers that an exposure records on the average.
pub(super) fn carriers(rig: &Rig, steel: &Steel, shutter: f64, pressure: f64) -> f64 {
    // a short shutter holds fewer sparks, but not in proportion: who sees few presses on
    let fill = ((shutter + 0.03) / 0.06).powf(0.3).min(1.4);
    rig.carriers * steel.count_rel * fill * pressure.sqrt()
}

/// As many as are drawn.
pub(super) fn whole(carriers: f64) -> usize {
    carriers.round().clamp(9.0, 170.0) as usize
}

fn weighted(shares: &[f64], dice: &mut Dice) -> usize {
    let mut left = dice.between(0.0, shares.iter().sum());
    for (i, share) in shares.iter().enumerate() {
        left -= share;
        if left < 0.0 {
            return i;
        }
    }
    shares.len() - 1
}

fn size(dice: &mut Dice) -> (usize, usize) {
    let (w, h, _) = SIZES[weighted(&SIZES.map(|s| s.2), dice)];
    if dice.chance(0.25) { (h, w) } else { (w, h) }
}

/// A camera whose frame holds the stream, or most of it.
fn camera(
    rig: &Rig,
    steel: &Steel,
    direction: f64,
    (width, height): (usize, usize),
    dice: &mut Dice,
) -> Camera {
    let (w, h) = (width as f64, height as f64);
    let long = w.max(h);
    let px_per_m = rig.framing * long / 0.5 * dice.log_normal(1.0, 0.15);
    let distance = rig.distance * dice.log_normal(1.0, 0.1);
    // usual length of the stream: a 90 um drop from 25 m/s flies about 0.7 m while it burns (drag law)
    let reach = 0.6 * (rig.drop[0] / 90e-6) * (rig.speed / 25.0).powf(0.6) * steel.length_rel * px_per_m;
    let (along, up) = (direction.cos(), direction.sin());
    // the frame's size along the stream
    let room = (w / along.abs().max(1e-6)).min(h / up.abs().max(1e-6));
    let back = if dice.chance(0.15) { dice.between(0.5, 0.62) } else { dice.between(0.22, 0.45) };
    let back = back * reach.clamp(0.5 * room, 0.95 * room);
    let aside = dice.normal() * 0.08 * w.min(h);
    let contact = [w / 2.0 - back * along - aside * up, h / 2.0 + back * up - aside * along];
    // lens and demosaicing: 1.2 px across in small pictures, to 8 px in soft 12 MP ones
    let wide = dice.log_between(1.2, 4.2) * (long / 1600.0).powf(0.7).clamp(0.7, 2.0);
    let shaken = if dice.chance(0.4) { dice.log_between(0.2, 2.0) } else { 0.0 };
    let mut shake = || [shaken * dice.unit(), dice.between(3.0, 12.0), dice.between(0.0, TAU)];
    let shake = [shake(), shake()];
    Camera {
        width,
        height,
        focal: px_per_m * distance,
        distance,
        contact,
        sharp: wide / 2.355,
        defocus: long / 1600.0 * dice.log_between(1.5, 18.0),
        focus: distance * dice.log_normal(1.0, 0.06),
        roll: dice.normal() * 0.06,
        shake,
    }
}
