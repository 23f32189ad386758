//! A picture of a coupon that can be read, and its truth.

use super::coupon::Coupon;
use super::kind::{Class, Kind};
use super::recipe;
use super::survey::ten_figures;
use super::truth::Truth;
use super::view::View;
use crate::support::drawing::dice::Dice;
use serde_json::{Map, Value, json};

/// A file's bytes with the truth of what it shows.
pub(crate) struct Picture {
    pub(crate) bytes: Vec<u8>,
    pub(crate) truth: Truth,
}

/// Which picture of a coupon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Take {
    First,
    /// The same face, the lamp a quarter turn farther, the camera moved a little.
    Turned,
    /// The other half of the break.
    Mate,
    /// Untreated stock of the same section, quenched and snapped alike.
    Blank,
}

impl Take {
    pub(crate) const ALL: [Self; 4] = [Self::First, Self::Turned, Self::Mate, Self::Blank];

    /// As in the truth.
    fn name(self) -> &'static str {
        match self {
            Self::First => "first",
            Self::Turned => "turned",
            Self::Mate => "mate",
            Self::Blank => "blank",
        }
    }

    fn file(self, seed: u64) -> String {
        if self == Self::First { format!("{seed:04}.jpg") } else { format!("{seed:04}-{}.jpg", self.name()) }
    }
}

/// What is to be drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Order {
    pub(crate) seed: u64,
    pub(crate) kind: Kind,
    /// 0 easy, 1 fair, 2 hard.
    pub(crate) difficulty: usize,
    pub(crate) take: Take,
    /// None: as it comes, 0.5 to 2.6.
    pub(crate) megapixels: Option<f64>,
}

impl Order {
    /// The kind and the difficulty that a seed is drawn with where nobody asks for others.
    pub(crate) fn of(seed: u64) -> Self {
        let mut dice = Dice::new(seed, 10);
        let (kind, difficulty) = (dice.pick(&Kind::ALL), dice.whole(0, 2));
        Self { seed, kind, difficulty, take: Take::First, megapixels: None }
    }

    fn hard(&self) -> f64 {
        self.difficulty as f64 / 2.0
    }

    /// The first view of the coupon, and the coupon.
    pub(super) fn set_up(&self) -> (View, Coupon) {
        let section = recipe::section(self.difficulty == 2, &mut Dice::new(self.seed, 11));
        let view = View::draw(&section, self.hard(), self.megapixels, &mut Dice::new(self.seed, 12));
        let finest = recipe::READABLE_PX / view.pose.px_per_mm;
        let coupon = recipe::coupon(self.kind, section, finest, self.hard(), &mut Dice::new(self.seed, 13));
        (view, coupon)
    }

    pub(crate) fn draw(&self) -> Picture {
        let (mut view, mut coupon) = self.set_up();
        let mut dice = Dice::new(self.seed, 20 + self.take as u64);
        match self.take {
            Take::First => {}
            Take::Turned => view = view.turned(std::f64::consts::FRAC_PI_2, &mut dice),
            Take::Mate => {
                coupon = coupon.mate(self.hard(), &mut dice);
                view = view.again(&coupon.outline.section, self.hard(), &mut dice);
            }
            Take::Blank => {
                coupon = coupon.blank(self.hard(), &mut dice);
                view = view.again(&coupon.outline.section, self.hard(), &mut dice);
            }
        }
        let class = if coupon.rim.is_none() { Class::None } else { self.kind.class() };
        let truth = Truth {
            file: self.take.file(self.seed),
            seed: self.seed,
            usable: true,
            take: self.take.name().to_owned(),
            kind: format!("{:?}", self.kind),
            difficulty: self.difficulty,
            width: view.camera.width,
            height: view.camera.height,
            face: Some(coupon.survey(class, &view.camera)),
            conditions: view.conditions(),
        };
        Picture { bytes: view.take(&coupon, &[], self.seed ^ (self.take as u64) << 40), truth }
    }
}

impl View {
    /// How the picture was lit, taken and stored.
    pub(super) fn conditions(&self) -> Map<String, Value> {
        let round = |x: f64| (x * 1e3).round() / 1e3;
        let value = json!({
            "ground": format!("{:?}", self.round.ground.stuff),
            "held": self.round.holder.as_ref().map(|h| format!("{:?}", h.grip)),
            "ruler": self.round.ruler.is_some(),
            "light_azimuth_deg": round(self.lamp[0].to_degrees()),
            "light_elevation_deg": round(self.lamp[1].to_degrees()),
            "lamps": self.light.lamps.len(),
            "sky": round(f64::from(self.light.sky[1])),
            "tilt_deg": round(self.pose.tilt.0.to_degrees()),
            "roll_deg": round(self.pose.roll.to_degrees()),
            "distance_mm": round(self.pose.distance),
            "blur_px": round(self.blur[0]),
            "shake_px": round(self.shake[0].hypot(self.shake[1])),
            "exposure": round(f64::from(self.exposure)),
            "read_noise": ten_figures(f64::from(self.sensor.read)),
            "well": round(f64::from(self.sensor.well)),
            "grey": self.sensor.grey,
            "jpeg_quality": self.quality,
        });
        let Value::Object(map) = value else { unreachable!("written as an object") };
        map
    }
}
