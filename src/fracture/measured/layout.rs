use super::homography::Homography;
use std::f64::consts::TAU;

/// Share of the face's smaller extent that is kept around it, and the least of it in px of the flat picture
/// (judgement: a rough outline and a first guess that is off both stay in view).
pub(super) const MARGIN: f64 = 0.12;
const LEAST_MARGIN: f64 = 6.0;

/// The face seen square on, in px of the flat picture, whose outline is a rectangle or a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Flat {
    /// Width and height.
    Four([f64; 2]),
    /// Diameter.
    Round(f64),
}

/// Where the face is in the photo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Layout {
    pub(super) flat: Flat,
    /// Pixels of the flat picture kept around the face on each side.
    pub(super) margin: f64,
    /// From px of the flat picture, margin included, to px of the photo.
    pub(super) to_photo: Homography,
}

impl Layout {
    /// A face with these corners in the photo, clockwise, flattened to `width` by `height` px.
    pub(super) fn four(corners: &[[f64; 2]; 4], width: f64, height: f64, margin: f64) -> Option<Self> {
        let m = kept(margin * width.min(height));
        let (x, y) = (m + width, m + height);
        let square = [[m, m], [x, m], [x, y], [m, y]];
        let to_photo = Homography::of_four(&square, corners)?;
        Some(Self { flat: Flat::Four([width, height]), margin: m, to_photo })
    }

    /// A round face: `ends` are the ends of two diameters of its ellipse, upright to each other on the face,
    /// in turn around it.
    pub(super) fn round(ends: &[[f64; 2]; 4], diameter: f64, margin: f64) -> Option<Self> {
        let r = diameter / 2.0;
        let margin = kept(margin * diameter);
        let c = margin + r;
        let to_photo = Homography::of_four(&[[c + r, c], [c, c + r], [c - r, c], [c, c - r]], ends)?;
        Some(Self { flat: Flat::Round(diameter), margin, to_photo })
    }

    /// Width and height of the flat picture with its margin, px.
    pub(super) fn size(&self) -> [usize; 2] {
        let [w, h] = match self.flat {
            Flat::Four(size) => size,
            Flat::Round(d) => [d, d],
        };
        [(w + 2.0 * self.margin).ceil() as usize, (h + 2.0 * self.margin).ceil() as usize]
    }

    /// From px of the photo to px of the flat picture.
    pub(super) fn back(&self) -> Option<Homography> {
        let [w, h] = self.size().map(|v| v as f64);
        let flat = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
        Homography::of_four(&flat.map(|p| self.to_photo.map(p)), &flat)
    }

    /// Pixels of the flat picture to one of the photo, in the middle of the face.
    pub(super) fn px_of_photo(&self) -> f64 {
        let [w, h] = self.size().map(|v| v as f64 / 2.0);
        let [a, b, c] = [[w, h], [w + 1.0, h], [w, h + 1.0]].map(|p| self.to_photo.map(p));
        let area = ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])).abs();
        1.0 / area.sqrt().max(1e-9)
    }

    /// Smaller extent of the face, or its diameter, px of the flat picture.
    pub(super) fn thickness(&self) -> f64 {
        match self.flat {
            Flat::Four([w, h]) => w.min(h),
            Flat::Round(d) => d,
        }
    }

    /// How many sides it has.
    pub(super) fn sides(&self) -> usize {
        match self.flat {
            Flat::Four(_) => 4,
            Flat::Round(_) => 1,
        }
    }

    /// Length of a side, px of the flat picture.
    pub(super) fn length(&self, side: usize) -> f64 {
        match self.flat {
            Flat::Four(size) => size[side % 2],
            Flat::Round(d) => d * TAU / 2.0,
        }
    }

    /// From a side to the middle of the face, px of the flat picture.
    pub(super) fn reach(&self, side: usize) -> f64 {
        match self.flat {
            Flat::Four(size) => size[(side + 1) % 2] / 2.0,
            Flat::Round(d) => d / 2.0,
        }
    }

    /// The place in the flat picture that lies `along` a side, clockwise, and `deep` below its ideal line, px.
    pub(super) fn place(&self, side: usize, along: f64, deep: f64) -> [f64; 2] {
        let m = self.margin;
        match self.flat {
            Flat::Four([w, h]) => match side {
                0 => [m + along, m + deep],
                1 => [m + w - deep, m + along],
                2 => [m + w - along, m + h - deep],
                _ => [m + deep, m + h - along],
            },
            Flat::Round(d) => {
                let (r, angle) = (d / 2.0, 2.0 * along / d);
                let (sin, cos) = (libm::sin(angle), libm::cos(angle));
                [m + r + (r - deep) * cos, m + r + (r - deep) * sin]
            }
        }
    }

    /// How far a place of a side's strip lies from the nearest other side, px: infinite on a round face.
    pub(super) fn next_side_off(&self, side: usize, along: f64, deep: f64) -> f64 {
        match self.flat {
            Flat::Four(size) => along.min(size[side % 2] - along).min(size[(side + 1) % 2] - deep),
            Flat::Round(_) => f64::INFINITY,
        }
    }

    /// How far along a side, and how deep below its ideal line, a place of the flat picture lies, px.
    pub(super) fn on_side(&self, side: usize, [x, y]: [f64; 2]) -> [f64; 2] {
        let m = self.margin;
        match self.flat {
            Flat::Four([w, h]) => match side {
                0 => [x - m, y - m],
                1 => [y - m, m + w - x],
                2 => [m + w - x, m + h - y],
                _ => [m + h - y, x - m],
            },
            Flat::Round(d) => {
                let r = d / 2.0;
                let (dx, dy) = (x - m - r, y - m - r);
                let angle = libm::atan2(dy, dx).rem_euclid(TAU);
                [angle * r, r - libm::hypot(dx, dy)]
            }
        }
    }
}

fn kept(margin: f64) -> f64 {
    margin.max(LEAST_MARGIN).round()
}
