use super::figures::scaled;
use super::measures::{Scale, over, pooled};
use super::{
    Frame, PhotoNote, PhotoReading, Series, ShutterJudged, SparkContrast, StreamFigures, Trend, shutter,
};
use crate::spark::OverTime;
use crate::units::{Depth, Interval, Speed};

/// What photos show in the numbers that carbon is judged by.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Photographed {
    /// Against the stock.
    pub contrast: SparkContrast,
    /// Change from touch to touch.
    pub over_time: Option<OverTime>,
    /// Figures of the coupon, for a rig to be compared by.
    pub figures: Option<Box<StreamFigures>>,
    /// Those of the stock.
    pub stock_figures: Option<Box<StreamFigures>>,
}

/// What is known beside the photos.
#[derive(Debug, Clone, Copy, Default)]
pub struct PhotoConditions {
    /// Millimetres of a pixel of the first photo, from points on it.
    pub mm_per_px: Option<Interval<f64>>,
    /// Diameter of the wheel: the scale, where no points give it and its rim is seen.
    pub wheel: Option<Depth>,
    /// Surface speed of the wheel.
    pub speed: Option<Speed>,
    /// Depth ground off by the end of the last touch.
    pub ground: Option<Depth>,
    /// Sparks from within this depth are the surface's; `None`: all are.
    pub surface: Option<Depth>,
}

/// Photos of one piece and what they show.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoPiece {
    /// The photos.
    pub series: Series,
    /// Figures of each photo, in the order of the series.
    pub photos: Vec<Vec<StreamFigures>>,
    /// The shutter of each photo.
    pub shutters: Vec<Vec<Option<ShutterJudged>>>,
    /// Figures of each touch.
    pub touches: Vec<StreamFigures>,
    /// How many touches from the first on are the surface's.
    pub surface: usize,
    /// Those together.
    pub pooled: StreamFigures,
    /// Change from touch to touch.
    pub trend: Option<Trend>,
}

/// Photos of a coupon, with those of untreated stock if there are any, and what they say.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotographedSparks {
    /// The coupon.
    pub coupon: PhotoPiece,
    /// The stock.
    pub untreated: Option<PhotoPiece>,
    /// What it comes to.
    pub says: Photographed,
    /// Millimetres of a pixel of the first photo.
    pub mm_per_px: Option<Interval<f64>>,
    /// What to know.
    pub notes: Vec<PhotoNote>,
}

/// Puts photos together. `None`: there is none of the coupon.
pub fn pool_photos(
    mut coupon: Series,
    mut stock: Series,
    conditions: &PhotoConditions,
    reading: &PhotoReading,
) -> Option<PhotographedSparks> {
    let mut notes = Vec::new();
    for series in [&mut coupon, &mut stock] {
        notes.extend(series.drop_copies().into_iter().map(|(photo, of)| PhotoNote::Copy { photo, of }));
    }
    notes.extend(Series::align(&mut coupon, &mut stock));
    let rim = conditions
        .wheel
        .filter(|_| conditions.mm_per_px.is_none())
        .map(|wheel| (wheel, rim(&coupon, &stock)));
    let by_rim = rim.and_then(|(wheel, rim)| over(&Interval::exact(wheel.millimetres()), &rim?));
    if rim.is_some() && by_rim.is_none() {
        notes.push(PhotoNote::RimUnseen);
    }
    let conditions = &PhotoConditions { mm_per_px: conditions.mm_per_px.or(by_rim), ..*conditions };
    // untreated stock is the same at any depth
    let untreated = PhotoPiece::of(stock, reading, conditions, |_| None);
    let rate = untreated.as_ref().and_then(|s| s.pooled.bursts_per_px);
    let inward = coupon.inward;
    let trend = |touches: &[StreamFigures]| Trend::of(touches, rate.as_ref(), reading).filter(|_| inward);
    let coupon = PhotoPiece::of(coupon, reading, conditions, trend)?;
    let contrast = if let Some(stock) = &untreated {
        SparkContrast::of(&coupon.pooled, &stock.pooled, reading, &mut notes)
    } else {
        notes.push(PhotoNote::NoStock);
        SparkContrast::default()
    };
    notes.extend(coupon.notes(conditions));
    if std::iter::once(&coupon).chain(&untreated).any(|piece| piece.pooled.stream_length.is_none()) {
        notes.push(PhotoNote::StreamLeavesPicture);
    }
    let shown = &coupon.pooled;
    let says = Photographed {
        contrast,
        over_time: coupon.trend.as_ref().and_then(|t| t.over_time),
        figures: Some(Box::new(shown.clone())),
        stock_figures: untreated.as_ref().map(|stock| Box::new(stock.pooled.clone())),
    };
    Some(PhotographedSparks { coupon, untreated, says, mm_per_px: conditions.mm_per_px, notes })
}

/// Diameter of the wheel's rim over all photos that show it, in common pixels.
fn rim(coupon: &Series, stock: &Series) -> Option<Interval<f64>> {
    let all: Vec<&[Frame]> = coupon.touches.iter().chain(&stock.touches).map(Vec::as_slice).collect();
    pooled(&all, Scale::Ratio, 0.0, |f| scaled(f.rim.as_ref()?, f.unit))
}

impl PhotoPiece {
    /// `trend` gives the change from touch to touch, if it is one of depth.
    fn of(
        series: Series,
        reading: &PhotoReading,
        conditions: &PhotoConditions,
        trend: impl Fn(&[StreamFigures]) -> Option<Trend>,
    ) -> Option<Self> {
        let alone = |frames: &[Frame]| StreamFigures::of(&[frames], reading, 0.0);
        let photos: Vec<Vec<StreamFigures>> = series
            .touches
            .iter()
            .map(|touch| touch.iter().map(|frame| alone(std::slice::from_ref(frame))).collect())
            .collect();
        let touches: Vec<StreamFigures> = series.touches.iter().map(|touch| alone(touch)).collect();
        let shutters = series.touches.iter().zip(&photos).map(|(touch, figures)| {
            let judge = |(f, figures)| {
                shutter::judge(f, figures, conditions.mm_per_px.as_ref(), conditions.speed, reading)
            };
            touch.iter().zip(figures).map(judge).collect()
        });
        let shutters = shutters.collect();
        let trend = trend(&touches);
        let inward = |trend| conditions.surface_touches(touches.len(), trend, reading);
        let surface = trend.as_ref().map_or(touches.len(), inward);
        let first: Vec<&[Frame]> = series.touches.iter().take(surface).map(Vec::as_slice).collect();
        if first.is_empty() {
            return None;
        }
        let pooled = StreamFigures::of(&first, reading, reading.touch_spread.value);
        Some(Self { series, photos, shutters, touches, surface, pooled, trend })
    }

    fn notes(&self, conditions: &PhotoConditions) -> Vec<PhotoNote> {
        let judged = |is: fn(&ShutterJudged) -> bool| {
            self.shutters.iter().flatten().flatten().filter(|judged| is(judged)).count()
        };
        let (short, long) = (judged(|j| j.too_short), judged(|j| j.too_long));
        let (used, of) = (self.surface, self.touches.len());
        let figures = &self.pooled;
        let notes = [
            (used < of, PhotoNote::SurfaceTouches { used, of }),
            (short > 0, PhotoNote::ShutterTooShort { photos: short }),
            (long > 0, PhotoNote::ShutterTooLong { photos: long }),
            (figures.share_in_flight.is_none(), PhotoNote::FlightUnknown),
            (conditions.mm_per_px.is_none(), PhotoNote::NoScale),
            (figures.light.iter().any(|l| !l.corrected), PhotoNote::BrightnessUncorrected),
        ];
        notes.into_iter().filter(|(holds, _)| *holds).map(|(_, note)| note).collect()
    }
}

impl PhotoConditions {
    /// How many of `touches` show the surface: by the depth ground off, each touch taking as much, or else those that
    /// show what the first does. The first always does.
    fn surface_touches(&self, touches: usize, trend: &Trend, reading: &PhotoReading) -> usize {
        match (self.ground, self.surface) {
            (Some(ground), Some(surface)) => {
                let each = ground.millimetres() / touches.max(1) as f64;
                let within = if each > 0.0 { (surface.millimetres() / each) as usize } else { touches };
                within.clamp(touches.min(1), touches)
            }
            _ => trend.like_the_first(reading),
        }
    }
}
