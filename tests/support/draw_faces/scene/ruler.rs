//! A ruler that lies in the plane of the face.

use crate::support::draw_faces::noise::Noise;
use crate::support::draw_faces::section::Mm;

/// A strip with a line for each millimetre along one edge.
#[derive(Clone, Debug)]
pub(crate) struct Ruler {
    /// A point of that edge, mm, and the direction of the edge, rad; the strip lies on its right.
    pub(crate) at: Mm,
    pub(crate) turn: f64,
    /// mm
    pub(crate) wide: f64,
    /// The number at `at` is this many millimetres.
    pub(crate) start: f64,
    /// Of the strip and of its lines.
    pub(crate) tones: [f32; 2],
    pub(crate) colour: [f32; 3],
    /// Width of a line, mm.
    pub(crate) line: f64,
    /// A line for each half millimetre too.
    pub(crate) halves: bool,
    pub(crate) seed: u32,
}

/// Digits as five rows of three dots each.
const DIGITS: [u16; 10] = [
    0b111_101_101_101_111,
    0b010_110_010_010_111,
    0b111_001_111_100_111,
    0b111_001_111_001_111,
    0b101_101_111_001_001,
    0b111_100_111_001_111,
    0b111_100_111_101_111,
    0b111_001_010_010_010,
    0b111_101_111_101_111,
    0b111_101_111_001_111,
];
/// Size of a digit's dot, mm.
const DOT_MM: f64 = 0.32;

impl Ruler {
    /// Reflectance at a point of the face's plane, and how much of it covers a dot of that size, mm.
    pub(crate) fn at(&self, p: Mm, dot: f64) -> Option<([f32; 3], f32)> {
        let (sin, cos) = self.turn.sin_cos();
        let from = [p[0] - self.at[0], p[1] - self.at[1]];
        let (along, down) = (from[0] * cos + from[1] * sin + self.start, from[1] * cos - from[0] * sin);
        let soft = |d: f64| (0.5 - d / dot).clamp(0.0, 1.0);
        let cover = soft(-down) * soft(down - self.wide);
        if cover <= 0.0 {
            return None;
        }
        let step = if self.halves { 0.5 } else { 1.0 };
        let nearest = (along / step).round() * step;
        let number = nearest.round() as i64;
        let tall = if (nearest - nearest.round()).abs() > 0.1 {
            1.6
        } else if number % 10 == 0 {
            4.2
        } else if number % 5 == 0 {
            3.4
        } else {
            2.4
        };
        let line = soft((along - nearest).abs() - self.line / 2.0) * soft(down - tall) * soft(0.15 - down);
        let ink = line.max(digit(along, down, dot)) as f32;
        let (x, y) = (p[0] as f32, p[1] as f32);
        let worn = Noise(self.seed).octaves(x / 4.0, y / 4.0, 0.6, 0.05);
        let brushed = Noise(self.seed ^ 1).octaves(along as f32 / 6.0, down as f32 / 0.08, 0.7, 0.1);
        let ink = ink * (0.95 + 0.5 * worn.min(0.0));
        let tone = self.tones[0] * (1.0 + 0.06 * worn + 0.08 * brushed);
        let tone = tone + ink * (self.tones[1] - tone);
        Some((self.colour.map(|c| c * tone), cover as f32))
    }
}

/// Ink of the numbers below each tenth line, 0..1.
fn digit(along: f64, down: f64, dot: f64) -> f64 {
    let ten = (along / 10.0).round() as i64;
    let number = (ten.unsigned_abs() * 10).to_string();
    let wide = 4.0 * DOT_MM;
    let from = along - 10.0 * ten as f64 + wide * number.len() as f64 / 2.0;
    let row = (down - 4.8) / DOT_MM;
    if from < 0.0 || !(0.0..5.0).contains(&row) {
        return 0.0;
    }
    let (place, column) = ((from / wide) as usize, from % wide / DOT_MM);
    let Some(digit) = number.as_bytes().get(place).map(|b| usize::from(b - b'0')) else { return 0.0 };
    // smooth between the dots
    let bit = |c: i64, r: i64| {
        let inside = (0..3).contains(&c) && (0..5).contains(&r);
        f64::from(u8::from(inside && DIGITS[digit] >> (14 - (3 * r + c)) & 1 == 1))
    };
    let (c, r) = (column - 0.5, row - 0.5);
    let (c0, r0) = (c.floor(), r.floor());
    let (s, t) = (c - c0, r - r0);
    let (c0, r0) = (c0 as i64, r0 as i64);
    let top = bit(c0, r0) * (1.0 - s) + bit(c0 + 1, r0) * s;
    let low = bit(c0, r0 + 1) * (1.0 - s) + bit(c0 + 1, r0 + 1) * s;
    let ink = top * (1.0 - t) + low * t;
    let sharp = (DOT_MM / dot).clamp(1.0, 6.0);
    (0.5 + sharp * (ink - 0.5)).clamp(0.0, 1.0)
}
