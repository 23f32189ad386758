//! One-to-one matches, best first.

/// Takes candidates (value, left, right) in falling order of value, each side once.
pub(crate) fn one_to_one(mut candidates: Vec<(f64, usize, usize)>) -> Vec<(usize, usize)> {
    candidates.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut matches: Vec<(usize, usize)> = Vec::new();
    for (_, left, right) in candidates {
        if !matches.iter().any(|m| m.0 == left || m.1 == right) {
            matches.push((left, right));
        }
    }
    matches
}

/// A path as points at most `step` px apart.
pub(crate) fn fine(path: &[[f64; 2]], step: f64) -> Vec<[f64; 2]> {
    let mut points: Vec<[f64; 2]> = path.first().copied().into_iter().collect();
    for pair in path.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let parts = ((b[0] - a[0]).hypot(b[1] - a[1]) / step).ceil().max(1.0);
        for i in 1..=parts as usize {
            let s = i as f64 / parts;
            points.push([a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])]);
        }
    }
    points
}

pub(crate) fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Share of `points` that lie within `reach` of `others`.
pub(crate) fn share_near(points: &[[f64; 2]], others: &[[f64; 2]], reach: f64) -> f64 {
    let near = |p: &&[f64; 2]| others.iter().any(|q| distance(**p, *q) <= reach);
    points.iter().filter(near).count() as f64 / points.len().max(1) as f64
}

/// The box round some points, widened.
pub(crate) fn bounds(points: &[[f64; 2]], by: f64) -> [f64; 4] {
    points.iter().fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, p| {
        [b[0].min(p[0] - by), b[1].min(p[1] - by), b[2].max(p[0] + by), b[3].max(p[1] + by)]
    })
}

pub(crate) fn meet(a: [f64; 4], b: [f64; 4]) -> bool {
    a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3]
}

/// Where two paths cross.
pub(crate) fn crossings(a: &[[f64; 2]], b: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut at = Vec::new();
    for p in a.windows(2) {
        for q in b.windows(2) {
            at.extend(crossing([p[0], p[1]], [q[0], q[1]]));
        }
    }
    at
}

fn crossing([a, b]: [[f64; 2]; 2], [c, d]: [[f64; 2]; 2]) -> Option<[f64; 2]> {
    let (u, v, w) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]], [c[0] - a[0], c[1] - a[1]]);
    let cross = u[0] * v[1] - u[1] * v[0];
    if cross.abs() < 1e-12 {
        return None;
    }
    let s = (w[0] * v[1] - w[1] * v[0]) / cross;
    let t = (w[0] * u[1] - w[1] * u[0]) / cross;
    let inside = |x: f64| (0.0..=1.0).contains(&x);
    (inside(s) && inside(t)).then(|| [a[0] + s * u[0], a[1] + s * u[1]])
}
