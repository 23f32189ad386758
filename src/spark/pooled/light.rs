use super::measures::{Scale, pooled};
use super::tally::Touches;
use super::{Frame, PhotoReading};
use crate::spark::LightAt;
use crate::units::Interval;

/// Stretches that the stream is cut into.
const STRETCHES: usize = 5;
/// From this share of light at the sensor's limit on, a photo says nothing of brightness.
const BLOWN: f64 = 0.5;

/// Light of the carriers at one stretch of the stream.
#[derive(Debug, Clone, PartialEq)]
pub struct LightFigure {
    /// Middle of the stretch, share of the stream's length from the contact.
    pub along: f64,
    /// Brightness above the background, linear light; for ISO 100 at f/1 where `corrected`, else of the sensor's limit.
    pub brightness: Interval<f64>,
    /// Whether sensitivity and aperture were taken out.
    pub corrected: bool,
    /// Red over green, linear light.
    pub red_over_green: Option<Interval<f64>>,
    /// Blue over green, linear light.
    pub blue_over_green: Option<Interval<f64>>,
}

/// Light along the stream, pooled stretch by stretch.
pub(super) fn light(touches: Touches<'_>, reading: &PhotoReading) -> Vec<LightFigure> {
    let corrected = touches.iter().copied().flatten().all(|f| gain(f).is_some());
    let off = reading.brightness.value;
    let stretch = |i: usize| {
        let of = |value: fn(&LightAt) -> Option<f64>, frame: &Frame| {
            let inside =
                |l: &&LightAt| (l.along * STRETCHES as f64).clamp(0.0, STRETCHES as f64 - 0.5) as usize == i;
            let values: Vec<f64> = frame.photo.light.iter().filter(inside).filter_map(value).collect();
            let usable = !values.is_empty() && values.iter().all(|v| *v > 0.0);
            usable.then(|| (values.iter().map(|v| v.ln()).sum::<f64>() / values.len() as f64).exp())
        };
        let with = |value: fn(&LightAt) -> Option<f64>, scale: &dyn Fn(&Frame) -> Option<f64>| {
            pooled(touches, Scale::Ratio, 0.0, |frame| {
                let best = of(value, frame)? / scale(frame)?;
                Interval::new(best / off, best, best * off)
            })
        };
        let exposure = |frame: &Frame| {
            let gain = if corrected { gain(frame) } else { Some(1.0) };
            gain.filter(|_| frame.photo.clipped < BLOWN)
        };
        Some(LightFigure {
            along: (i as f64 + 0.5) / STRETCHES as f64,
            brightness: with(|l| Some(l.brightness), &exposure)?,
            corrected,
            red_over_green: with(|l| l.red_over_green, &|_| Some(1.0)),
            blue_over_green: with(|l| l.blue_over_green, &|_| Some(1.0)),
        })
    };
    (0..STRETCHES).filter_map(stretch).collect()
}

/// How much brighter a moving spark is recorded than at ISO 100 and f/1. The shutter's time is not in it: a spark is
/// over a pixel for as long as it takes to pass, however long the shutter stays open.
fn gain(frame: &Frame) -> Option<f64> {
    let exposed = &frame.photo.exposed;
    let gain = exposed.iso? / 100.0 / exposed.f_number?.powi(2);
    (gain.is_finite() && gain > 0.0).then_some(gain)
}
