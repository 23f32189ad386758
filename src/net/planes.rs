/// Planes of one size, one after the other, each row by row from the top left.
#[derive(Debug, Clone, PartialEq)]
pub struct Planes {
    /// Width of each, places.
    pub width: usize,
    /// Height of each, places.
    pub height: usize,
    /// `count * width * height` values.
    pub values: Vec<f32>,
}

impl Planes {
    /// All 0.
    pub fn new(count: usize, width: usize, height: usize) -> Self {
        Self { width, height, values: vec![0.0; count * width * height] }
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.values.len().checked_div(self.width * self.height).unwrap_or(0)
    }

    /// One of them; there must be so many.
    pub fn plane(&self, k: usize) -> &[f32] {
        &self.values[k * self.width * self.height..][..self.width * self.height]
    }

    /// One of them, to be changed.
    pub(crate) fn plane_mut(&mut self, k: usize) -> &mut [f32] {
        let size = self.width * self.height;
        &mut self.values[k * size..][..size]
    }

    /// Left and right exchanged.
    pub(crate) fn mirrored(&self) -> Self {
        let rows = self.values.chunks_exact(self.width.max(1));
        let values = rows.flat_map(|row| row.iter().rev()).copied().collect();
        Self { width: self.width, height: self.height, values }
    }

    /// Top and bottom exchanged.
    pub(crate) fn upside_down(&self) -> Self {
        let planes = self.values.chunks_exact((self.width * self.height).max(1));
        let values =
            planes.flat_map(|plane| plane.chunks_exact(self.width).rev().flatten()).copied().collect();
        Self { width: self.width, height: self.height, values }
    }

    /// What is below 0 becomes 0.
    pub(super) fn rectified(mut self) -> Self {
        for v in &mut self.values {
            *v = v.max(0.0);
        }
        self
    }

    /// The largest of each two by two; what is left over at the right and at the bottom is left out.
    pub(super) fn halved(&self) -> Self {
        let mut half = Self::new(self.count(), self.width / 2, self.height / 2);
        let mut to = half.values.iter_mut();
        for k in 0..self.count() {
            let plane = self.plane(k);
            for y in 0..half.height {
                let [top, bottom] = [2 * y, 2 * y + 1].map(|y| &plane[y * self.width..][..self.width]);
                for (a, b) in top.chunks_exact(2).zip(bottom.chunks_exact(2)) {
                    if let Some(to) = to.next() {
                        *to = a[0].max(a[1]).max(b[0].max(b[1]));
                    }
                }
            }
        }
        half
    }

    /// Each value four times, two by two.
    pub(super) fn doubled(&self) -> Self {
        let mut double = Self::new(self.count(), 2 * self.width, 2 * self.height);
        for (row, to) in
            self.values.chunks_exact(self.width).zip(double.values.chunks_exact_mut(4 * self.width))
        {
            let (first, second) = to.split_at_mut(2 * self.width);
            for (v, pair) in row.iter().zip(first.chunks_exact_mut(2)) {
                pair.fill(*v);
            }
            second.copy_from_slice(first);
        }
        double
    }

    /// These and those after them; both must be of one size.
    pub(super) fn with(mut self, others: &Self) -> Self {
        self.values.extend_from_slice(&others.values);
        self
    }

    /// Its top left part of this size, with zeros to the right and below where it is smaller.
    pub(super) fn resized(&self, width: usize, height: usize) -> Self {
        let mut out = Self::new(self.count(), width, height);
        let both = width.min(self.width);
        for k in 0..self.count() {
            for y in 0..height.min(self.height) {
                out.values[(k * height + y) * width..][..both]
                    .copy_from_slice(&self.plane(k)[y * self.width..][..both]);
            }
        }
        out
    }
}
