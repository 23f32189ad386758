use super::super::earlier::{all_rests_on, lay_out_earlier};
use super::super::{Page, Tone};
use super::PlanReport;

/// Widths of the table of heats.
const HEATS: [usize; 4] = [9, 16, 38, 8];

/// Lays out a plan: how long first.
pub fn plan_page(report: &PlanReport) -> Page {
    let mut page = Page::default();
    page.paragraph("", "  ", &report.title);
    page.blank();
    page.headline("Hold", &report.hold, Tone::Good, &report.sure);
    page.heading(&report.clock.heading);
    page.rows(&report.clock.lines);
    page.heading(&report.gives.heading);
    page.rows(&report.gives.lines);
    page.heading("Colder and hotter");
    page.table(HEATS, &report.heats);
    if !report.doubts.is_empty() {
        page.heading("Where the doubt in the hold comes from (each alone, an even chance)");
        page.rows(&report.doubts);
    }
    lay_out_earlier(&mut page, report.earlier.as_ref());
    if !report.edge_drawn.is_empty() {
        page.heading("The edge in cross-section, as it leaves the pack");
        for line in &report.edge_drawn {
            page.line(line);
        }
        page.blank();
        for words in &report.edge {
            page.paragraph("  - ", "    ", words);
        }
    }
    page.list("Limits", &report.limits);
    page.list(report.packing_heading, &report.packing);
    page.list("Watch", &report.watch);
    page.list("If all goes well the coupon shows", &report.shows);
    let after = &report.afterwards;
    lay_out_stages(
        &mut page,
        &after.stages,
        "Afterwards, stage by stage (best story, and what the doubts make of it)",
    );
    page.blank();
    for words in &after.words {
        page.paragraph("  - ", "    ", words);
    }
    page.heading(&after.by_depth_heading);
    page.table(BY_DEPTH, &after.by_depth);
    page.blank();
    page.paragraph("  ", "  ", &after.by_depth_words);
    page.blank();
    page.rows(&after.depths);
    page.list("To know", &report.notes);
    page.list("Rests on", &all_rests_on(&report.rests_on, report.earlier.as_ref()));
    page.list("Cautions", &report.cautions);
    page
}

/// Widths of the table of stages.
const STAGES: [usize; 5] = [30, 5, 7, 16, 16];
/// Widths of the table of hardness by depth.
const BY_DEPTH: [usize; 4] = [7, 22, 22, 22];

/// The stages after the soak.
pub(in crate::report) fn lay_out_stages(page: &mut Page, stages: &[[String; 5]], heading: &str) {
    page.heading(heading);
    page.table(STAGES, stages);
}
