use super::{HeatPath, Inputs, Physics, Reading, Run};
use crate::diffusion::{
    Case, Direction, Equivalent, Exchange, Fineness, Leg, Profile, Section, equivalent, march,
};
use crate::soak::{self, CoolingLaw, StageKind, Surroundings, Timeline};
use crate::steel::Bevels;
use crate::transport::NotConverged;
use crate::units::Depth;

/// What one story of the run gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The coupon after each stage.
    pub coupon: Vec<Profile>,
    /// The edge of the piece after the last stage.
    pub edge: Option<Profile>,
    /// Temperature of the steel, stage by stage.
    pub steel: Vec<soak::Leg>,
    /// The soak as a steady one; `None`: never above A1.
    pub equivalent: Option<Equivalent>,
}

impl Outcome {
    /// Solves one story.
    pub fn solve(
        timeline: &Timeline,
        path: HeatPath,
        run: &Run,
        physics: &Physics,
        inputs: &Inputs,
    ) -> Result<Self, NotConverged> {
        let steel = path.steel(timeline, run, inputs)?;
        let case = |section| Case {
            form: &physics.law.form.value,
            factor: inputs.law_factor,
            phase: physics.phase,
            section,
            core: inputs.core,
            fineness: Fineness::DEFAULT,
        };
        let coupon = march(&case(Section::of(&run.coupon.shape)), &legs(&steel, inputs))?.profiles;
        let edge = match run.piece.and_then(|p| p.edge_thickness) {
            None => None,
            Some(thickness) => {
                let mut piece = steel.clone();
                for p in piece.iter_mut().flat_map(|l| &mut l.points) {
                    p.1 += inputs.piece_shift;
                }
                march(&case(Section::both_faces(thickness)), &legs(&piece, inputs))?.profiles.pop()
            }
        };
        let soak: Vec<(f64, f64)> = steel
            .iter()
            .filter(|l| l.stage.kind == StageKind::Soak)
            .flat_map(|l| l.points.iter().copied())
            .collect();
        let equivalent = equivalent(&physics.law.form.value, physics.phase, &soak);
        Ok(Self { coupon, edge, steel, equivalent })
    }

    /// A reading after stage number `stage`. `None`: it does not apply to this run.
    pub fn reading(
        &self,
        which: Reading,
        stage: usize,
        run: &Run,
        physics: &Physics,
        inputs: &Inputs,
        ground: Depth,
    ) -> Option<f64> {
        let profile = self.coupon.get(stage)?;
        let criteria = physics.criteria;
        let off = run.piece.and_then(|p| p.metal_off).map_or(0.0, Depth::metres);
        Some(match which {
            Reading::Surface => profile.surface(),
            Reading::Far => profile.far(),
            Reading::GroundMean => profile.mean_over(ground.metres()),
            Reading::Total => depth_mm(profile, inputs.core + criteria.total_above_core.value.wt_percent()),
            Reading::Carburization => depth_mm(profile, criteria.carburization.value.wt_percent()),
            Reading::Visible => depth_mm(profile, inputs.visible_edge),
            Reading::MassGain => profile.mass_gain_g_per_m2(),
            Reading::Edge => {
                let edge = self.edge.as_ref()?;
                match run.piece.and_then(|p| p.bevels).unwrap_or(Bevels::Both) {
                    Bevels::Both => edge.far(),
                    Bevels::One => edge.surface(),
                }
            }
            Reading::GroundFace => self.edge.as_ref()?.at(off),
            Reading::EquivalentMinutes => self.equivalent?.seconds / 60.0,
            Reading::TopTemperature => {
                let highest = || self.steel.iter().flat_map(|l| &l.points).map(|p| p.1).fold(0.0, f64::max);
                self.equivalent.map_or_else(highest, |e| e.kelvin) - 273.15
            }
        })
    }
}

/// Depth to a carbon content in mm; the whole depth of the section if it never falls that low, 0 if
/// it never rises that high.
fn depth_mm(profile: &Profile, wt: f64) -> f64 {
    let metres = match profile.depth_to(wt) {
        Some(depth) => depth,
        None if profile.far() >= wt => profile.extent(),
        None => 0.0,
    };
    metres * 1e3
}

fn legs<'a>(steel: &'a [soak::Leg], inputs: &Inputs) -> Vec<Leg<'a>> {
    let pack =
        Exchange { potential: inputs.potential, transfer: inputs.transfer, direction: Direction::BothWays };
    steel
        .iter()
        .map(|leg| {
            let exchange = match (leg.stage.around, inputs.cooling_law) {
                (Surroundings::Pack, _) | (Surroundings::CoolingPack, CoolingLaw::FollowsAcm) => pack,
                (Surroundings::CoolingPack, CoolingLaw::GivesNothingBack) => {
                    Exchange { direction: Direction::Inward, ..pack }
                }
                (Surroundings::Sealed, _) => Exchange::CLOSED,
                (Surroundings::Air, _) => Exchange::BARE,
            };
            Leg { points: &leg.points, exchange }
        })
        .collect()
}
