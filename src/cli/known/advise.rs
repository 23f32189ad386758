use super::args::AdviseArgs;
use super::broken;
use super::of_rig::OfRig;
use crate::audit::{Advice, advise};
use crate::cli::{Answer, Exit, paint};
use crate::files::{self, Models};
use crate::known::{By, Piece};
use crate::report::{self, AdvisedRig};
use crate::units::Interval;

/// Carbon of the coupons that a pack makes of mild steel, from a poor case to a rich one, wt% (judgement).
const TESTED: (f64, f64) = (0.30, 1.10);
/// A steel whose carbon is known no better than this is no candidate, wt% (judgement: a band).
const WIDEST: f64 = 0.20;

/// `snapspark known advise`. The error is ready to be shown.
pub(super) fn known_advise(args: &AdviseArgs) -> Result<Answer, String> {
    let models = Models::shared().map_err(|e| format!("error: {e}"))?;
    let set = args.set.open()?;
    let (of_rigs, published, problems) = OfRig::all(&set, args.rig.as_deref(), models)?;
    let (low, high) = args.tested.unwrap_or(TESTED);
    let tested = Interval::new(low, f64::midpoint(low, high), high)
        .ok_or("error: --for: the lower carbon comes first, such as 0.4-0.9")?;
    let candidates = files::known_set::plain_grades(models, WIDEST);
    let carbons: Vec<Interval<f64>> = candidates.iter().map(|(_, carbon)| *carbon).collect();
    let stock = files::known_set::mild_steel(models);
    let advised = |of: OfRig| {
        let pieces: Vec<&Piece> = of.pieces.iter().collect();
        let advice = advise(&published.bench(of.by), &pieces, &carbons, &stock, &tested);
        (of.rig, of.by, advice, of.days)
    };
    let all: Vec<(String, By, Advice, Vec<String>)> = of_rigs.into_iter().map(advised).collect();
    let rigs: Vec<AdvisedRig<'_>> = all
        .iter()
        .map(|(rig, by, advice, days)| AdvisedRig {
            rig,
            by: *by,
            advice,
            candidates: &candidates,
            days,
            tested: &tested,
        })
        .collect();
    let text = if args.json {
        files::Answer::advice(&set, &all, &candidates).json().map_err(|e| format!("error: {e}"))?
    } else if rigs.is_empty() {
        "No record yet. Begin with three steels that lie far apart, such as 1018, 1045 and 1095, soft, each \
         on the same session as untreated stock: `snapspark known add`.\n"
            .into()
    } else {
        paint::paint(&report::advice_page(&rigs))
    };
    let exit = if rigs.is_empty() { Exit::CannotTell } else { Exit::Done };
    Ok(Answer { text, remarks: broken(&set) + &problems, exit })
}
