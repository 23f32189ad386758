use super::reading::Value;
use super::{Inputs, Physics, Reading, Run};
use crate::diffusion::{
    Case, Direction, Equivalent, Exchange, Fineness, Leg, Profile, Section, equivalent, march, march_on,
};
use crate::soak::{self, CoolingLaw, StageKind, Surroundings};
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
    /// Solves one story on the steel's own legs, after what another soak `before` left.
    pub(super) fn solve(
        before: Option<&Self>,
        steel: Vec<soak::Leg>,
        run: &Run,
        (physics, fineness): (&Physics, Fineness),
        inputs: &Inputs,
    ) -> Result<Self, NotConverged> {
        let solve = |section, start: Option<&Profile>, steel: &[soak::Leg]| {
            let (case, legs) = (case(section, physics, inputs, fineness), legs(steel, inputs));
            start.map_or_else(|| march(&case, &legs), |profile| march_on(&case, profile, &legs))
        };
        let start = before.and_then(|b| b.coupon.last());
        let coupon = solve(Section::of(&run.coupon.shape), start, &steel)?.profiles;
        let edge = match run.piece.and_then(|p| p.edge_thickness) {
            None => None,
            Some(thickness) => {
                let piece = of_piece(&steel, inputs);
                let start = before.and_then(|b| b.edge.as_ref());
                solve(Section::both_faces(thickness), start, &piece)?.profiles.pop()
            }
        };
        let packed = steel
            .iter()
            .filter(|l| matches!(l.stage.kind, StageKind::Soak | StageKind::PackCool))
            .map(|l| l.points.as_slice());
        let equivalent = equivalent(&physics.law.form.value, physics.phase, packed);
        Ok(Self { coupon, edge, steel, equivalent })
    }

    /// The piece after all heat, in this section, from untreated steel on.
    pub(super) fn piece_in(
        &self,
        section: Section,
        physics: &Physics,
        inputs: &Inputs,
    ) -> Result<Profile, NotConverged> {
        let steel = of_piece(&self.steel, inputs);
        let mut profiles =
            march(&case(section, physics, inputs, Fineness::DEFAULT), &legs(&steel, inputs))?.profiles;
        profiles.pop().ok_or(NotConverged)
    }

    /// A reading after stage number `stage`. `None`: it does not apply to this run.
    pub(super) fn reading(
        &self,
        which: Reading,
        stage: usize,
        run: &Run,
        physics: &Physics,
        inputs: &Inputs,
        ground: Depth,
    ) -> Option<Value> {
        let profile = self.coupon.get(stage)?;
        let criteria = physics.criteria;
        let number = match which {
            Reading::Surface => profile.surface(),
            Reading::Far => profile.far(),
            Reading::GroundMean => profile.mean_over(ground.metres()),
            Reading::Total => {
                return Some(depth_mm(
                    profile,
                    inputs.core,
                    inputs.core + criteria.total_above_core.value.wt_percent(),
                ));
            }
            Reading::Carburization => {
                return Some(depth_mm(profile, inputs.core, criteria.carburization.value.wt_percent()));
            }
            Reading::Visible => return Some(depth_mm(profile, inputs.core, inputs.visible_edge)),
            Reading::MassGain => profile.mass_gain_g_per_m2(),
            Reading::CouponGain => profile.mass_gain_g_per_m2() * run.coupon.packed_area()? * 1e3,
            Reading::Edge => {
                let edge = self.edge.as_ref()?;
                match run.piece.and_then(|p| p.bevels).unwrap_or(Bevels::Both) {
                    Bevels::Both => edge.far(),
                    Bevels::One => edge.surface(),
                }
            }
            Reading::GroundFace => {
                // ground past the middle, the nearer surface is the other one
                let thickness = run.piece?.edge_thickness?.metres();
                let off = run.piece?.metal_off.map_or(0.0, Depth::metres);
                self.edge.as_ref()?.at(off.min((thickness - off).max(0.0)))
            }
            Reading::EquivalentMinutes => self.equivalent.map_or(0.0, |e| e.seconds / 60.0),
            Reading::TopTemperature => {
                let highest = || self.steel.iter().flat_map(|l| &l.points).map(|p| p.1).fold(0.0, f64::max);
                self.equivalent.map_or_else(highest, |e| e.kelvin) - 273.15
            }
        };
        Some(Value { number, through: false })
    }
}

fn case<'a>(section: Section, physics: &'a Physics, inputs: &Inputs, fineness: Fineness) -> Case<'a> {
    Case {
        form: &physics.law.form.value,
        factor: inputs.law_factor,
        phase: physics.phase,
        section,
        core: inputs.core,
        fineness,
    }
}

/// The piece's heat, for the coupon's.
fn of_piece(steel: &[soak::Leg], inputs: &Inputs) -> Vec<soak::Leg> {
    let mut piece = steel.to_vec();
    for p in piece.iter_mut().flat_map(|l| &mut l.points) {
        p.1 += inputs.piece_shift;
    }
    piece
}

/// Depth to a carbon content in mm; the whole computed depth, and through, if carbon never falls that
/// low; 0 if it never rises that high. Stock that is itself above the criterion is through.
fn depth_mm(profile: &Profile, core: f64, wt: f64) -> Value {
    let (metres, through) = match profile.depth_to(wt) {
        _ if core >= wt => (profile.extent(), true),
        Some(depth) => (depth, false),
        None if profile.far() >= wt => (profile.extent(), true),
        None => (0.0, false),
    };
    Value { number: metres * 1e3, through }
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
