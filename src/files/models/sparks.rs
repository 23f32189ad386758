use super::ModelsError;
use super::bibliography::Bibliography;
use super::error::parse;
use super::value::{At, Cited, Single, bounded, status};
use crate::features::{Range, RicherStock, SparkWords};
use crate::sources::{Sourced, Status};
use crate::spark::{PhotoReading, SurfaceSpeeds};
use crate::units::{CarbonPercent, Depth, Interval, OutOfRange, Speed, Time};
use serde::Deserialize;

const FILE: &str = "sparks.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileTwin {
    part_of: ListTwin,
    rays: ListTwin,
    tiers: ListTwin,
    onset: ListTwin,
    fine_sparking: ListTwin,
    amount: ListTwin,
    compared: ListTwin,
    counting: CountingTwin,
    likeness: LikenessTwin,
    wheel: WheelTwin,
    touch: TouchTwin,
    richer_stock: RicherTwin,
    photos: PhotosTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RicherTwin {
    steps: Single<Vec<StepTwin>>,
}

/// Twin of [`RicherStock`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StepTwin {
    from_percent: f64,
    bursts: f64,
    carriers: f64,
    length: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ListTwin {
    words: Vec<WordTwin>,
    source: String,
    place: String,
    #[serde(deserialize_with = "status")]
    status: Status,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WordTwin {
    word: String,
    low: f64,
    best: f64,
    high: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CountingTwin {
    factor: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LikenessTwin {
    carbon_percent: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WheelTwin {
    #[serde(rename = "least_m_per_s")]
    least: Single<f64>,
    #[serde(rename = "most_m_per_s")]
    most: Single<f64>,
    #[serde(rename = "angle_grinder_m_per_s")]
    angle_grinder: Single<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TouchTwin {
    surface_mm: Single<f64>,
}

/// Twin of [`PhotoReading`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PhotosTwin {
    touch_gap_s: Single<f64>,
    touch_spread: Single<f64>,
    same_exposure_factor: Single<f64>,
    unknown_exposure_factor: Single<f64>,
    carriers_found: Single<f64>,
    carriers_miscounted: Single<f64>,
    bursts_found: Single<f64>,
    bursts_miscounted: Single<f64>,
    burst_rate_found: Single<f64>,
    burst_rate_miscounted: Single<f64>,
    brightness_factor: Single<f64>,
    change_factor: Single<f64>,
    recorded_flights: Single<f64>,
    resolved_share: Single<f64>,
}

const AMOUNTS: [&str; 5] = ["none", "few", "some", "many", "very many"];

/// Reads `sparks.toml`: what words stand for, and how photos are judged.
pub(super) fn read(text: &str, books: &mut Bibliography) -> Result<(SparkWords, PhotoReading), ModelsError> {
    let twin = parse::<FileTwin>(FILE, text)?;
    let photos = photos(twin.photos, books)?;
    let words = SparkWords {
        amount: list(&twin.amount, "amount", AMOUNTS, 20.0, books)?,
        part_of: list(&twin.part_of, "part_of", ["none", "few", "half", "most", "all"], 1.0, books)?,
        rays: list(&twin.rays, "rays", AMOUNTS, 12.0, books)?,
        forking: list(&twin.tiers, "tiers", ["none", "single", "forked", "bushy"], 5.0, books)?,
        onset: list(
            &twin.onset,
            "onset",
            ["at the wheel", "first third", "middle", "last third", "nowhere"],
            1.0,
            books,
        )?,
        fine: list(&twin.fine_sparking, "fine_sparking", ["none", "some", "much"], 2.0, books)?,
        compared: list(
            &twin.compared,
            "compared",
            ["less", "same", "some more", "many more", "bushy"],
            20.0,
            books,
        )?,
        counting: twin.counting.factor.sourced(
            books,
            At { file: FILE, entry: "counting", field: "factor" },
            Ok,
        )?,
        likeness: twin.likeness.carbon_percent.sourced(
            books,
            At { file: FILE, entry: "likeness", field: "carbon_percent" },
            |wt| CarbonPercent::new(wt).map(CarbonPercent::wt_percent),
        )?,
        speeds: speeds(twin.wheel, books)?,
        surface_depth: twin.touch.surface_mm.sourced(
            books,
            At { file: FILE, entry: "touch", field: "surface_mm" },
            Depth::from_millimetres,
        )?,
        richer_stock: richer_stock(twin.richer_stock, books)?,
    };
    Ok((words, photos))
}

fn photos(twin: PhotosTwin, books: &mut Bibliography) -> Result<PhotoReading, ModelsError> {
    let at = |field| At { file: FILE, entry: "photos", field };
    let mut number = |single: Single<f64>, field, what, low, high| {
        single.sourced(books, at(field), bounded(what, "", low, high))
    };
    Ok(PhotoReading {
        touch_spread: number(twin.touch_spread, "touch_spread", "spread", 0.0, 1.0)?,
        same_exposure: number(twin.same_exposure_factor, "same_exposure_factor", "factor", 1.0, 2.0)?,
        unknown_exposure: number(
            twin.unknown_exposure_factor,
            "unknown_exposure_factor",
            "factor",
            1.0,
            10.0,
        )?,
        carriers_found: number(twin.carriers_found, "carriers_found", "share", 0.1, 1.0)?,
        carriers_miscounted: number(twin.carriers_miscounted, "carriers_miscounted", "spread", 0.0, 1.0)?,
        bursts_found: number(twin.bursts_found, "bursts_found", "share", 0.1, 1.0)?,
        bursts_miscounted: number(twin.bursts_miscounted, "bursts_miscounted", "spread", 0.0, 1.0)?,
        burst_rate_found: number(twin.burst_rate_found, "burst_rate_found", "ratio", 0.1, 10.0)?,
        burst_rate_miscounted: number(
            twin.burst_rate_miscounted,
            "burst_rate_miscounted",
            "spread",
            0.0,
            1.0,
        )?,
        brightness: number(twin.brightness_factor, "brightness_factor", "factor", 1.0, 10.0)?,
        change: number(twin.change_factor, "change_factor", "factor", 1.0, 10.0)?,
        recorded: number(twin.recorded_flights, "recorded_flights", "flights", 0.1, 10.0)?,
        resolved: number(twin.resolved_share, "resolved_share", "share", 0.0, 1.0)?,
        touch_gap: twin.touch_gap_s.sourced(books, at("touch_gap_s"), Time::from_seconds)?,
    })
}

fn richer_stock(
    twin: RicherTwin,
    books: &mut Bibliography,
) -> Result<Sourced<Vec<RicherStock>>, ModelsError> {
    let at = At { file: FILE, entry: "richer_stock", field: "steps" };
    let steps = twin.steps.sourced(books, at, |steps| {
        let ratio = bounded("ratio", "", 0.1, 20.0);
        steps
            .into_iter()
            .map(|StepTwin { from_percent, bursts, carriers, length }| {
                let from = CarbonPercent::new(from_percent)?.wt_percent();
                Ok(RicherStock {
                    from,
                    bursts: ratio(bursts)?,
                    carriers: ratio(carriers)?,
                    length: ratio(length)?,
                })
            })
            .collect::<Result<Vec<_>, OutOfRange>>()
    })?;
    if steps.value.windows(2).any(|w| w[0].from >= w[1].from) {
        return Err(ModelsError::value(at, "not rising", "carbon that rises from step to step"));
    }
    Ok(steps)
}

fn speeds(twin: WheelTwin, books: &mut Bibliography) -> Result<SurfaceSpeeds, ModelsError> {
    let mut speed = |single: Single<f64>, field| {
        let at = At { file: FILE, entry: "wheel", field };
        single.sourced(books, at, Speed::from_metres_per_second)
    };
    Ok(SurfaceSpeeds {
        least: speed(twin.least, "least_m_per_s")?,
        most: speed(twin.most, "most_m_per_s")?,
        angle_grinder: speed(twin.angle_grinder, "angle_grinder_m_per_s")?,
    })
}

/// A list whose words stand in the expected order; numbers from 0 to `most`.
fn list<const N: usize>(
    twin: &ListTwin,
    entry: &'static str,
    words: [&str; N],
    most: f64,
    books: &mut Bibliography,
) -> Result<Sourced<[Range; N]>, ModelsError> {
    let at = At { file: FILE, entry, field: "words" };
    let got: Vec<&str> = twin.words.iter().map(|w| w.word.as_str()).collect();
    if got != words {
        return Err(ModelsError::value(at, got.join(", "), words.join(", ")));
    }
    let ranges = twin.words.iter().map(|w| {
        let inside = [w.low, w.best, w.high].iter().all(|v| (0.0..=most).contains(v));
        Interval::new(w.low, w.best, w.high).filter(|_| inside).ok_or_else(|| {
            let got = format!("{} = {}, {}, {}", w.word, w.low, w.best, w.high);
            ModelsError::value(at, got, format!("rising numbers from 0 to {most}"))
        })
    });
    let ranges: Vec<Range> = ranges.collect::<Result<_, _>>()?;
    // as many as there are words
    let value: [Range; N] = std::array::from_fn(|i| ranges[i]);
    let cited = Cited { source: &twin.source, also: &[], place: &twin.place, status: twin.status };
    books.sourced(at, value, &cited)
}
