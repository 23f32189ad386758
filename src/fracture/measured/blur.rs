use crate::photo::Plane;

/// Mean over `2 * radius + 1` pixels along rows, then along columns; beyond the edge there is nothing (0).
pub(super) fn boxed(plane: &Plane, radius: usize) -> Plane {
    let along = along_rows(plane, radius);
    along_columns(&along, radius)
}

/// Rows whose sums run at the same time: each waits for its last one.
const SIDE_BY_SIDE: usize = 8;

fn along_rows(plane: &Plane, radius: usize) -> Plane {
    let mut out = Plane::new(plane.width, plane.height);
    let share = 1.0 / (2 * radius + 1) as f32;
    let some = SIDE_BY_SIDE * plane.width;
    let mut whole = plane.values.chunks_exact(some);
    let mut to = out.values.chunks_exact_mut(some);
    for (from, to) in whole.by_ref().zip(to.by_ref()) {
        running::<SIDE_BY_SIDE>(from, to, radius, share);
    }
    let rest = whole.remainder().chunks_exact(plane.width);
    for (from, to) in rest.zip(to.into_remainder().chunks_exact_mut(plane.width)) {
        running::<1>(from, to, radius, share);
    }
    out
}

/// Sums along so many rows, times a share.
fn running<const N: usize>(from: &[f32], to: &mut [f32], radius: usize, share: f32) {
    let width = from.len() / N;
    let mut sums: [f32; N] = std::array::from_fn(|k| from[k * width..][..width].iter().take(radius).sum());
    for x in 0..width {
        for k in 0..N {
            if x + radius < width {
                sums[k] += from[k * width + x + radius];
            }
            if x > radius {
                sums[k] -= from[k * width + x - radius - 1];
            }
            to[k * width + x] = sums[k] * share;
        }
    }
}

fn along_columns(plane: &Plane, radius: usize) -> Plane {
    let (width, height) = (plane.width, plane.height);
    let mut out = Plane::new(width, height);
    let share = 1.0 / (2 * radius + 1) as f32;
    let mut sums = vec![0.0_f32; width];
    for y in 0..radius.min(height) {
        for (sum, v) in sums.iter_mut().zip(plane.row(y)) {
            *sum += v;
        }
    }
    for y in 0..height {
        if y + radius < height {
            for (sum, v) in sums.iter_mut().zip(plane.row(y + radius)) {
                *sum += v;
            }
        }
        if y > radius {
            for (sum, v) in sums.iter_mut().zip(plane.row(y - radius - 1)) {
                *sum -= v;
            }
        }
        for (to, sum) in out.values[y * width..(y + 1) * width].iter_mut().zip(&sums) {
            *to = sum * share;
        }
    }
    out
}

/// Smoothed inside a mask (1 inside, 0 outside) as if nothing were outside; 0 where nothing of the mask is near.
pub(super) fn inside(plane: &Plane, mask: &Plane, radius: usize) -> Plane {
    let mut masked = plane.clone();
    for (v, m) in masked.values.iter_mut().zip(&mask.values) {
        *v *= m;
    }
    let twice = |p: &Plane| boxed(&boxed(p, radius), radius);
    let (mut sum, share) = (twice(&masked), twice(mask));
    for (v, s) in sum.values.iter_mut().zip(&share.values) {
        *v = if *s > 1e-3 { *v / s } else { 0.0 };
    }
    sum
}
