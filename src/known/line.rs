//! One measure of one rig against the published trend: reading = centre + offset + slope (trend - centre) + drift of the
//! day + scatter. Offset and slope are pulled towards what is expected of them, the day's drift towards 0.

/// One reading with what the trend has for its piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Point {
    /// Reading, on the measure's scale.
    pub(super) at: f64,
    /// Variance that its own range gives it.
    pub(super) variance: f64,
    /// The trend less its centre, mean over the piece's carbon, and the variance over it.
    pub(super) trend: f64,
    pub(super) label: f64,
}

/// What is expected of a rig before any of its steels is seen; standard deviations on the measure's scale.
#[derive(Debug, Clone, Copy)]
pub(super) struct Prior {
    /// Offset and slope.
    pub(super) expected: [f64; 2],
    pub(super) offset: f64,
    pub(super) slope: f64,
    /// From day to day.
    pub(super) drift: f64,
    /// Scatter from piece to piece, and how many pieces that expectation is worth.
    pub(super) scatter: f64,
    pub(super) worth: f64,
}

/// The line with its doubt, as the sums that one day more adds to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Of the trend, on the measure's scale.
    pub centre: f64,
    /// Information on offset and slope: [offset offset, offset slope, slope slope].
    pub information: [f64; 3],
    /// Information times value.
    pub weighed: [f64; 2],
    /// Scatter from piece to piece, standard deviation.
    pub scatter: f64,
    /// Drift from day to day, standard deviation.
    pub drift: f64,
    /// Readings behind it.
    pub readings: usize,
}

/// Rounds that the scatter is estimated in; it has settled after three or four.
const ROUNDS: usize = 6;
/// A line falls nowhere: its slope is at least this much of the trend's (monotone, judgement).
const LEAST_SLOPE: f64 = 0.05;

/// However alike a few readings were, the scatter is at least this part of the trend's own (judgement: the same words told
/// again are no second look).
const LEAST_SCATTER: f64 = 0.25;

/// Sums over the readings of one day.
#[derive(Debug, Clone, Copy, Default)]
struct Day {
    weight: f64,
    trend: f64,
    square: f64,
    value: f64,
    product: f64,
}

impl Line {
    /// Fits days of readings. Marginal over the drift of each day, which is normal.
    pub(super) fn fit(centre: f64, days: &[Vec<Point>], prior: &Prior) -> Self {
        let readings = days.iter().map(Vec::len).sum();
        let [offset, slope] = prior.expected;
        let mut line = Self {
            centre,
            information: [prior.offset.powi(-2), 0.0, prior.slope.powi(-2)],
            weighed: [offset * prior.offset.powi(-2), slope * prior.slope.powi(-2)],
            scatter: prior.scatter,
            drift: prior.drift,
            readings,
        };
        if line.readings == 0 {
            return line;
        }
        let before = line;
        for _ in 0..ROUNDS {
            let scatter = line.scatter;
            let slope = line.slope();
            line = Self { scatter, ..before };
            for day in days {
                line.add(&line.sums(day, slope));
            }
            line.scatter = line.scatter_of(days, prior);
        }
        line
    }

    /// Takes in one day more.
    pub(super) fn with_day(mut self, day: &[Point]) -> (Self, Today) {
        let sums = self.sums(day, self.slope());
        self.add(&sums);
        (self, Today { pull: self.pull(&sums), sums })
    }

    fn sums(&self, day: &[Point], slope: f64) -> Day {
        let mut sums = Day::default();
        for point in day {
            let weight = 1.0 / (self.scatter.powi(2) + point.variance + slope.powi(2) * point.label);
            let value = point.at - self.centre;
            sums.weight += weight;
            sums.trend += weight * point.trend;
            sums.square += weight * point.trend.powi(2);
            sums.value += weight * value;
            sums.product += weight * point.trend * value;
        }
        sums
    }

    /// Weight of the day's own readings in its drift.
    fn pull(&self, day: &Day) -> f64 {
        1.0 / (self.drift.powi(-2) + day.weight)
    }

    fn add(&mut self, day: &Day) {
        let pull = self.pull(day);
        self.information[0] += day.weight - pull * day.weight * day.weight;
        self.information[1] += day.trend - pull * day.weight * day.trend;
        self.information[2] += day.square - pull * day.trend * day.trend;
        self.weighed[0] += day.value - pull * day.weight * day.value;
        self.weighed[1] += day.product - pull * day.trend * day.value;
    }

    /// [offset offset, offset slope, slope slope]
    fn covariance(&self) -> [f64; 3] {
        let [a, b, c] = self.information;
        let determinant = a * c - b * b;
        [c / determinant, -b / determinant, a / determinant]
    }

    /// Offset from the trend at its centre.
    pub fn offset(&self) -> f64 {
        let [a, b, _] = self.covariance();
        a * self.weighed[0] + b * self.weighed[1]
    }

    /// Slope against the trend's.
    pub fn slope(&self) -> f64 {
        let [_, b, c] = self.covariance();
        (b * self.weighed[0] + c * self.weighed[1]).max(LEAST_SLOPE)
    }

    /// Mean and variance of a reading of a piece whose trend less the centre is known, on a day; without the scatter of
    /// its own range.
    pub(super) fn expect(&self, today: &Today, trend: f64) -> (f64, f64) {
        let (offset, slope) = (self.offset(), self.slope());
        let (sums, pull) = (&today.sums, today.pull);
        let drift = pull * (sums.value - offset * sums.weight - slope * sums.trend);
        // offset and slope move the day's drift the other way
        let x = [1.0 - pull * sums.weight, trend - pull * sums.trend];
        let [a, b, c] = self.covariance();
        let line = a * x[0] * x[0] + 2.0 * b * x[0] * x[1] + c * x[1] * x[1];
        (self.centre + offset + slope * trend + drift, line + pull + self.scatter.powi(2))
    }

    /// The scatter that the readings show about the line beyond their own ranges, shrunk towards what is expected.
    fn scatter_of(&self, days: &[Vec<Point>], prior: &Prior) -> f64 {
        let mut sum = prior.worth * prior.scatter.powi(2);
        for day in days {
            let sums = self.sums(day, self.slope());
            let today = Today { pull: self.pull(&sums), sums };
            for point in day {
                let (mean, variance) = self.expect(&today, point.trend);
                // what is left over is too small by what the line has taken up of it
                let line = variance - self.scatter.powi(2);
                let known = point.variance + self.slope().powi(2) * point.label;
                sum += ((point.at - mean).powi(2) + line - known).max(0.0);
            }
        }
        (sum / (prior.worth + self.readings as f64)).sqrt().max(LEAST_SCATTER * prior.scatter)
    }
}

/// What one day's own reference says about its drift.
#[derive(Debug, Clone, Copy)]
pub(super) struct Today {
    sums: Day,
    pull: f64,
}

impl Today {
    /// The day's drift, by a line that has taken the day in.
    pub(super) fn drift(&self, line: &Line) -> f64 {
        self.pull * (self.sums.value - line.offset() * self.sums.weight - line.slope() * self.sums.trend)
    }
}
