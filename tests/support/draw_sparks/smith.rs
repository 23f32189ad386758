//! A smith who photographs steels on one rig: what a set of photos shares, and what moves from day to day.

use super::dice::Dice;
use super::exif::Exif;
use super::physics::Steel;
use super::picture::Picture;
use super::rig::Rig;
use super::store::Format;
use super::view::{View, carriers, whole};

/// Width and height of the photos, px: enough for every rule, and soon drawn.
const PIXELS: (usize, usize) = (1280, 960);

/// How this rig, or this day, throws sparks otherwise than the published trend has it. Factors, and a shift of the
/// onset.
#[derive(Clone, Copy)]
struct Temper {
    bursts: f64,
    rays: f64,
    onset: f64,
    carriers: f64,
    length: f64,
}

impl Temper {
    /// `spread`: standard deviation of the logarithm of the number of bursts; the others move less. Judgement: pages on
    /// spark testing say that wheel, pressure and speed change the stream, and give no figure.
    fn draw(spread: f64, dice: &mut Dice) -> Self {
        Self {
            bursts: dice.log_normal(1.0, spread),
            rays: dice.log_normal(1.0, 0.5 * spread),
            onset: 0.25 * spread * dice.normal(),
            carriers: dice.log_normal(1.0, spread),
            length: dice.log_normal(1.0, 0.5 * spread),
        }
    }

    fn of(self, mut steel: Steel) -> Steel {
        // bursts come first on carriers that had none, then on those that had one
        let odds = steel.burst_fraction / (1.0 - steel.burst_fraction).max(0.01) * self.bursts;
        steel.burst_fraction = odds / (1.0 + odds);
        steel.more_bursts *= self.bursts;
        steel.rays *= self.rays;
        steel.onset = (steel.onset + self.onset).clamp(0.0, 0.98);
        steel.count_rel *= self.carriers;
        steel.length_rel *= self.length;
        steel
    }
}

/// One smith: a rig, a camera on its stand, a bench.
pub(crate) struct Smith {
    number: u64,
    rig: Rig,
    habit: Temper,
}

/// One piece on one day.
#[derive(Clone, Copy)]
pub(crate) struct Piece {
    /// Day, from 0.
    pub(crate) session: u64,
    /// Number among the pieces of the smith, from 0: the same bar has the same number on every day.
    pub(crate) bar: u64,
    pub(crate) carbon_wt_pct: f64,
}

impl Smith {
    /// The same smith from the same number.
    pub(crate) fn number(number: u64) -> Self {
        let mut rig = Rig::number(number);
        let mut dice = Dice::new(number, 0x53_4D_49);
        // shutters that a spark can be read with
        rig.shutter = dice.pick(&[1.0 / 250.0, 1.0 / 160.0, 1.0 / 100.0, 1.0 / 60.0, 1.0 / 30.0, 1.0 / 15.0]);
        Self { number, rig, habit: Temper::draw(0.25, &mut dice) }
    }

    /// One photo of a piece; `frame` tells photos of it apart.
    pub(crate) fn photo(&self, piece: Piece, frame: u64) -> Picture {
        let seed = |part: u64| self.number.wrapping_mul(0x2545_F491_4F6C_DD1D).wrapping_add(part);
        let plain = Steel::draw(0.2, &mut Dice::new(self.number, 0x53_4D_4A));
        let mut view =
            View::of(self.rig.clone(), plain, Some(PIXELS), &mut Dice::new(self.number, 0x53_4D_4B));
        let mut day = Dice::new(seed(piece.session), 0x44_41_59);
        let drift = Temper::draw(0.12, &mut day);
        view.exposure *= day.log_normal(1.0, 0.15);
        view.direction += 0.06 * day.normal();
        let pressed = day.log_normal(1.0, 0.1);
        // how a bar strays from the trend is drawn anew on each day
        let bar = Steel::draw(
            piece.carbon_wt_pct,
            &mut Dice::new(seed(piece.session * 64 + piece.bar), 0x42_41_52),
        );
        view.steel = drift.of(self.habit.of(bar));
        let shot = (piece.session * 64 + piece.bar) * 16 + frame;
        let mut touch = Dice::new(seed(shot), 0x54_4F_55);
        view.shutter = self.rig.shutter;
        view.pressure = pressed * touch.log_normal(1.0, 0.1);
        let count =
            carriers(&self.rig, &view.steel, view.shutter, view.pressure) * touch.log_normal(1.0, 0.15);
        view.carriers = whole(count);
        view.fines = (count * touch.log_between(0.1, 1.0)) as usize;
        view.in_front = 0;
        view.format = Format::Jpeg(92);
        view.exif = Some(Exif::upright(view.shutter));
        view.picture(self.number, seed(shot))
    }
}
