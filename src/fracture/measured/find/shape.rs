use crate::photo::Plane;

/// A quadrangle (corners clockwise as seen, from the top left) or an ellipse, px.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::fracture::measured) enum Shape {
    Four([[f64; 2]; 4]),
    /// Centre, half axes as vectors upright to each other.
    Round {
        centre: [f64; 2],
        axes: [[f64; 2]; 2],
    },
}

impl Shape {
    /// The same with every length `by` times as long.
    pub(in crate::fracture::measured) fn times(self, by: f64) -> Self {
        let grown = |p: [f64; 2]| p.map(|v| v * by);
        match self {
            Self::Four(corners) => Self::Four(corners.map(grown)),
            Self::Round { centre, axes } => Self::Round { centre: grown(centre), axes: axes.map(grown) },
        }
    }

    pub(in crate::fracture::measured) fn holds(&self, p: [f64; 2]) -> bool {
        match self {
            Self::Four(c) => (0..4).all(|i| cross(c[i], c[(i + 1) % 4], p) >= 0.0),
            Self::Round { centre, axes } => {
                let d = [p[0] - centre[0], p[1] - centre[1]];
                axes.iter()
                    .map(|a| {
                        let n = a[0] * a[0] + a[1] * a[1];
                        ((d[0] * a[0] + d[1] * a[1]) / n).powi(2)
                    })
                    .sum::<f64>()
                    <= 1.0
            }
        }
    }

    /// How far a point lies from the outline, px.
    pub(in crate::fracture::measured) fn off(&self, [x, y]: [f64; 2]) -> f64 {
        match self {
            Self::Four(c) => (0..4)
                .map(|i| {
                    let (a, b) = (c[i], c[(i + 1) % 4]);
                    let (ux, uy) = (b[0] - a[0], b[1] - a[1]);
                    let t =
                        (((x - a[0]) * ux + (y - a[1]) * uy) / (ux * ux + uy * uy).max(1e-9)).clamp(0.0, 1.0);
                    libm::hypot(x - a[0] - t * ux, y - a[1] - t * uy)
                })
                .fold(f64::INFINITY, f64::min),
            Self::Round { centre, axes } => {
                let d = [x - centre[0], y - centre[1]];
                let share = axes
                    .iter()
                    .map(|a| ((d[0] * a[0] + d[1] * a[1]) / (a[0] * a[0] + a[1] * a[1]).max(1e-9)).powi(2))
                    .sum::<f64>()
                    .sqrt();
                (share - 1.0).abs() * libm::hypot(d[0], d[1]) / share.max(1e-9)
            }
        }
    }

    /// The shorter axis of an ellipse over the longer one; 1 of a quadrangle, whose sides need not be equal.
    pub(in crate::fracture::measured) fn roundness(&self) -> f64 {
        match self {
            Self::Four(_) => 1.0,
            Self::Round { axes, .. } => {
                let [a, b] = axes.map(|a| libm::hypot(a[0], a[1]));
                a.min(b) / a.max(b).max(1e-9)
            }
        }
    }

    /// Its middle.
    pub(in crate::fracture::measured) fn centre(&self) -> [f64; 2] {
        match self {
            Self::Four(corners) => [0, 1].map(|k| corners.iter().map(|p| p[k]).sum::<f64>() / 4.0),
            Self::Round { centre, .. } => *centre,
        }
    }

    /// Whether neither lies over the middle of the other.
    pub(in crate::fracture::measured) fn apart(&self, other: &Self) -> bool {
        !self.holds(other.centre()) && !other.holds(self.centre())
    }

    /// Its area, px².
    pub(in crate::fracture::measured) fn area(&self) -> f64 {
        match self {
            Self::Four([a, b, c, d]) => 0.5 * (cross(*a, *b, *c).abs() + cross(*a, *c, *d).abs()),
            Self::Round { axes: [a, b], .. } => {
                std::f64::consts::PI * libm::hypot(a[0], a[1]) * libm::hypot(b[0], b[1])
            }
        }
    }

    /// Smaller extent, px.
    pub(in crate::fracture::measured) fn extent(&self) -> f64 {
        match self {
            Self::Four(c) => {
                let long = |i: usize| libm::hypot(c[(i + 1) % 4][0] - c[i][0], c[(i + 1) % 4][1] - c[i][1]);
                f64::midpoint(long(0), long(2)).min(f64::midpoint(long(1), long(3)))
            }
            Self::Round { axes, .. } => {
                2.0 * axes.iter().map(|a| libm::hypot(a[0], a[1])).fold(f64::INFINITY, f64::min)
            }
        }
    }

    /// Area of what both cover over the area of what either covers.
    pub(in crate::fracture::measured) fn overlap(&self, mask: &Plane, area: usize) -> f64 {
        let ends: Vec<[f64; 2]> = match self {
            Self::Four(corners) => corners.to_vec(),
            Self::Round { centre, axes } => {
                let far = [0, 1].map(|k| libm::hypot(axes[0][k], axes[1][k]));
                vec![[centre[0] - far[0], centre[1] - far[1]], [centre[0] + far[0], centre[1] + far[1]]]
            }
        };
        let range = |k: usize, size: usize| {
            let low = ends.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min).floor();
            let high = ends.iter().map(|p| p[k]).fold(f64::NEG_INFINITY, f64::max).ceil();
            (low.max(0.0) as usize).min(size)..(high.max(0.0) as usize).min(size)
        };
        let (columns, rows) = (range(0, mask.width), range(1, mask.height));
        let (mut both, mut own) = (0.0, 0.0);
        for y in rows {
            let row = mask.row(y);
            for x in columns.clone() {
                if self.holds([x as f64 + 0.5, y as f64 + 0.5]) {
                    own += 1.0;
                    both += f64::from(row[x]);
                }
            }
        }
        both / f64::max(own + area as f64 - both, 1.0)
    }
}

/// Twice the area of a triangle; positive if `p` lies to the right of `a` to `b` as seen (y runs down).
pub(in crate::fracture::measured) fn cross(a: [f64; 2], b: [f64; 2], p: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
}

/// The ellipse with the mask's centre and second moments.
pub(in crate::fracture::measured) fn ellipse(mask: &Plane) -> Shape {
    let (mut n, mut sx, mut sy, mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for y in 0..mask.height {
        for x in 0..mask.width {
            if mask.values[y * mask.width + x] != 0.0 {
                let (x, y) = (x as f64 + 0.5, y as f64 + 0.5);
                n += 1.0;
                sx += x;
                sy += y;
                xx += x * x;
                xy += x * y;
                yy += y * y;
            }
        }
    }
    let n = f64::max(n, 1.0);
    let (cx, cy) = (sx / n, sy / n);
    round_by([cx, cy], [xx / n - cx * cx, xy / n - cx * cy, yy / n - cy * cy])
}

/// Outline of a mask: pixels with an open neighbour.
pub(in crate::fracture::measured) fn outline(mask: &Plane) -> Vec<[f64; 2]> {
    let (w, h) = (mask.width, mask.height);
    let mut points = Vec::new();
    let on = |x: isize, y: isize| {
        x >= 0
            && y >= 0
            && (x as usize) < w
            && (y as usize) < h
            && mask.values[y as usize * w + x as usize] != 0.0
    };
    for y in 0..h as isize {
        for x in 0..w as isize {
            if !on(x, y) {
                continue;
            }
            // on the pixel's open edge
            for (dx, dy) in [(1, 0), (-1, 0), (0, 1), (0, -1)] {
                if !on(x + dx, y + dy) {
                    points.push([x as f64 + 0.5 + 0.5 * dx as f64, y as f64 + 0.5 + 0.5 * dy as f64]);
                }
            }
        }
    }
    points
}

/// The ellipse along points spread evenly around it: by second moments of the polygon they make.
pub(in crate::fracture::measured) fn ellipse_of(points: &[[f64; 2]]) -> Shape {
    // moments of a polygon by its triangles with the first point's mean
    let n = points.len();
    let (mut area, mut sx, mut sy, mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    let [ox, oy] = points[0];
    for i in 0..n {
        let (a, b) = (points[i], points[(i + 1) % n]);
        let (a, b) = ([a[0] - ox, a[1] - oy], [b[0] - ox, b[1] - oy]);
        let c = a[0] * b[1] - a[1] * b[0];
        area += c / 2.0;
        sx += c * (a[0] + b[0]) / 6.0;
        sy += c * (a[1] + b[1]) / 6.0;
        xx += c * (a[0] * a[0] + a[0] * b[0] + b[0] * b[0]) / 12.0;
        yy += c * (a[1] * a[1] + a[1] * b[1] + b[1] * b[1]) / 12.0;
        xy += c * (2.0 * a[0] * a[1] + 2.0 * b[0] * b[1] + a[0] * b[1] + b[0] * a[1]) / 24.0;
    }
    let area = if area.abs() < 1e-9 { 1e-9 } else { area };
    let (cx, cy) = (sx / area, sy / area);
    round_by([cx + ox, cy + oy], [xx / area - cx * cx, xy / area - cx * cy, yy / area - cy * cy])
}

/// The full ellipse with this centre and these variances and covariance (xx, xy, yy).
fn round_by(centre: [f64; 2], [a, b, c]: [f64; 3]) -> Shape {
    let mid = f64::midpoint(a, c);
    let off = libm::hypot((a - c) / 2.0, b);
    let angle = 0.5 * libm::atan2(2.0 * b, a - c);
    // the variance along an axis of a full ellipse is a quarter of its square
    let (long, short) = (2.0 * (mid + off).max(0.0).sqrt(), 2.0 * (mid - off).max(0.0).sqrt());
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    Shape::Round { centre, axes: [[long * cos, long * sin], [-short * sin, short * cos]] }
}

#[cfg(test)]
mod tests {
    use super::super::quadrangle::quadrangle;
    use super::*;

    fn drawn(shape: &Shape, width: usize, height: usize) -> Plane {
        let mut mask = Plane::new(width, height);
        for y in 0..height {
            for x in 0..width {
                mask.values[y * width + x] =
                    f32::from(u8::from(shape.holds([x as f64 + 0.5, y as f64 + 0.5])));
            }
        }
        mask
    }

    fn area(mask: &Plane) -> usize {
        mask.values.iter().filter(|v| **v > 0.0).count()
    }

    #[test]
    fn a_quadrangle_is_found_from_its_pixels() {
        let corners = [[40.0, 30.0], [160.0, 50.0], [150.0, 140.0], [30.0, 120.0]];
        let mask = drawn(&Shape::Four(corners), 200, 180);
        let Some(Shape::Four(found)) = quadrangle(&outline(&mask)) else { panic!("no quadrangle") };
        for corner in corners {
            let near = found
                .iter()
                .map(|f| libm::hypot(f[0] - corner[0], f[1] - corner[1]))
                .fold(f64::MAX, f64::min);
            assert!(near < 1.0, "{corner:?} in {found:?}");
        }
        assert!(Shape::Four(found).overlap(&mask, area(&mask)) > 0.98);
    }

    /// The area of an ellipse is π a b, and its second moments are a quarter of its half axes squared.
    #[test]
    fn an_ellipse_is_found_from_its_pixels_and_from_points_round_it() {
        let shape = Shape::Round { centre: [100.0, 80.0], axes: [[60.0, 20.0], [-12.0, 36.0]] };
        let mask = drawn(&shape, 200, 160);
        assert!((area(&mask) as f64 - shape.area()).abs() < 0.01 * shape.area());
        let round = |i: i32| {
            let (sin, cos) = (f64::from(i) / 96.0 * std::f64::consts::TAU).sin_cos();
            [100.0 + 60.0 * cos - 12.0 * sin, 80.0 + 20.0 * cos + 36.0 * sin]
        };
        let places: Vec<[f64; 2]> = (0..96).map(round).collect();
        for found in [ellipse(&mask), ellipse_of(&places)] {
            assert!(found.overlap(&mask, area(&mask)) > 0.97, "{found:?}");
            assert!((found.extent() - shape.extent()).abs() < 1.5, "{found:?}");
        }
        assert!(places.iter().all(|p| shape.off(*p) < 1e-9));
        assert!((shape.roundness() - 0.6).abs() < 1e-9);
        assert!(shape.apart(&Shape::Round { centre: [180.0, 80.0], axes: [[20.0, 0.0], [0.0, 20.0]] }));
        assert!(!shape.apart(&Shape::Round { centre: [140.0, 90.0], axes: [[20.0, 0.0], [0.0, 20.0]] }));
    }
}
