use crate::photo::Plane;

/// Distances of the pairs, px: nearer ones are mostly blur and what the photo was stored with.
const DISTANCES: [usize; 17] = [2, 3, 4, 5, 6, 7, 9, 11, 14, 17, 22, 27, 34, 42, 53, 66, 83];
/// Least pairs at a distance, as they are and as a share of those at the first (judgement).
const LEAST_PAIRS: f64 = 200.0;
const LEAST_SHARE: f64 = 0.1;

/// How much a plane differs from place to place, by the distance of two places.
pub(super) struct Variogram(Vec<Pairs>);

/// All pairs at one distance, along rows and along columns.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pairs {
    /// px.
    pub(super) distance: f64,
    /// Mean of half the square of their difference.
    pub(super) half_square: f64,
    /// How many there are, against the most.
    pub(super) weight: f64,
}

impl Variogram {
    /// Of the places where `within` holds, one for each value of the plane.
    pub(super) fn of(plane: &Plane, within: &[bool]) -> Self {
        let (w, h) = (plane.width, plane.height);
        let mut seen: Vec<Pairs> = Vec::new();
        for distance in DISTANCES.into_iter().filter(|d| *d < w.min(h)) {
            let (mut sum, mut count) = (0.0, 0.0);
            for y in 0..h {
                let row = y * w..(y + 1) * w;
                let across = row.clone().zip(row.start + distance..row.end);
                let down = row.map(|i| (i, i + distance * w)).filter(|(_, j)| *j < w * h);
                for (i, j) in across.chain(down) {
                    if within[i] && within[j] {
                        let off = f64::from(plane.values[i] - plane.values[j]);
                        sum += off * off;
                        count += 1.0;
                    }
                }
            }
            if count > LEAST_PAIRS && sum > 0.0 {
                seen.push(Pairs {
                    distance: distance as f64,
                    half_square: sum / (2.0 * count),
                    weight: count,
                });
            }
        }
        let most = seen.iter().map(|p| p.weight).fold(0.0, f64::max);
        for pairs in &mut seen {
            pairs.weight /= most;
        }
        seen.retain(|p| p.weight > LEAST_SHARE);
        Self(seen)
    }

    /// Nearest first, up to a distance, px.
    pub(super) fn within(&self, reach: f64) -> &[Pairs] {
        &self.0[..self.0.partition_point(|p| p.distance <= reach)]
    }
}
