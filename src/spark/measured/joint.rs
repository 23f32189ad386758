use super::certainty::logistic;
use super::fit::{End, Frame, Parabola, distance};
use super::piece::Piece;
use super::scene::Scene;
use super::stream_photo::Spot;

/// Always bridged if direction and place fit, px.
pub(super) const NEAR: f64 = 2.5;
/// Farthest jump where light goes on, px, and over the length of both pieces.
pub(super) const FAR: f64 = 120.0;
const FAR_SHARE: f64 = 2.0;
/// Shortest piece that says where it goes so far off, px.
const LONG: f64 = 4.0;
/// Points from either end that tell whether both follow one parabola.
const POINTS: usize = 60;
/// How far ends may lie side by side, px.
const OVERLAP: f64 = 2.5;
/// How far lines lie beside each other's course, px, one standard deviation, before their directions' own doubt.
const BESIDE: f64 = 0.8;
/// How much a course turns from piece to piece, radians, one standard deviation.
const TURN: f64 = 0.06;
/// Most that a direction's doubt counts, radians: past that, nearness must decide.
const DOUBT: f64 = 0.15;
/// Ends face each other, as the cosine of the angle between them.
const FACING: f64 = -0.7;
/// Largest misfit of a joint, in standard deviations.
const MISFIT: f64 = 3.0;
/// Largest factor between the strengths of joined pieces.
const STRENGTH: f64 = 6.0;
/// Between two ends light goes on if it is this share of the fainter end's, as roots.
const LIT: f64 = 0.35;
/// The light of a line is read so far before its end, px: at the better of two places.
const BEFORE: [f64; 2] = [3.0, 6.0];
/// Least light, as roots, that the fainter of two ends is held against.
const FAINT: f64 = 0.001;
/// Weights of what two ends show, in the order of `far`: gap, distance from one parabola, shorter length, difference of
/// light (logarithms), share of the gap that is lit, its darkest tenth, misfit.
const JOINT: [f64; 7] = [-0.703, -2.684, 0.306, -1.270, 0.597, 0.442, -0.132];
const JOINT_CONSTANT: f64 = -1.313;
/// Two pieces are one line if that is more likely than not.
const LIKELY: f64 = 0.42;

/// An end of a piece with what is known of the piece.
pub(super) struct Tip<'a> {
    piece: &'a Piece,
    last: bool,
    pub(super) end: End,
    length: f64,
    strength: f64,
}

impl<'a> Tip<'a> {
    /// Its first and its last end.
    pub(super) fn both(piece: &'a Piece) -> [Self; 2] {
        let (length, strength) = (piece.length(), piece.mean_strength());
        [false, true].map(|last| Tip { piece, last, end: piece.end(last), length, strength })
    }

    /// The points near it.
    fn points(&self) -> &[Spot] {
        let all = &self.piece.points;
        let count = all.len().min(POINTS);
        if self.last { &all[all.len() - count..] } else { &all[..count] }
    }

    /// Light of the line a little before the end, as roots.
    fn light(&self, scene: &Scene) -> f64 {
        let End { at, out, .. } = self.end;
        let before = |r: f64| scene.above(at[0] - r * out[0], at[1] - r * out[1]);
        before(BEFORE[0]).max(before(BEFORE[1])).max(FAINT)
    }
}

/// How badly two ends fit together over a small gap.
pub(super) fn near(p: &Tip<'_>, q: &Tip<'_>, _: &Scene) -> Option<f64> {
    let r = distance(p.end.at, q.end.at);
    let ratio = (p.strength / q.strength).ln().abs();
    if r > NEAR || ratio > STRENGTH.ln() {
        return None;
    }
    Some(misfit(&p.end, &q.end)? + 0.1 * r + ratio)
}

/// How unlikely it is that two pieces are one line with a wide gap: a logistic regression of pairs of pieces of one
/// carrier against pairs of others (19,000 pairs of 95 development pictures drawn by three makers).
pub(super) fn far(p: &Tip<'_>, q: &Tip<'_>, scene: &Scene) -> Option<f64> {
    let r = distance(p.end.at, q.end.at);
    let short = p.length.min(q.length);
    if short < LONG || r > FAR || r > FAR_SHARE * (p.length + q.length) {
        return None;
    }
    let misfit = misfit(&p.end, &q.end)?;
    let (own, other) = (p.light(scene), q.light(scene));
    let light = light_between(p.end.at, q.end.at, scene);
    let least = own.min(other);
    let features = [
        (r + 1.0).ln(),
        (off_one_parabola(p, q) + 0.2).ln(),
        short.ln(),
        (own / other).ln().abs(),
        light.iter().filter(|l| **l >= LIT * least).count() as f64 / light.len() as f64,
        (light[light.len() / 10] / least).clamp(-1.0, 3.0),
        misfit,
    ];
    let chance = logistic(JOINT_CONSTANT, &JOINT, &features);
    (chance >= LIKELY).then(|| -chance.ln())
}

/// How far two ends point past each other, in standard deviations; `None`: too far.
fn misfit(a: &End, b: &End) -> Option<f64> {
    let gap = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
    let r = gap[0].hypot(gap[1]);
    let facing = a.out[0] * b.out[0] + a.out[1] * b.out[1];
    let ahead = gap[0] * a.out[0] + gap[1] * a.out[1];
    let behind = -(gap[0] * b.out[0] + gap[1] * b.out[1]);
    if facing > FACING || ahead < -OVERLAP || behind < -OVERLAP {
        return None;
    }
    let beside = |end: &End| {
        let across = (gap[0] * end.out[1] - gap[1] * end.out[0]).abs();
        (across / (BESIDE + (end.angle_sd.min(DOUBT) + 0.5 * TURN) * r)).powi(2)
    };
    let turn = std::f64::consts::PI - facing.clamp(-1.0, 1.0).acos();
    let turn_sd = (TURN.powi(2) + a.angle_sd.powi(2) + b.angle_sd.powi(2)).sqrt();
    let misfit = (beside(a) + beside(b) + (turn / turn_sd).powi(2)).sqrt();
    (misfit <= MISFIT).then_some(misfit)
}

/// Light along the straight way, the brightest within a pixel of it, as roots, darkest first.
fn light_between(from: Spot, to: Spot, scene: &Scene) -> Vec<f64> {
    let gap = [to[0] - from[0], to[1] - from[1]];
    let r = gap[0].hypot(gap[1]).max(1e-9);
    let steps = (r.ceil() as usize).max(2);
    let light = |k: usize| {
        let t = k as f64 / steps as f64;
        let at =
            |off: f64| [from[0] + t * gap[0] - off * gap[1] / r, from[1] + t * gap[1] + off * gap[0] / r];
        [-1.0, 0.0, 1.0].map(at).iter().map(|p| scene.above(p[0], p[1])).fold(f64::NEG_INFINITY, f64::max)
    };
    let mut light: Vec<f64> = (1..steps).map(light).collect();
    light.sort_by(f64::total_cmp);
    light
}

/// Root mean square distance of the points near both ends from one parabola, of the piece that lies farther off, px.
fn off_one_parabola(p: &Tip<'_>, q: &Tip<'_>) -> f64 {
    let all: Vec<Spot> = p.points().iter().chain(q.points()).copied().collect();
    let frame = Frame::of(&all);
    let local: Vec<[f64; 2]> = all.iter().map(|p| frame.local(*p)).collect();
    let fit = Parabola::fitted(&local, true);
    let (own, others) = local.split_at(p.points().len());
    let square = |points: &[[f64; 2]]| {
        points.iter().map(|p| (p[1] - fit.value(p[0])).powi(2)).sum::<f64>() / points.len().max(1) as f64
    };
    square(own).max(square(others)).sqrt()
}
