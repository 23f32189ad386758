use super::plural;
use crate::spark::{PhotoPiece, PhotographedSparks, ShutterJudged, StreamFigures};
use crate::units::Interval;

/// How a number is shown.
#[derive(Clone, Copy)]
enum Shown {
    Plain(usize),
    Percent,
    Length,
}

type Get = fn(&StreamFigures) -> &Option<Interval<f64>>;

/// What, how, where in the figures.
const ROWS: [(&str, Shown, Get); 12] = [
    (CARRIERS, Shown::Plain(0), |f| &f.carriers),
    (BURSTS, Shown::Plain(0), |f| &f.bursts),
    ("sparks that burst", Shown::Percent, |f| &f.share_in_flight),
    ("as the shutter saw", Shown::Percent, |f| &f.share_bursting),
    ("bursts on a carrier", Shown::Plain(2), |f| &f.bursts_per_carrier),
    ("rays of a burst", Shown::Plain(1), |f| &f.rays),
    ("bursts burst again", Shown::Percent, |f| &f.secondary_share),
    ("tiers of bursts", Shown::Plain(0), |f| &f.tiers),
    ("first bursts at", Shown::Percent, |f| &f.onset),
    ("carrier, median", Shown::Length, |f| &f.length),
    ("1 in 20 longer than", Shown::Length, |f| &f.longest),
    (STREAM, Shown::Length, |f| &f.stream_length),
];
const CARRIERS: &str = "carriers on a photo";
const BURSTS: &str = "bursts on a photo";
const STREAM: &str = "stream";

/// What the rows mean.
pub(super) const LEGEND: &str = "Counts are of sparks that stand apart, with those that finds miss on drawn pictures; \
                                 their ranges hold how much that differs from photo to photo. Sparks that burst: on their whole way, whatever part of it the shutter saw. First bursts: \
                                 where the first quarter of them lies, from the wheel to the end of the stream.";

/// Figures of coupon and stock, and the ratio where there is one.
pub(super) fn table(seen: &PhotographedSparks) -> Vec<[String; 4]> {
    let mm = seen.mm_per_px.as_ref();
    let stock = seen.untreated.as_ref().map(|s| &s.pooled);
    let contrast = &seen.says.contrast;
    let over = |what: &str| match what {
        CARRIERS => contrast.carriers,
        BURSTS => contrast.bursts,
        STREAM => contrast.length,
        _ => None,
    };
    let ratio = |range: Option<Interval<f64>>| range.map_or(String::new(), |r| ratio(&r));
    let mut rows = Vec::new();
    if stock.is_some() {
        rows.push(["", "coupon", "stock", "coupon over stock"].map(String::from));
    }
    for (what, shown, get) in ROWS {
        let cell = |figures: &StreamFigures| get(figures).as_ref().map(|r| shown.text(r, mm));
        let (of_coupon, of_stock) = (cell(&seen.coupon.pooled), stock.and_then(cell));
        if of_coupon.is_some() || of_stock.is_some() {
            let or_open = |cell: Option<String>| cell.unwrap_or_else(|| "not told".into());
            let of_stock = if stock.is_some() { or_open(of_stock) } else { String::new() };
            rows.push([shown.label(what, mm), or_open(of_coupon), of_stock, ratio(over(what))]);
        }
    }
    if contrast.bursts_per_length.is_some() {
        rows.push([
            "bursts for its length".into(),
            String::new(),
            String::new(),
            ratio(contrast.bursts_per_length),
        ]);
    }
    rows.extend(light(&seen.coupon.pooled, stock));
    rows.push(resolved(&seen.coupon.pooled, stock));
    rows
}

/// Figures of one piece, lengths in pixels: what and how much. Those that are not told are left out.
pub(in crate::report) fn of_one(figures: &StreamFigures) -> Vec<[String; 2]> {
    let row = |(what, shown, get): &(&str, Shown, Get)| {
        let range = get(figures).as_ref()?;
        Some([shown.label(what, None), shown.text(range, None)])
    };
    ROWS.iter().filter_map(row).collect()
}

/// Brightness and colour at both ends of the stream.
fn light(coupon: &StreamFigures, stock: Option<&StreamFigures>) -> Vec<[String; 4]> {
    let ends = |f: &StreamFigures| {
        let (first, last) = (f.light.first()?, f.light.last()?);
        let colour = |l: &crate::spark::LightFigure| l.red_over_green.map(|r| format!("{:.2}", r.best()));
        let colours = colour(first).zip(colour(last)).map(|(a, b)| format!("{a} to {b}"));
        let (a, b) = (first.brightness.best(), last.brightness.best());
        Some((format!("{:.2} of its start", b / a), colours))
    };
    let (of_coupon, of_stock) = (ends(coupon), stock.and_then(ends));
    let pick = |of: &Option<(String, Option<String>)>, colour: bool| {
        let text = of.as_ref().and_then(|(light, c)| if colour { c.clone() } else { Some(light.clone()) });
        text.unwrap_or_default()
    };
    let row = |what: &str, colour| {
        let cells = [pick(&of_coupon, colour), pick(&of_stock, colour)];
        let told = cells.iter().any(|c| !c.is_empty());
        let [a, b] = cells;
        told.then(|| [what.to_string(), a, b, String::new()])
    };
    let rows = [row("light at its end", false), row("red over green", true)];
    rows.into_iter().flatten().collect()
}

fn resolved(coupon: &StreamFigures, stock: Option<&StreamFigures>) -> [String; 4] {
    let percent = |f: &StreamFigures| format!("{:.0} %", 100.0 * f.resolved);
    ["told apart".into(), percent(coupon), stock.map(percent).unwrap_or_default(), String::new()]
}

/// The figures that carbon is read from, in one sentence.
pub(super) fn sentence(seen: &PhotographedSparks) -> String {
    let (shown, contrast) = (&seen.coupon.pooled, &seen.says.contrast);
    let stock = seen.untreated.as_ref().map_or(0, |s| s.pooled.photos);
    let told = [
        ("sparks that burst", Shown::Percent, shown.share_in_flight),
        ("rays of a burst", Shown::Plain(1), shown.rays),
        ("tiers", Shown::Plain(0), shown.tiers),
        ("first quarter of the bursts at", Shown::Percent, shown.onset),
        ("bursts over the stock's", Shown::Plain(1), contrast.bursts),
        ("carriers over the stock's", Shown::Plain(1), contrast.carriers),
    ];
    let told = told
        .into_iter()
        .filter_map(|(what, shown, range)| Some(format!("{what} {}", shown.text(&range?, None))));
    let told = told.collect::<Vec<_>>().join("; ");
    let of_stock =
        if stock > 0 { format!(" and {} of the stock", plural(stock, "photo")) } else { String::new() };
    format!("{} of the coupon{of_stock}: {told}.", plural(seen.coupon.pooled.photos, "photo"))
}

/// Touch by touch; nothing for a single one.
pub(super) fn touches(seen: &PhotographedSparks) -> Vec<[String; 4]> {
    let piece = &seen.coupon;
    if piece.touches.len() < 2 {
        return Vec::new();
    }
    let mut rows =
        vec![["", "carriers that burst", "rays of a burst", "bursts over first"].map(String::from)];
    for (i, figures) in piece.touches.iter().enumerate() {
        let ratio = piece.trend.as_ref().and_then(|t| *t.ratios.get(i)?);
        let share = figures.share_bursting.as_ref().map(|r| Shown::Percent.text(r, None));
        let rays = figures.rays.as_ref().map(|r| ranged(r, 1, ""));
        let ratio = ratio.filter(|_| i > 0).map(|r| ranged(&r, 1, ""));
        let what = format!("touch {}, {}", i + 1, plural(figures.photos, "photo"));
        rows.push([what, share.unwrap_or_default(), rays.unwrap_or_default(), ratio.unwrap_or_default()]);
    }
    rows
}

/// The name of a file without its folder: columns are narrow.
fn short(name: &str) -> String {
    name.rsplit(['/', '\\']).next().unwrap_or(name).to_string()
}

/// Photo by photo: carriers, bursts, shutter.
pub(super) fn photos(seen: &PhotographedSparks) -> Vec<[String; 4]> {
    let mut rows = vec![["", "carriers", "bursts", "shutter"].map(String::from)];
    for piece in std::iter::once(&seen.coupon).chain(&seen.untreated) {
        rows.extend(of_piece(piece));
    }
    rows
}

fn of_piece(piece: &PhotoPiece) -> Vec<[String; 4]> {
    let shutters = piece.shutters.iter().flatten();
    let row = |(frame, shutter): (&crate::spark::Frame, &Option<ShutterJudged>)| {
        let seconds = frame.photo.exposed.seconds;
        [
            short(&frame.name),
            frame.carriers_traced().to_string(),
            frame.bursts_traced().to_string(),
            shutter_words(seconds, shutter.as_ref()),
        ]
    };
    piece.series.frames().zip(shutters).map(row).collect()
}

fn shutter_words(seconds: Option<f64>, judged: Option<&ShutterJudged>) -> String {
    let time = match seconds {
        Some(s) if s < 0.5 => format!("1/{:.0} s", 1.0 / s),
        Some(s) => format!("{s:.1} s"),
        None => "not told".into(),
    };
    match judged {
        Some(j) if j.too_short => format!("{time}, too short"),
        Some(j) if j.too_long => format!("{time}, too long"),
        _ => time,
    }
}

impl Shown {
    /// A row's name, with the unit of a length.
    fn label(self, what: &str, mm: Option<&Interval<f64>>) -> String {
        match self {
            Self::Length => format!("{what}, {}", if mm.is_some() { "mm" } else { "px" }),
            Self::Plain(_) | Self::Percent => what.into(),
        }
    }

    fn text(self, range: &Interval<f64>, mm: Option<&Interval<f64>>) -> String {
        match self {
            Self::Plain(digits) => ranged(range, digits, ""),
            Self::Percent => {
                let percent = |v: f64| 100.0 * v;
                Interval::new(percent(range.low()), percent(range.best()), percent(range.high()))
                    .map_or(String::new(), |r| ranged(&r, 0, " %"))
            }
            Self::Length => {
                let length = mm.map_or(Some(*range), |mm| StreamFigures::in_mm(range, mm));
                length.map_or(String::new(), |r| ranged(&r, 0, ""))
            }
        }
    }
}

/// A ratio that reaches farther than this times its best value has no upper end worth a number: that to stock with hardly
/// a burst (judgement).
const OPEN: f64 = 30.0;

/// A ratio to the stock.
fn ratio(range: &Interval<f64>) -> String {
    if range.best() > 0.0 && range.high() > OPEN * range.best() {
        format!("{:.1} ({:.1} or more)", range.best(), range.low())
    } else {
        ranged(range, 1, "")
    }
}

/// "34 (28 to 41)", with a unit behind the best value.
fn ranged(range: &Interval<f64>, digits: usize, unit: &str) -> String {
    let bare = |v: f64| {
        let text = format!("{v:.digits$}");
        // no "-0"
        if text.trim_start_matches('-').chars().all(|c| matches!(c, '0' | '.')) {
            text.replace('-', "")
        } else {
            text
        }
    };
    let (low, best, high) = (bare(range.low()), bare(range.best()), bare(range.high()));
    if low == high { format!("{best}{unit}") } else { format!("{best}{unit} ({low} to {high})") }
}
