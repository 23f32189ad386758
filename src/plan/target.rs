use super::{PlanError, Tables};
use crate::crosscheck::{Bath, Hardening};
use crate::diffusion::Profile;
use crate::hardness::Reach;
use crate::prediction::{DepthCriterion, Physics, Reading, Stories, Story};
use crate::units::{CarbonPercent, Depth};

/// What the soak is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// A case this deep.
    Depth {
        /// By which criterion.
        criterion: DepthCriterion,
        /// How deep.
        depth: Depth,
    },
    /// Carbon at the finished edge of the piece.
    Edge {
        /// How much.
        carbon: CarbonPercent,
    },
}

impl Target {
    /// The number wanted: mm, or wt%.
    pub fn goal(&self) -> f64 {
        match self {
            Self::Depth { depth, .. } => depth.millimetres(),
            Self::Edge { carbon } => carbon.wt_percent(),
        }
    }

    /// The reading of a prediction that tells it, where there is one: depths by hardness have none.
    pub fn reading(&self) -> Option<Reading> {
        match self {
            Self::Depth { criterion: DepthCriterion::Total, .. } => Some(Reading::Total),
            Self::Depth { criterion: DepthCriterion::Carburization, .. } => Some(Reading::Carburization),
            Self::Depth { criterion: DepthCriterion::Visible, .. } => Some(Reading::Visible),
            Self::Depth { .. } => None,
            Self::Edge { .. } => Some(Reading::Edge),
        }
    }

    /// What a story comes to at its end: mm, or wt%; hardness in this bath, or as if all became martensite.
    pub(super) fn reached(
        &self,
        tables: &Tables,
        stories: &Stories,
        story: &Story,
        bath: Option<&Bath>,
    ) -> Result<f64, PlanError> {
        let last = story.outcome.coupon.len() - 1;
        match self.reading() {
            Some(which) => stories
                .read(story, which, last, Depth::ZERO)
                .map(|value| value.number)
                .ok_or(PlanError::HardnessUntold),
            None => self.hard_to(tables, stories, &story.outcome.coupon[last], bath),
        }
    }

    /// Depth to 50 HRC or 550 HV, mm, quenched as a case should be.
    fn hard_to(
        &self,
        tables: &Tables,
        stories: &Stories,
        profile: &Profile,
        bath: Option<&Bath>,
    ) -> Result<f64, PlanError> {
        let (hardness, need) = (tables.hardness, tables.need);
        let alloy = need.alloy(stories.run().stock.manganese);
        let hardening = Hardening { hardness, phase: tables.physics.phase, alloy };
        let hard = hardening.profile(bath, need, profile);
        let hard = hard.ok_or(PlanError::HardnessUntold)?;
        let limit = match self {
            Self::Depth { criterion: DepthCriterion::Effective550Hv, .. } => {
                Some(hardness.depth.case_hardening.value)
            }
            _ => hardness.conversion.to_hv(hardness.depth.effective.value),
        };
        Ok(match hard.reach(limit.ok_or(PlanError::HardnessUntold)?) {
            Reach::Nowhere => 0.0,
            Reach::To(depth) => depth.best().millimetres(),
            Reach::Throughout => profile.extent() * 1e3,
        })
    }

    /// Carbon that marks it, wt%, whatever the core; `None` where that goes by the core or by hardness.
    pub(super) fn carbon(&self, physics: &Physics) -> Option<f64> {
        let criteria = physics.criteria;
        match self {
            Self::Depth { criterion: DepthCriterion::Carburization, .. } => {
                Some(criteria.carburization.value.wt_percent())
            }
            Self::Depth { criterion: DepthCriterion::Visible, .. } => {
                Some(criteria.visible.value.best().wt_percent())
            }
            Self::Depth { .. } => None,
            Self::Edge { carbon } => Some(carbon.wt_percent()),
        }
    }
}
