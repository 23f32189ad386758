use super::coupon::write_audited;
use super::trained::steel_sessions;
use crate::audit::{Left, Marks, RigAudit};
use crate::known::{By, Piece, VisibleEdge};
use crate::report::Page;
use crate::report::check::bands;
use crate::report::number::of_100;
use crate::steel::CarbonBand;

/// How good a rig's known steels make its answers, ready to be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct AuditReport {
    /// The rig, and what it was judged on.
    pub heading: String,
    /// What, session left out, steel left out, published trend alone.
    pub marks: Vec<[String; 4]>,
    /// Known bands against those that came out, with sessions left out.
    pub confusion: Vec<String>,
    /// Records that look mislabelled, and what to know.
    pub notes: Vec<String>,
}

/// Columns of the marks, characters.
const COLUMNS: [usize; 4] = [25, 17, 17, 17];
/// Width of a column of the confusion, characters.
const CELL: usize = 10;

/// Words an audit; `pieces` are those that were judged.
pub fn audit(rig: &str, audit: &RigAudit, pieces: &[&Piece]) -> AuditReport {
    let judged = audit.by_day.marks.asked;
    let by = if audit.by == By::Photos { "by photos" } else { "by what was told" };
    let columns = [&audit.by_day.marks, &audit.by_steel.marks, &audit.trend];
    let row = |what: &str, cell: &dyn Fn(&Marks) -> String| {
        let [a, b, c] = columns.map(cell);
        [what.to_string(), a, b, c]
    };
    let of = |n: usize, marks: &Marks| format!("{n} of {}", marks.asked);
    let stated = |left: &Left| {
        let told = |s: &crate::audit::StatedSets| {
            format!("{:.1}, hold {}/100", s.size, of_100(s.held).split(' ').next().unwrap_or_default())
        };
        left.stated.as_ref().map_or("10 are needed".to_string(), told)
    };
    let marks = vec![
        [String::new(), "session left out".into(), "steel left out".into(), "trend alone".into()],
        row("answered", &|m| of(m.answered(), m)),
        row("in the right band", &|m| of(m.within(0), m)),
        row("in it or beside it", &|m| of(m.within(1), m)),
        row("mean bands off", &|m| m.error().map_or("-".into(), |e| format!("{e:.2}"))),
        ["bands stated (mean)".into(), stated(&audit.by_day), stated(&audit.by_steel), "-".into()],
    ];
    let mut notes: Vec<String> =
        audit.odd.iter().filter_map(|odd| Some(odd_words(odd, pieces.get(odd.piece)?))).collect();
    if !audit.by_day.exact || !audit.by_steel.exact {
        notes.push(
            "Of more than 100 sessions or steels 50 groups were drawn, always the same, and left out.".into(),
        );
    }
    notes.push(
        "Leaving sessions out flatters, as the same steels stay in; leaving steels out is harsh, as a steel is then read \
         by others alone. Measured on these steels, no guarantee for another: a few steels are not any coupon."
            .into(),
    );
    AuditReport {
        heading: format!("Rig {rig}, {by}: {}", steel_sessions(judged)),
        marks,
        confusion: confusion(&audit.by_day.marks),
        notes,
    }
}

fn odd_words(odd: &crate::audit::Odd, piece: &Piece) -> String {
    let (read, share) = odd.read;
    format!(
        "{} looks mislabelled: labelled {:.2} to {:.2} %C, read as {} with {} votes; its own band and those beside it \
         have {} together. Check the label, the photos and the rig.",
        piece.name,
        piece.carbon.low(),
        piece.carbon.high(),
        bands(read, read),
        of_100(share),
        of_100(odd.own),
    )
}

/// The rows that have any, and a head.
fn confusion(marks: &Marks) -> Vec<String> {
    let name = |band: &CarbonBand| {
        bands(*band, *band)
            .replace(" %C", "")
            .replace("up to ", "to ")
            .replace(" and more", "+")
            .replace(" to ", "-")
    };
    let row = |head: &str, cells: Vec<String>| {
        let cells = cells.iter().map(|cell| format!("{cell:>CELL$}")).collect::<Vec<_>>().concat();
        format!("  {head:<16}{cells}")
    };
    let mut lines = vec![row("known", CarbonBand::ALL.iter().map(name).collect())];
    for band in &CarbonBand::ALL {
        let counts = marks.confusion[band.index()];
        if counts.iter().any(|n| *n > 0) {
            let cell = |n: &usize| if *n > 0 { n.to_string() } else { ".".into() };
            lines.push(row(&name(band), counts.iter().map(cell).collect()));
        }
    }
    lines
}

/// Lays out audits, and what coupons say of the visible edge.
pub fn audit_page(reports: &[AuditReport], edge: &VisibleEdge) -> Page {
    let mut page = Page::default();
    for (i, report) in reports.iter().enumerate() {
        if i > 0 {
            page.blank();
        }
        page.paragraph("", "  ", &report.heading);
        page.table(COLUMNS, &report.marks);
        page.heading("Known band, and how often which one was read, session left out");
        for line in &report.confusion {
            page.line(line);
        }
        page.list("To know", &report.notes);
    }
    if reports.is_empty() {
        page.paragraph("", "  ", "No rig has a known steel yet: there is nothing to leave out.");
    }
    write_audited(&mut page, edge);
    page
}
