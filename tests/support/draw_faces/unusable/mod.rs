//! Pictures that must be refused: a coupon's picture with one thing gone wrong, or another thing altogether.

mod spoil;
mod things;

use super::kind::Kind;
use super::picture::{Order, Picture};
use super::truth::Truth;
use crate::support::drawing::dice::Dice;
use spoil::spoil;

/// Why a picture cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unusable {
    NoFace,
    OutOfFocus,
    /// Pixels too large for the depth of the case.
    FarAway,
    FlatLight,
    RustedOver,
    OxidisedOver,
    CutByFrame,
    Ground,
    Sawn,
    TooDark,
    BlownOut,
    MotionBlurred,
    Coin,
    Washer,
    Stone,
    Gravel,
    SeveralFaces,
}

impl Unusable {
    pub(crate) const ALL: [Self; 17] = [
        Self::NoFace,
        Self::OutOfFocus,
        Self::FarAway,
        Self::FlatLight,
        Self::RustedOver,
        Self::OxidisedOver,
        Self::CutByFrame,
        Self::Ground,
        Self::Sawn,
        Self::TooDark,
        Self::BlownOut,
        Self::MotionBlurred,
        Self::Coin,
        Self::Washer,
        Self::Stone,
        Self::Gravel,
        Self::SeveralFaces,
    ];

    /// The kinds take turns.
    pub(crate) fn of(seed: u64) -> Self {
        Self::ALL[(seed % Self::ALL.len() as u64) as usize]
    }

    /// Nothing in the picture has an outline and sides to be asked for.
    fn faceless(self) -> bool {
        matches!(self, Self::NoFace | Self::Coin | Self::Washer | Self::Stone | Self::Gravel)
    }
}

/// Draws an unusable picture; `megapixels` as in an [`Order`].
pub(crate) fn draw_unusable(kind: Unusable, seed: u64, megapixels: Option<f64>) -> Picture {
    let mut dice = Dice::new(seed, 30);
    let cased = dice.pick(&[Kind::AllRound, Kind::Lighter, Kind::Darker, Kind::TextureOnly, Kind::ToneOnly]);
    let order = Order { kind: cased, megapixels, ..Order::of(seed) };
    let (view, mut coupon) = order.set_up();
    let (view, others) = spoil(kind, view, &mut coupon, &mut dice);
    let face = (!kind.faceless()).then(|| {
        let class = if coupon.rim.is_none() { Kind::Plain } else { cased }.class();
        coupon.survey(class, &view.camera)
    });
    let truth = Truth {
        file: format!("{seed:04}.jpg"),
        seed,
        usable: false,
        take: "first".to_owned(),
        kind: format!("{kind:?}"),
        difficulty: order.difficulty,
        width: view.camera.width,
        height: view.camera.height,
        face,
        conditions: view.conditions(),
    };
    Picture { bytes: view.take(&coupon, &others, seed), truth }
}
