//! Light drawn along a path.

use crate::support::draw_sparks::frame::Frame;
use crate::support::draw_sparks::scene::P;

impl Frame {
    /// Adds light along a path: round spots of this standard deviation, px; `fade` 1 falls to nothing at
    /// the end, 0 stays.
    pub(crate) fn stroke(&mut self, path: &[P], sigma: f64, rgb: [f32; 3], fade: f64) {
        let total: f64 = path.windows(2).map(|p| (p[1][0] - p[0][0]).hypot(p[1][1] - p[0][1])).sum();
        let mut gone = 0.0;
        for pair in path.windows(2) {
            let run = (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1]);
            let spots = (run / (0.7 * sigma)).ceil().max(1.0);
            for i in 0..spots as usize {
                let s = (i as f64 + 0.5) / spots;
                let left = 1.0 - fade * (gone + s * run) / total.max(1e-9);
                let at = [0, 1].map(|k| pair[0][k] + s * (pair[1][k] - pair[0][k]));
                self.glow(at, sigma, rgb.map(|c| c * (0.28 * left) as f32));
            }
            gone += run;
        }
    }
}

/// A path from a point in a direction (rad, y down) that bends by `bend` rad over its length.
pub(crate) fn curve(from: P, angle: f64, length: f64, bend: f64) -> Vec<P> {
    let parts = 12;
    let (mut at, mut path) = (from, vec![from]);
    for i in 0..parts {
        let turn = angle + bend * (f64::from(i) + 0.5) / f64::from(parts);
        at = [at[0] + length / f64::from(parts) * turn.cos(), at[1] + length / f64::from(parts) * turn.sin()];
        path.push(at);
    }
    path
}
