use super::super::blur::boxed;
use crate::photo::Plane;

/// A connected patch of a small picture.
pub(super) struct Patch {
    /// 1 on it, 0 elsewhere.
    pub(super) mask: Plane,
    pub(super) area: usize,
    /// Share of its outline's pixels that lie on the frame.
    pub(super) on_frame: f64,
}

/// Every patch of a mask with more than `least` pixels, without holes.
pub(super) fn patches(mask: &Plane, least: usize) -> Vec<Patch> {
    let (w, h) = (mask.width, mask.height);
    let mut seen = vec![false; w * h];
    let mut out = Vec::new();
    for start in 0..w * h {
        if seen[start] || mask.values[start] == 0.0 {
            continue;
        }
        let members = flood(w, h, start, &mut seen, |i| mask.values[i] != 0.0);
        if members.len() < least {
            continue;
        }
        let mut own = Plane::new(w, h);
        for &i in &members {
            own.values[i] = 1.0;
        }
        fill(&mut own);
        out.push(Patch::of(own));
    }
    out
}

impl Patch {
    pub(super) fn of(mask: Plane) -> Self {
        let (w, h) = (mask.width, mask.height);
        let (mut n, mut frame, mut rim) = (0_usize, 0.0, 0.0);
        for y in 0..h {
            for x in 0..w {
                if mask.values[y * w + x] == 0.0 {
                    continue;
                }
                n += 1;
                let at_frame = x == 0 || y == 0 || x + 1 == w || y + 1 == h;
                let open = |x: usize, y: usize| mask.values[y * w + x] == 0.0;
                if at_frame {
                    frame += 1.0;
                    rim += 1.0;
                } else if open(x - 1, y) || open(x + 1, y) || open(x, y - 1) || open(x, y + 1) {
                    rim += 1.0;
                }
            }
        }
        Self { mask, area: n, on_frame: frame / f64::max(rim, 1.0) }
    }
}

/// Fills what the frame cannot reach.
fn fill(mask: &mut Plane) {
    let (w, h) = (mask.width, mask.height);
    let mut outside = vec![false; w * h];
    let edge = (0..w).flat_map(|x| [x, (h - 1) * w + x]).chain((0..h).flat_map(|y| [y * w, y * w + w - 1]));
    for start in edge {
        if !outside[start] && mask.values[start] == 0.0 {
            flood(w, h, start, &mut outside, |i| mask.values[i] == 0.0);
        }
    }
    for (v, out) in mask.values.iter_mut().zip(&outside) {
        *v = f32::from(u8::from(!out));
    }
}

fn flood(w: usize, h: usize, start: usize, seen: &mut [bool], on: impl Fn(usize) -> bool) -> Vec<usize> {
    let mut members = vec![start];
    seen[start] = true;
    let mut at = 0;
    while at < members.len() {
        let i = members[at];
        at += 1;
        let (x, y) = (i % w, i / w);
        let mut go = |j: usize| {
            if !seen[j] && on(j) {
                seen[j] = true;
                members.push(j);
            }
        };
        if x > 0 {
            go(i - 1);
        }
        if x + 1 < w {
            go(i + 1);
        }
        if y > 0 {
            go(i - w);
        }
        if y + 1 < h {
            go(i + w);
        }
    }
    members
}

/// Thin necks and hairs taken away, corners rounded by no more than `radius`.
pub(super) fn opened(mask: &Plane, radius: usize) -> Plane {
    let thin = thresholded(&boxed(mask, radius), 0.999);
    let mut wide = thresholded(&boxed(&thin, radius), 0.001);
    for (v, m) in wide.values.iter_mut().zip(&mask.values) {
        *v *= m;
    }
    wide
}

/// 1 where the plane is above, 0 elsewhere.
pub(super) fn thresholded(plane: &Plane, at: f32) -> Plane {
    let values = plane.values.iter().map(|v| f32::from(u8::from(*v > at))).collect();
    Plane { width: plane.width, height: plane.height, values }
}
