/// Node positions with the volumes and face areas that belong to them.
#[derive(Debug, Clone)]
pub struct Mesh {
    /// Distance of each node from the exchanging surface, m; starts at 0, rises.
    pub x: Vec<f64>,
    /// Volume of each node's cell per exchanging area, m.
    pub volume: Vec<f64>,
    /// Area over length of the face between node i and i + 1, per exchanging area, 1/m.
    pub conductance: Vec<f64>,
}

impl Mesh {
    /// A plate: every face has the area of the surface.
    pub fn plate(x: Vec<f64>) -> Self {
        Self::with(x, |_| 1.0)
    }

    /// A round bar of `radius` m; `x` runs from its surface to its axis at most.
    pub fn round(x: Vec<f64>, radius: f64) -> Self {
        Self::with(x, |depth| ((radius - depth) / radius).max(0.0))
    }

    /// `area(x)` is the area at depth x over the area of the surface, linear in x.
    fn with(x: Vec<f64>, area: impl Fn(f64) -> f64) -> Self {
        let middle: Vec<f64> = x.windows(2).map(|w| f64::midpoint(w[0], w[1])).collect();
        let conductance = x.windows(2).zip(&middle).map(|(w, &m)| area(m) / (w[1] - w[0])).collect();
        let last = x.len() - 1;
        let volume = (0..x.len())
            .map(|i| {
                let from = if i == 0 { x[0] } else { middle[i - 1] };
                let to = if i == last { x[last] } else { middle[i] };
                // the area is linear in x, so its mean times the length is exact
                (to - from) * f64::midpoint(area(from), area(to))
            })
            .collect();
        Self { x, volume, conductance }
    }

    /// Nodes from 0 to `depth` m, each `spacing(x)` m after the one at x, stretched evenly so that
    /// the last one lies at `depth`. At least 8, at most 2000 intervals.
    pub fn graded(depth: f64, spacing: impl Fn(f64) -> f64) -> Vec<f64> {
        let mut x = vec![0.0];
        let mut end = 0.0;
        while end < depth && x.len() <= 2000 {
            end += spacing(end).clamp(depth / 2000.0, depth / 8.0);
            x.push(end);
        }
        x.iter().map(|v| v / end * depth).collect()
    }

    /// Number of nodes.
    pub fn len(&self) -> usize {
        self.x.len()
    }

    /// Whether there is no node at all.
    pub fn is_empty(&self) -> bool {
        self.x.is_empty()
    }

    /// Integral of a nodal field over the volume, per exchanging area.
    pub fn total(&self, u: &[f64]) -> f64 {
        self.volume.iter().zip(u).map(|(v, u)| v * u).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn volumes_fill_the_body() {
        let plate = Mesh::plate(Mesh::graded(1e-3, |x| 1e-5 + x / 9.0));
        assert!((plate.volume.iter().sum::<f64>() - 1e-3).abs() < 1e-18);
        // a bar of radius R has volume R/2 per unit of its surface
        let bar = Mesh::round(Mesh::graded(2e-3, |x| 1e-5 + x / 9.0), 2e-3);
        assert!((bar.volume.iter().sum::<f64>() - 1e-3).abs() < 1e-18);
    }
}
