use super::carbon;
use crate::fracture::{Quenching, RimDepth};
use crate::known::{CasePoint, CouponEdge, EdgeQuench, KnownFace, LearnedEdge, PointShows, VisibleEdge};
use crate::report::check::medium;
use crate::report::number::{CARBON, DEPTH, HRC};
use crate::report::sparks::plural;
use crate::report::{Page, Tone};
use crate::units::{CarbonPercent, Depth, Hrc, Interval};

/// "1018, 0.15 to 0.20 %C before, quenched in water, session 2026-03-14: rim to 0.60 mm, 3 points".
pub(super) fn coupon(face: &KnownFace) -> String {
    format!(
        "{}, {} before, quenched in {}, session {}: rim to {}, {}",
        face.name,
        carbon(&face.core),
        quench(face),
        face.session,
        rim(face),
        plural(face.points.len(), "point")
    )
}

pub(super) fn quench(face: &KnownFace) -> &'static str {
    match face.fracture.coupon.quenched {
        Some(Quenching::In(bath)) => medium(bath),
        Some(Quenching::NotQuenched) | None => "nothing",
    }
}

fn rim(face: &KnownFace) -> String {
    let side = |depth: &RimDepth| match depth {
        RimDepth::Length(length) => depth_range(length),
        RimDepth::OfThickness(share) => {
            let [low, high] = [share.low(), share.high()].map(|s| format!("{:.0}", s.fraction() * 100.0));
            if low == high {
                format!("{low} % of its thickness")
            } else {
                format!("{low} to {high} % of its thickness")
            }
        }
    };
    face.fracture.coupon.depth.iter().flatten().map(side).collect::<Vec<_>>().join(", ")
}

fn depth_range(depth: &Interval<Depth>) -> String {
    let [low, best, high] = [depth.low(), depth.best(), depth.high()].map(Depth::millimetres);
    if low == high {
        return DEPTH.one(best);
    }
    Interval::new(low, best, high).map_or_else(|| DEPTH.one(best), |r| DEPTH.range(&r))
}

/// "0.50 mm: 0.45 %C".
fn point(point: &CasePoint) -> String {
    let hrc = |range: &Interval<Hrc>| {
        let [low, best, high] = [range.low(), range.best(), range.high()].map(Hrc::points);
        match Interval::new(low, best, high) {
            Some(range) if !range.is_exact() => HRC.range(&range),
            _ => HRC.one(best),
        }
    };
    let shows = match &point.shows {
        PointShows::Carbon(wt) => carbon(wt),
        PointShows::Hardness(hard) => hrc(hard),
        PointShows::FirstBite { file, turns } => {
            format!("the {} first bites ({})", file_name(file), hrc(turns))
        }
        PointShows::EtchedEnd => "the dark zone of an etched section ends".into(),
    };
    format!("{}: {shows}", depth_range(&point.depth))
}

fn file_name(file: &str) -> String {
    if file.bytes().all(|b| b.is_ascii_digit()) { format!("{file} HRC file") } else { file.to_string() }
}

/// Lays out what became of a coupon.
pub fn added_coupon_page(name: &str, new: bool, face: &KnownFace) -> Page {
    let mut page = Page::default();
    let (what, tone) = if new { ("Added", Tone::Good) } else { ("There already", Tone::Middling) };
    page.headline(what, name, tone, &format!("{}.", coupon(face)));
    if new {
        page.paragraph("  ", "  ", "`snapspark train --set` learns from it where a rim ends.");
    }
    page
}

/// Lays out one coupon, kept in `file`.
pub fn coupon_page(name: &str, face: &KnownFace, file: &str) -> Page {
    let mut page = Page::default();
    page.headline("Coupon", name, Tone::Plain, &format!("{}.", coupon(face)));
    if !face.notes.is_empty() {
        page.paragraph("  ", "  ", &face.notes);
    }
    page.paragraph("  ", "    ", &format!("Kept in {file}"));
    page.list("Measured another way", &face.points.iter().map(point).collect::<Vec<_>>());
    page
}

/// "0.44 %C (0.39 to 0.50)".
fn spread(wt: &Interval<f64>) -> String {
    format!("{} ({:.2} to {:.2})", CARBON.one(wt.best()), wt.low(), wt.high())
}

fn wt(range: &Interval<CarbonPercent>) -> Interval<f64> {
    let [low, best, high] = [range.low(), range.best(), range.high()].map(CarbonPercent::wt_percent);
    Interval::new(low, best, high).unwrap_or_else(|| Interval::exact(best))
}

fn learned(edge: &LearnedEdge) -> String {
    let behind = format!("{} behind it", plural(edge.coupons, "coupon"));
    format!(
        "Rim of a coupon quenched in {}: ends at {}, {behind}.",
        edge.quench.words(),
        spread(&wt(&edge.carbon))
    )
}

/// Writes what coupons say of the visible edge, after `page`; `kept` is the file it was kept in.
pub(super) fn write_learned(page: &mut Page, edge: &VisibleEdge, kept: Option<&str>) {
    if edge.learned.is_empty() && edge.unused.is_empty() {
        return;
    }
    page.heading("Where a rim ends, from coupons that were measured another way");
    for one in &edge.learned {
        page.paragraph("  ", "    ", &learned(one));
    }
    if let Some(kept) = kept {
        let words = format!("Kept in {kept}; `check --set` and `soak --set` look for the rim there.");
        page.paragraph("  ", "    ", &words);
    }
    for name in &edge.unused {
        let why = "its points are of no case that falls from the surface to its core: check depths and units";
        page.paragraph("  ", "    ", &format!("Left out: {name}, {why}."));
    }
}

/// Writes the same with each coupon held against the others.
pub(super) fn write_audited(page: &mut Page, edge: &VisibleEdge) {
    write_learned(page, edge, None);
    for quench in EdgeQuench::ALL {
        let of_it: Vec<&CouponEdge> = edge.coupons.iter().filter(|c| c.quench == quench).collect();
        let agree = of_it.iter().filter(|c| !c.is_odd()).count();
        let agree_with = of_it.len().saturating_sub(1);
        if agree_with > 0 {
            let words = format!(
                "Quenched in {}: {agree} of {} agree with what all others say of them.",
                quench.words(),
                of_it.len()
            );
            page.paragraph("  ", "    ", &words);
        }
        for c in of_it {
            let odd = if c.is_odd() { "; look at it again" } else { "" };
            let others = format!("; by the others {}{odd}", spread(&c.by_others));
            let others = if agree_with > 0 { others } else { String::new() };
            page.paragraph("    ", "      ", &format!("{}: by itself {}{others}.", c.name, spread(&c.alone)));
        }
    }
}
