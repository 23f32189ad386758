//! Pictures that must be refused. Most are drawn by other rules than a stream is; those of a spoiled
//! stream are a usable view with one thing gone wrong.

mod fires;
mod lamps;
mod lines;
mod stroke;

use super::dice::Dice;
use super::frame::Frame;
use super::picture::Picture;
use super::scene::{Backdrop, backdrop};
use super::sensor::Sensor;
use super::store::Format;
use super::truth::Truth;
use super::view::View;
use serde_json::Map;

/// Why a picture cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Bonfire,
    LampStar,
    Bokeh,
    Stripes,
    PlainDark,
    PlainWhite,
    Sparkler,
    TooDark,
    BlownOut,
    Blurred,
    TooFew,
    NotSeparable,
    Rain,
    Fireworks,
    WeldingArc,
    City,
    Fibres,
    Text,
}

impl Kind {
    pub(crate) const ALL: [Kind; 18] = [
        Kind::Bonfire,
        Kind::LampStar,
        Kind::Bokeh,
        Kind::Stripes,
        Kind::PlainDark,
        Kind::PlainWhite,
        Kind::Sparkler,
        Kind::TooDark,
        Kind::BlownOut,
        Kind::Blurred,
        Kind::TooFew,
        Kind::NotSeparable,
        Kind::Rain,
        Kind::Fireworks,
        Kind::WeldingArc,
        Kind::City,
        Kind::Fibres,
        Kind::Text,
    ];

    /// As in file names and in the truth.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Bonfire => "bonfire",
            Self::LampStar => "lamp-star",
            Self::Bokeh => "bokeh",
            Self::Stripes => "stripes",
            Self::PlainDark => "plain-dark",
            Self::PlainWhite => "plain-white",
            Self::Sparkler => "sparkler",
            Self::TooDark => "too-dark",
            Self::BlownOut => "blown-out",
            Self::Blurred => "blurred",
            Self::TooFew => "too-few",
            Self::NotSeparable => "not-separable",
            Self::Rain => "rain",
            Self::Fireworks => "fireworks",
            Self::WeldingArc => "welding-arc",
            Self::City => "city-lights",
            Self::Fibres => "fibres",
            Self::Text => "text-page",
        }
    }
}

/// Draws an unusable picture of a kind; `pixels`: a wanted width and height.
pub(crate) fn draw_unusable(kind: Kind, seed: u64, pixels: Option<(usize, usize)>) -> Picture {
    let mut dice = Dice::new(seed, 100 + kind as u64);
    let mut picture = match kind {
        Kind::TooDark | Kind::BlownOut | Kind::Blurred | Kind::TooFew | Kind::NotSeparable => {
            let mut view = View::draw(seed, pixels, &mut dice);
            spoil(&mut view, kind, &mut dice);
            view.picture(seed, seed)
        }
        _ => other(kind, pixels, &mut dice),
    };
    let end = picture.truth.file.rsplit('.').next().unwrap_or("png").to_owned();
    picture.truth.file = format!("{}-{seed:04}.{end}", kind.name());
    kind.name().clone_into(&mut picture.truth.kind);
    picture.truth.seed = seed;
    picture
}

/// One thing goes wrong. Amounts are judgements, far enough that no one could use the picture.
fn spoil(view: &mut View, kind: Kind, dice: &mut Dice) {
    let long = view.camera.width.max(view.camera.height) as f64;
    match kind {
        Kind::TooDark => {
            view.sensor.read = dice.log_between(0.003, 0.02) as f32;
            view.level = dice.log_between(0.0002, 0.004);
            let noise = f64::from(view.sensor.noise([view.level as f32; 3]));
            view.exposure = noise * dice.between(0.15, 0.6);
            view.glow = view.exposure;
        }
        Kind::BlownOut if dice.chance(0.5) => {
            view.backdrop = Backdrop::Wall;
            view.level = dice.log_between(2.5, 8.0);
        }
        Kind::BlownOut => {
            view.exposure = dice.log_between(40.0, 150.0);
            view.glow = 4.0 * view.exposure;
            view.sensor.bloom = (0.25, long / 40.0);
            view.carriers = 160;
        }
        Kind::Blurred => {
            view.camera.sharp = long / 1600.0 * dice.between(14.0, 34.0);
            view.exposure = view.exposure.min(0.6);
        }
        Kind::TooFew => {
            (view.carriers, view.fines) = (dice.whole(1, 4), 0);
            view.rig.splash = 0.0;
        }
        _ => {
            view.carriers = 1400;
            view.fines = 1400;
            view.rig.fan = [0.04, 0.04];
            view.rig.splash = 0.0;
            view.camera.sharp = long / 1600.0 * dice.between(2.0, 5.0);
            view.exposure = view.exposure.max(0.5);
            view.shutter = view.shutter.max(1.0 / 30.0);
        }
    }
}

/// Pictures of other things.
fn other(kind: Kind, pixels: Option<(usize, usize)>, dice: &mut Dice) -> Picture {
    let drawn = dice.pick(&[(1024, 768), (1280, 960), (1600, 1200), (1080, 1440), (1920, 1080)]);
    let (w, h) = pixels.unwrap_or(drawn);
    let dark = dice.log_between(0.0005, 0.01);
    let behind =
        dice.pick(&[Backdrop::Night, Backdrop::Board, Backdrop::Shop, Backdrop::Lights, Backdrop::Outdoors]);
    let soft = dice.between(0.0, 12.0);
    let mut frame = match kind {
        Kind::Bonfire | Kind::Fireworks | Kind::City => backdrop(Backdrop::Night, (w, h), dark, 0.0, dice),
        Kind::Rain | Kind::WeldingArc | Kind::LampStar | Kind::Sparkler => {
            backdrop(behind, (w, h), dark * 3.0, soft, dice)
        }
        _ => Frame::new(w, h, [dark as f32; 3]),
    };
    match kind {
        Kind::Bonfire => fires::bonfire(&mut frame, dice),
        Kind::LampStar => lamps::lamp_star(&mut frame, dice),
        Kind::Bokeh => lamps::bokeh(&mut frame, dice),
        Kind::Stripes => lines::stripes(&mut frame, dice),
        Kind::PlainWhite => lines::plain(&mut frame, dice.between(0.7, 2.0), dice),
        Kind::Sparkler => fires::sparkler(&mut frame, dice),
        Kind::Rain => lines::rain(&mut frame, dice),
        Kind::Fireworks => fires::fireworks(&mut frame, dice),
        Kind::WeldingArc => fires::welding_arc(&mut frame, dice),
        Kind::City => lamps::city(&mut frame, dice),
        Kind::Fibres => lines::fibres(&mut frame, dice),
        Kind::Text => lines::text(&mut frame, dice),
        _ => lines::plain(&mut frame, dark, dice),
    }
    let sensor = Sensor::draw(w.max(h) as f64 / 1600.0, dice);
    let spread = sensor.bloom(&frame);
    frame.add(&spread, 1.0);
    sensor.develop(&mut frame, dice);
    let format = Format::draw(dice);
    let truth = Truth {
        file: format!("x.{}", format.extension()),
        seed: 0,
        kind: String::new(),
        carbon_wt_pct: None,
        rig: String::new(),
        conditions: Map::new(),
        width: w,
        height: h,
        px_per_mm: None,
        shutter_s: None,
        line_width_px: None,
        contact: None,
        direction_deg: None,
        opening_deg: None,
        carriers: Vec::new(),
        bursts: Vec::new(),
    };
    Picture { bytes: format.store(&frame, sensor.grey, None), truth }
}
