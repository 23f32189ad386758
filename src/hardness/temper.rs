use super::lines::{between, interval, three};
use crate::sources::Sourced;
use crate::units::{CarbonPercent, Hrc, Interval, Temperature, Time};

/// Hardness of one steel after tempering at each of the chart's temperatures.
#[derive(Debug, Clone, PartialEq)]
pub struct TemperRow {
    /// Carbon, wt%.
    pub carbon: f64,
    /// HRC after each temperature of the chart.
    pub hrc: Vec<f64>,
}

/// What tempering leaves of the hardness: a chart, with time and temperature set against each other
/// by the parameter of J. H. Hollomon and L. D. Jaffe, 1945.
#[derive(Debug, Clone, PartialEq)]
pub struct Temper {
    /// Temperatures of the chart, °C, rising.
    pub temperatures: Sourced<Vec<f64>>,
    /// Rows of the chart, carbon rising.
    pub chart: Sourced<Vec<TemperRow>>,
    /// Richest steel that the last row speaks for, wt%.
    pub richest: Sourced<CarbonPercent>,
    /// Time that the chart is taken to mean.
    pub chart_time: Sourced<Interval<Time>>,
    /// a, b of c = a - b C in P = T (c + log10 t), T in K, t in h.
    pub parameter: Sourced<[f64; 2]>,
    /// Heat that changes nothing.
    pub nothing_below: Sourced<Temperature>,
    /// Doubt, HRC.
    pub spread: Sourced<Interval<f64>>,
    /// Doubt above `hot`, HRC.
    pub spread_hot: Sourced<Interval<f64>>,
    /// Where the doubt grows.
    pub hot: Sourced<Temperature>,
}

impl Temper {
    /// HRC after `time` at `temperature`, never more than `as_quenched`. `carbon` is the carbon that
    /// was dissolved at the quench heat. `None` below 0.35 and above 1.20 %C, and beyond what 400 °C
    /// does in the chart's time.
    pub fn hrc(
        &self,
        as_quenched: &Interval<Hrc>,
        carbon: CarbonPercent,
        temperature: Temperature,
        time: Time,
    ) -> Option<Interval<Hrc>> {
        if time.seconds() <= 0.0 || temperature <= self.nothing_below.value {
            return Some(*as_quenched);
        }
        let c = carbon.wt_percent();
        let last = self.chart.value.last()?.carbon;
        let in_chart = if carbon <= self.richest.value { c.min(last) } else { c };
        let as_quenched = three(as_quenched, Hrc::points);
        // the shorter the chart's own time, the more this temper is against it
        let times = &self.chart_time.value;
        let hottest = *self.temperatures.value.last()?;
        if self.same_temper(carbon, temperature, time, times.best())? > hottest {
            return None;
        }
        let mut after = [0.0; 3];
        for (i, chart_time) in [times.low(), times.best(), times.high()].into_iter().enumerate() {
            let celsius = self.same_temper(carbon, temperature, time, chart_time)?.min(hottest);
            let hot = celsius > self.hot.value.celsius();
            let doubt = if hot { &self.spread_hot } else { &self.spread };
            let doubt = three(&doubt.value, |n| n)[i];
            after[i] = self.at_chart_time(in_chart, celsius, as_quenched[i], doubt)?;
        }
        interval(after, Hrc::new)
    }

    /// The temperature, °C, that does in `other` what `temperature` does in `time`.
    pub fn same_temper(
        &self,
        carbon: CarbonPercent,
        temperature: Temperature,
        time: Time,
        other: Time,
    ) -> Option<f64> {
        let [a, b] = self.parameter.value;
        let constant = a - b * carbon.wt_percent();
        let sum = |t: Time| constant + libm::log10(t.seconds() / 3600.0);
        let kelvin = temperature.kelvin() * sum(time) / sum(other);
        Temperature::from_kelvin(kelvin).ok().map(Temperature::celsius)
    }

    /// The chart, and below it a straight line to the hardness as quenched.
    fn at_chart_time(&self, c: f64, celsius: f64, as_quenched: f64, doubt: f64) -> Option<f64> {
        let temperatures = &self.temperatures.value;
        let first = *temperatures.first()?;
        let softest = |celsius: f64| Some((self.chart_hrc(c, celsius)? + doubt).min(as_quenched));
        if celsius >= first {
            return softest(celsius);
        }
        let start = (self.nothing_below.value.celsius(), as_quenched);
        between(&[start, (first, softest(first)?)], celsius.max(start.0))
    }

    /// HRC in the chart, by straight lines in carbon and temperature.
    fn chart_hrc(&self, c: f64, celsius: f64) -> Option<f64> {
        let row = |row: &TemperRow| {
            let points: Vec<_> =
                self.temperatures.value.iter().copied().zip(row.hrc.iter().copied()).collect();
            Some((row.carbon, between(&points, celsius)?))
        };
        let by_carbon = self.chart.value.iter().map(row).collect::<Option<Vec<_>>>()?;
        between(&by_carbon, c)
    }
}
