/// A value with the range that it may lie in: `low <= best <= high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval<T> {
    low: T,
    best: T,
    high: T,
}

impl<T: Copy + PartialOrd> Interval<T> {
    /// `None` unless `low <= best <= high`.
    pub fn new(low: T, best: T, high: T) -> Option<Self> {
        (low <= best && best <= high).then_some(Self { low, best, high })
    }

    /// A value without doubt.
    pub fn exact(value: T) -> Self {
        Self { low: value, best: value, high: value }
    }

    /// The lower end.
    pub fn low(&self) -> T {
        self.low
    }

    /// The single best value.
    pub fn best(&self) -> T {
        self.best
    }

    /// The upper end.
    pub fn high(&self) -> T {
        self.high
    }

    /// Whether all three are one value.
    pub fn is_exact(&self) -> bool {
        self.low == self.high
    }
}
