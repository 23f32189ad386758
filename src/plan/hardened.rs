use super::treated::doubted;
use crate::crosscheck::{Bath, Hardening, Need};
use crate::diffusion::Profile;
use crate::hardness::{CaseHardeningDepth, Hardness, HardnessProfile, Reach, SlackEnd};
use crate::steel::QuenchMedium;
use crate::units::{CarbonPercent, Depth, Hrc, Hv, Interval};

/// Depths that hardness is told for, mm.
const DEPTHS_MM: [f64; 9] = [0.0, 0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.5];

/// A case quenched after its last heat, kept from air.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardened {
    /// In what. `None`: as if all of it became martensite.
    pub medium: Option<QuenchMedium>,
    /// Depth mm; softest, likeliest, hardest. `None`: the tables do not cover it.
    pub by_depth: Vec<(f64, Option<[HardEnd; 3]>)>,
    /// Depth to 50 HRC, mm; 0: nowhere.
    pub effective: Interval<f64>,
    /// Depth to 550 HV, or why there is none.
    pub case_hardening: CaseHardeningDepth,
    /// Where graded files begin to bite, the hardest first; those that tell a depth.
    pub files: Vec<FileBites>,
}

/// One end of a hardness, HRC.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HardEnd {
    /// So hard.
    At(f64),
    /// Softer than this; no table tells how soft.
    Under(f64),
}

impl HardEnd {
    /// The number, whichever it means.
    pub fn hrc(self) -> f64 {
        let (Self::At(hrc) | Self::Under(hrc)) = self;
        hrc
    }
}

/// How deep a file of known hardness begins to bite.
#[derive(Debug, Clone, PartialEq)]
pub struct FileBites {
    /// Its number, or `mill file`.
    pub file: String,
    /// Down to here it skates, mm: where the hardest that it may cut is.
    pub skates_to: Interval<f64>,
    /// From here on it bites, mm.
    pub bites_from: Interval<f64>,
}

impl Hardened {
    /// One profile, in this bath or as if all became martensite. `None`: the tables do not cover it.
    pub(super) fn of(
        profile: &Profile,
        bath: Option<&Bath>,
        hardening: &Hardening,
        need: &Need,
    ) -> Option<Self> {
        let hard = hardening.profile(bath, need, profile)?;
        let hardness = hardening.hardness;
        let effective = hardness.conversion.to_hv(hardness.depth.effective.value)?;
        Some(Self {
            medium: bath.map(|bath| bath.medium),
            by_depth: by_depth(profile, bath, &hard, hardening, need),
            effective: millimetres(&hard, effective),
            case_hardening: hard.case_hardening_depth(&hardness.depth),
            files: files(&hard, hardness),
        })
    }

    /// Takes in what the same bath makes of the stories at both ends of every doubt; nothing is harder than `hardest`, HRC.
    pub(super) fn doubt(&mut self, ends: &[[Self; 2]], hardest: f64) {
        let effective = ends.iter().map(|pair| [0, 1].map(|i| pair[i].effective.best()));
        self.effective = doubted(&self.effective, effective);
        if let CaseHardeningDepth::Stands { depth, sure } = &self.case_hardening {
            let own = depth.millimetres();
            let of = |h: &Self| match &h.case_hardening {
                CaseHardeningDepth::Stands { depth, .. } => depth.best().millimetres(),
                CaseHardeningDepth::DoesNotApply { .. } => own.best(),
                CaseHardeningDepth::NotReached => 0.0,
            };
            let mm = doubted(&own, ends.iter().map(|[a, b]| [of(a), of(b)]));
            let [low, best, high] = [mm.low(), mm.best(), mm.high()].map(Depth::from_millimetres);
            if let (Ok(low), Ok(best), Ok(high)) = (low, best, high) {
                let depth = Interval::new(low, best, high).unwrap_or(*depth);
                self.case_hardening = CaseHardeningDepth::Stands { depth, sure: *sure };
            }
        }
        for bites in &mut self.files {
            let same = |h: &Self| h.files.iter().find(|f| f.file == bites.file).cloned();
            let pairs: Vec<_> = ends.iter().filter_map(|[a, b]| Some([same(a)?, same(b)?])).collect();
            let to = pairs.iter().map(|pair| [0, 1].map(|i| pair[i].skates_to.best()));
            let from = pairs.iter().map(|pair| [0, 1].map(|i| pair[i].bites_from.best()));
            (bites.skates_to, bites.bites_from) =
                (doubted(&bites.skates_to, to), doubted(&bites.bites_from, from));
        }
        for (i, (_, told)) in self.by_depth.iter_mut().enumerate() {
            let Some([low, HardEnd::At(best), high]) = *told else { continue };
            let moved = ends.iter().map(|pair| {
                [0, 1].map(|end| match pair[end].by_depth.get(i).and_then(|(_, told)| *told) {
                    Some([_, likely, _]) => likely.hrc(),
                    None => best,
                })
            });
            let own = Interval::new(low.hrc().min(best), best, high.hrc().max(best));
            let wide = doubted(&own.unwrap_or_else(|| Interval::exact(best)), moved);
            let low = match low {
                HardEnd::Under(_) => low,
                HardEnd::At(_) if wide.low() < Hrc::LEAST => HardEnd::Under(Hrc::LEAST),
                HardEnd::At(_) => HardEnd::At(wide.low()),
            };
            *told = Some([low, HardEnd::At(best), HardEnd::At(wide.high().min(hardest))]);
        }
    }
}

/// Hardness at the depths that are told, as far as the profile reaches.
fn by_depth(
    profile: &Profile,
    bath: Option<&Bath>,
    hard: &HardnessProfile,
    hardening: &Hardening,
    need: &Need,
) -> Vec<(f64, Option<[HardEnd; 3]>)> {
    let at = |mm: f64| {
        let depth = Depth::from_millimetres(mm).ok().filter(|depth| depth.metres() <= profile.extent())?;
        let ends = || {
            let Some(bath) = bath else {
                let hv = hard.at(depth);
                return Some([hv.low(), hv.best(), hv.high()].map(SlackEnd::At));
            };
            let carbon = CarbonPercent::new(profile.at(depth.metres())).ok()?;
            hardening.slack(bath, need, carbon, depth).ok().map(|slack| slack.ends)
        };
        Some((mm, ends().map(|ends| ends.map(|end| in_hrc(end, hardening.hardness)))))
    };
    DEPTHS_MM.iter().filter_map(|mm| at(*mm)).collect()
}

fn in_hrc(end: SlackEnd, hardness: &Hardness) -> HardEnd {
    let hrc = |hv: Hv| hardness.conversion.to_hrc(hv).map(Hrc::points);
    match end {
        SlackEnd::At(hv) => hrc(hv).map_or(HardEnd::Under(Hrc::LEAST), HardEnd::At),
        SlackEnd::Under(hv) => HardEnd::Under(hrc(hv).unwrap_or(Hrc::LEAST)),
    }
}

/// Depth that is at least so hard, mm; 0: none.
fn millimetres(hard: &HardnessProfile, limit: Hv) -> Interval<f64> {
    let all = hard.points().last().map_or(0.0, |p| p.0.millimetres());
    match hard.reach(limit) {
        Reach::Nowhere => Interval::exact(0.0),
        Reach::To(depth) => depth.millimetres(),
        Reach::Throughout => Interval::exact(all),
    }
}

/// Where each file of the table passes from skating to biting.
fn files(hard: &HardnessProfile, hardness: &Hardness) -> Vec<FileBites> {
    let all = hard.points().last().map_or(0.0, |p| p.0.millimetres());
    let mut files: Vec<_> = hardness
        .files
        .iter()
        .filter_map(|file| {
            let depth = |hrc: Hrc| Some(millimetres(hard, hardness.conversion.to_hv(hrc)?));
            let undecided = &file.undecided.value;
            let (skates_to, bites_from) = (depth(undecided.high())?, depth(undecided.low())?);
            Some(FileBites { file: file.name.clone(), skates_to, bites_from })
        })
        // one that bites from the skin on, or skates throughout, tells no depth
        .filter(|bites| bites.skates_to.best() > 0.0 && bites.bites_from.best() < all)
        .collect();
    files.sort_by(|a, b| a.bites_from.best().total_cmp(&b.bites_from.best()));
    files
}
