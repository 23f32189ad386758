use super::shape::{Shape, cross};

/// Four lines along the outline of a mask.
pub(in crate::fracture::measured) fn quadrangle(points: &[[f64; 2]]) -> Option<Shape> {
    let hull = hull(points);
    let mut corners = largest(&hull)?;
    for _ in 0..8 {
        let mut lines = [None; 4];
        for side in 0..4 {
            let (a, b) = (corners[side], corners[(side + 1) % 4]);
            lines[side] = line(points, a, b);
        }
        let mut next = corners;
        for side in 0..4 {
            next[(side + 1) % 4] = meet(lines[side]?, lines[(side + 1) % 4]?)?;
        }
        corners = next;
    }
    Some(Shape::Four(corners))
}

/// Convex hull, clockwise as seen (Andrew's monotone chain).
pub(in crate::fracture::measured) fn hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup();
    let half = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while chain.len() >= 2 && cross(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0.0 {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut chain = half(&mut sorted.iter().copied());
    chain.extend(half(&mut sorted.iter().rev().copied()));
    chain
}

/// The largest quadrangle with corners on a convex hull: for each diagonal the farthest point on either side.
fn largest(hull: &[[f64; 2]]) -> Option<[[f64; 2]; 4]> {
    let step = (hull.len() / 80).max(1);
    let hull: Vec<[f64; 2]> = hull.iter().copied().step_by(step).collect();
    let mut best: Option<(f64, [[f64; 2]; 4])> = None;
    for i in 0..hull.len() {
        for k in i + 2..hull.len() {
            let (a, c) = (hull[i], hull[k]);
            let far = |range: &mut dyn Iterator<Item = usize>| {
                range.map(|j| (cross(a, c, hull[j]).abs(), j)).max_by(|x, y| x.0.total_cmp(&y.0))
            };
            let b = far(&mut (i + 1..k));
            let d = far(&mut (k + 1..hull.len()).chain(0..i));
            if let (Some((x, b)), Some((y, d))) = (b, d)
                && best.is_none_or(|(area, _)| x + y > area)
            {
                best = Some((x + y, [a, hull[b], c, hull[d]]));
            }
        }
    }
    best.map(|(_, c)| c)
}

/// A line by the points near the middle part of a side: least absolute distances, by weights.
fn line(points: &[[f64; 2]], a: [f64; 2], b: [f64; 2]) -> Option<([f64; 2], [f64; 2])> {
    let length = libm::hypot(b[0] - a[0], b[1] - a[1]);
    if length.is_nan() || length <= 4.0 {
        return None;
    }
    let (ux, uy) = ((b[0] - a[0]) / length, (b[1] - a[1]) / length);
    // along the side and away from it
    let near: Vec<[f64; 2]> = points
        .iter()
        .map(|p| {
            let d = [p[0] - a[0], p[1] - a[1]];
            [d[0] * ux + d[1] * uy, d[1] * ux - d[0] * uy]
        })
        .filter(|[s, d]| *s > 0.08 * length && *s < 0.92 * length && d.abs() < 0.12 * length)
        .collect();
    if near.len() < 6 {
        return None;
    }
    let (mut slope, mut at) = (0.0, 0.0);
    for _ in 0..12 {
        let (mut w0, mut ws, mut wd, mut wss, mut wsd) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for [s, d] in &near {
            let off: f64 = d - at - slope * s;
            let w = 1.0 / (off.abs() + 0.3);
            w0 += w;
            ws += w * s;
            wd += w * d;
            wss += w * s * s;
            wsd += w * s * d;
        }
        let det = w0 * wss - ws * ws;
        if det.is_nan() || det <= 0.0 {
            return None;
        }
        slope = (w0 * wsd - ws * wd) / det;
        at = (wd - slope * ws) / w0;
    }
    let on = |s: f64| {
        let d = at + slope * s;
        [a[0] + s * ux - d * uy, a[1] + s * uy + d * ux]
    };
    Some((on(0.0), on(length)))
}

/// Where two lines meet.
pub(in crate::fracture::measured) fn meet(
    (a, b): ([f64; 2], [f64; 2]),
    (c, d): ([f64; 2], [f64; 2]),
) -> Option<[f64; 2]> {
    let (r, s) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]]);
    let det = r[0] * s[1] - r[1] * s[0];
    if det.abs() < 1e-9 {
        return None;
    }
    let t = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / det;
    Some([a[0] + t * r[0], a[1] + t * r[1]])
}
