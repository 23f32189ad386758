//! Lights as the sensor records them: each spark's own streak, drawn sparsely, and the sum of all.

use super::camera::{Camera, Seen};
use super::frame::{Frame, LIGHT};
use super::physics::{Moment, Spark};

/// One point of a recorded streak, about every pixel of its path.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Point {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) inside: bool,
    /// Its own light there, by channel, before the sensor clips.
    pub(crate) own: [f32; 3],
}

/// A recorded streak.
pub(crate) struct Streak {
    pub(crate) points: Vec<Point>,
}

/// Draws streaks into the sum of their light.
pub(crate) struct Recorder<'a> {
    pub(crate) camera: &'a Camera,
    /// s
    pub(crate) shutter: f64,
    /// Recorded light (sensor scale times px) per particle light and second.
    pub(crate) gain: f64,
    /// 1 where nothing stands in front of the stream.
    pub(crate) open: &'a [f32],
    pub(crate) sum: Frame,
    own: Frame,
    touched: Vec<usize>,
}

/// A round spot: weights in x and y.
struct Spot {
    left: usize,
    top: usize,
    wx: Vec<f32>,
    wy: Vec<f32>,
}

impl<'a> Recorder<'a> {
    pub(crate) fn new(camera: &'a Camera, shutter: f64, gain: f64, open: &'a [f32]) -> Self {
        let empty = || Frame::new(camera.width, camera.height, [0.0; 3]);
        Self { camera, shutter, gain, open, sum: empty(), own: empty(), touched: Vec::new() }
    }

    /// Adds a spark's light to the sum and gives its streak; none if nothing of it was recorded.
    pub(crate) fn record(&mut self, spark: &Spark) -> Option<Streak> {
        let mut path: Vec<(f64, f64, [f32; 3])> = Vec::new();
        for pair in spark.flight.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let (from, to) = (a.t.max(0.0), b.t.min(self.shutter));
            if from >= to {
                continue;
            }
            let (Some(p), Some(q)) = (self.seen(&a, &b, from), self.seen(&a, &b, to)) else { break };
            self.stretch(spark, (&a, &b), (from, to), (p, q), &mut path);
        }
        let points = self.points(&path);
        for i in self.touched.drain(..) {
            for (sum, own) in self.sum.planes.iter_mut().zip(&mut self.own.planes) {
                sum[i] += own[i];
                own[i] = 0.0;
            }
        }
        (points.len() > 1).then_some(Streak { points })
    }

    fn seen(&self, a: &Moment, b: &Moment, t: f64) -> Option<Seen> {
        let s = (t - a.t) / (b.t - a.t);
        self.camera.see([0, 1, 2].map(|k| a.at[k] + s * (b.at[k] - a.at[k])), t)
    }

    /// The light between two moments as a row of spots.
    fn stretch(
        &mut self,
        spark: &Spark,
        (a, b): (&Moment, &Moment),
        (from, to): (f64, f64),
        (p, q): (Seen, Seen),
        path: &mut Vec<(f64, f64, [f32; 3])>,
    ) {
        let run = (q.x - p.x).hypot(q.y - p.y);
        let sigma = 0.5 * (p.sigma + q.sigma);
        let spots = (run / (0.55 * sigma).min(1.0)).ceil().clamp(1.0, 200.0);
        let [depth, hertz, phase] = spark.flicker;
        for i in 0..spots as usize {
            let s = (i as f64 + 0.5) / spots;
            let t = from + s * (to - from);
            // a turning drop with a bright and a dull side: squarer than a sine
            let wave = (3.0 * (std::f64::consts::TAU * hertz * t + phase).sin()).tanh();
            let lit = 1.0 - depth * 0.5 * (1.0 - wave);
            let share = (t - a.t) / (b.t - a.t);
            let nearer = p.nearer + s * (q.nearer - p.nearer);
            let scale = self.gain * nearer * lit * (to - from) / spots;
            let light = [0, 1, 2].map(|k| ((a.power[k] + share * (b.power[k] - a.power[k])) * scale) as f32);
            let (x, y) = (p.x + s * (q.x - p.x), p.y + s * (q.y - p.y));
            self.spot(x, y, sigma, light);
            // peak of a line: its light per px over sigma sqrt(2 pi)
            let line = spots / run.max(1e-6) / (sigma * std::f64::consts::TAU.sqrt());
            let peak = light.map(|l| (f64::from(l) * line.min(1.0 / sigma)) as f32);
            path.push((x, y, peak));
        }
    }

    fn spot(&mut self, x: f64, y: f64, sigma: f64, light: [f32; 3]) {
        let reach = 3.2 * sigma + 0.5;
        let (w, h) = (self.camera.width, self.camera.height);
        let Some(spot) = Spot::new(x, y, reach, sigma, (w, h)) else { return };
        for (j, wy) in spot.wy.iter().enumerate() {
            let row = (spot.top + j) * w + spot.left;
            for (i, wx) in spot.wx.iter().enumerate() {
                let at = row + i;
                let weight = wx * wy * self.open[at];
                if self.own.planes[1][at] == 0.0 {
                    self.touched.push(at);
                }
                for (plane, l) in self.own.planes.iter_mut().zip(light) {
                    // never exactly 0 again, so that it is listed once
                    plane[at] += weight * l + f32::MIN_POSITIVE;
                }
            }
        }
    }

    /// Points about a pixel apart with the streak's own light: read off the drawn light inside the frame,
    /// by the profile of a straight line outside.
    fn points(&self, path: &[(f64, f64, [f32; 3])]) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        for (x, y, peak) in path {
            let far = points.last().is_none_or(|p| (p.x - x).hypot(p.y - y) >= 1.0);
            if far {
                let inside = self.camera.inside(*x, *y);
                let own = if inside { self.own.between(*x, *y) } else { *peak };
                points.push(Point { x: *x, y: *y, inside, own });
            }
        }
        points
    }
}

impl Spot {
    fn new(x: f64, y: f64, reach: f64, sigma: f64, (w, h): (usize, usize)) -> Option<Self> {
        let span = |at: f64, end: usize| {
            let low = (at - reach).floor().max(0.0);
            let high = (at + reach).ceil().min(end as f64);
            (low < high).then_some((low as usize, high as usize))
        };
        let ((left, right), (top, bottom)) = (span(x, w)?, span(y, h)?);
        let weights = |at: f64, low: usize, high: usize| {
            // the mean of a Gaussian over a pixel: its value with the pixel's variance, 1/12, added
            let wide = sigma * sigma + 1.0 / 12.0;
            let norm = 1.0 / (std::f64::consts::TAU * wide).sqrt();
            (low..high)
                .map(|i| ((-(i as f64 + 0.5 - at).powi(2) / (2.0 * wide)).exp() * norm) as f32)
                .collect()
        };
        Some(Self { left, top, wx: weights(x, left, right), wy: weights(y, top, bottom) })
    }
}

/// The mean light of a colour.
pub(crate) fn light(rgb: [f32; 3]) -> f32 {
    rgb.iter().zip(LIGHT).map(|(c, w)| c * w).sum()
}
