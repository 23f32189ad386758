//! Answers as ready strings: everything is rounded and worded here, and nowhere else.

mod chart;
mod check;
mod earlier;
mod faces;
mod known;
mod note;
mod number;
mod overlay;
mod page;
mod plan;
mod soak;
mod sparks;
mod text;
mod unused;

pub use chart::Chart;
pub use check::{CauseLine, CauseList, CheckReport, Compared, Headline, Inferred, check};
pub use earlier::{EarlierWords, earlier};
pub use faces::{FaceReport, face_page, faces};
pub use known::{
    AddedRecord, AdvisedRig, AuditReport, KnownRow, ShownRecord, Step, TrainedReport, added_coupon_page,
    added_page, advice_page, audit, audit_page, coupon_page, list_page, show_page, step_page, trained,
    trained_page,
};
pub use overlay::{Drawing, LONGEST_SIDE, face_mask, face_overlay, overlay};
pub use page::{Comparison, Page, Span, Tone};
pub use plan::{AfterwardsWords, PlanReport, plan, plan_page};
pub use soak::{Line, Section, SoakReport, soak};
pub use sparks::{SparkReport, spark_page, sparks};
pub use text::{check_page, soak_page};
pub use unused::UnusedLine;
