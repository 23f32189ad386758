use super::{At, Bibliography, FILE, ModelsError, Single, all_bounded, bounded, rising};
use crate::files::models::value::Range;
use crate::hardness::{Temper, TemperRow};
use crate::units::{CarbonPercent, Hrc, OutOfRange, Temperature, Time};
use serde::Deserialize;

/// Twin of [`Temper`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Twin {
    temperatures_celsius: Single<[f64; 6]>,
    chart_hrc: Single<Vec<[f64; 7]>>,
    richest_percent: Single<f64>,
    time_hour: Range,
    parameter: Single<ParameterTwin>,
    nothing_below_celsius: Single<f64>,
    spread_hrc: Range,
    spread_hot_hrc: Range,
    hot_celsius: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ParameterTwin {
    a: f64,
    b: f64,
}

impl Twin {
    pub(super) fn read(self, books: &mut Bibliography) -> Result<Temper, ModelsError> {
        let at = |field| At { file: FILE, entry: "temper", field };
        let doubt = bounded("doubt", "HRC", -20.0, 20.0);
        let celsius = Temperature::from_celsius;
        let hours = |h| Time::from_minutes(h * 60.0);
        Ok(Temper {
            temperatures: self.temperatures_celsius.sourced(books, at("temperatures_celsius"), |t| {
                rising("temperature", "°C", t.to_vec(), |t| *t)
            })?,
            chart: self.chart_hrc.sourced(books, at("chart_hrc"), chart)?,
            richest: self.richest_percent.sourced(books, at("richest_percent"), CarbonPercent::new)?,
            chart_time: self.time_hour.sourced(books, at("time_hour"), hours)?,
            parameter: self
                .parameter
                .sourced(books, at("parameter"), |p| all_bounded([p.a, p.b], "constant", "", (0.0, 100.0)))?,
            nothing_below: self.nothing_below_celsius.sourced(books, at("nothing_below_celsius"), celsius)?,
            spread: self.spread_hrc.sourced(books, at("spread_hrc"), &doubt)?,
            spread_hot: self.spread_hot_hrc.sourced(books, at("spread_hot_hrc"), &doubt)?,
            hot: self.hot_celsius.sourced(books, at("hot_celsius"), celsius)?,
        })
    }
}

fn chart(rows: Vec<[f64; 7]>) -> Result<Vec<TemperRow>, OutOfRange> {
    for row in &rows {
        CarbonPercent::new(row[0])?;
        for hrc in &row[1..] {
            Hrc::new(*hrc)?;
        }
        // the hotter the softer
        let falling = row[1..].iter().rev().copied().collect();
        rising("hardness", "HRC", falling, |n| *n)?;
    }
    let rows = rising("carbon", "%C", rows, |row| row[0])?;
    Ok(rows.into_iter().map(|row| TemperRow { carbon: row[0], hrc: row[1..].to_vec() }).collect())
}
