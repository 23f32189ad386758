use super::earlier::{all_rests_on, lay_out_earlier};
use super::plan::lay_out_stages;
use super::{CheckReport, Page, SoakReport};

/// Lays out what the soak should have given.
pub fn soak_page(report: &SoakReport) -> Page {
    let mut page = Page::default();
    page.paragraph("", "", &report.title);
    page.paragraph("", "", &report.ranges);
    for section in &report.sections {
        page.heading(&section.heading);
        page.rows(&section.lines);
    }
    page.chart(&report.chart, &report.legend);
    if !report.doubts.is_empty() {
        page.heading("Where the doubt in the visible case depth comes from");
        page.rows(&report.doubts);
        if let Some(words) = &report.doubt {
            page.paragraph("  ", "  ", words);
        }
    }
    lay_out_earlier(&mut page, report.earlier.as_ref());
    page.list("To know", &report.notes);
    page.list("Rests on", &all_rests_on(&report.rests_on, report.earlier.as_ref()));
    page.list("Cautions", &report.cautions);
    page
}

/// Lays out what coupon and soak say together: the answers first.
pub fn check_page(report: &CheckReport) -> Page {
    let mut page = Page::default();
    for headline in &report.headlines {
        page.headline(headline.label, headline.answer, headline.tone, &headline.words);
    }
    page.heading(&report.compared.heading);
    if report.compared.rows.is_empty() {
        page.paragraph("  ", "  ", &report.compared.without);
    } else {
        page.comparison(&report.compared.rows);
    }
    page.heading(report.causes.heading);
    for (i, cause) in report.causes.list.iter().enumerate() {
        page.paragraph(&format!("  {}. ", i + 1), "     ", &cause.what);
        for line in [&cause.tells_apart, &cause.next] {
            page.paragraph("     ", "     ", line);
        }
    }
    page.paragraph("  ", "  ", &report.causes.rest);
    if let Some(inferred) = &report.inferred {
        for words in &inferred.apart {
            page.paragraph("  ", "  ", words);
        }
        page.heading(&inferred.run.heading);
        page.rows(&inferred.run.lines);
        for words in &inferred.words {
            page.paragraph("  ", "  ", words);
        }
    }
    page.heading(&report.edge.heading);
    page.rows(&report.edge.lines);
    for note in &report.edge_notes {
        page.paragraph("  ", "  ", note);
    }
    page.heading(&report.soak.heading);
    page.rows(&report.soak.lines);
    page.chart(&report.chart, &report.legend);
    if !report.stages.is_empty() {
        lay_out_stages(&mut page, &report.stages, "From here on, by the story that explains it best");
        page.paragraph("  ", "  ", &report.stages_words);
    }
    if let Some(second) = &report.second {
        page.heading("A second soak");
        page.paragraph("  ", "  ", second);
    }
    lay_out_earlier(&mut page, report.earlier.as_ref());
    page.list("How it was read", &report.read);
    page.list("Photos of the sparks", &report.photos);
    page.list("Photos of the fracture face", &report.face_photos);
    page.list("To know", &report.notes);
    page.list("Rests on", &all_rests_on(&report.rests_on, report.earlier.as_ref()));
    page.list("Cautions", &report.cautions);
    page
}
