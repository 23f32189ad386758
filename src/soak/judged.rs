use super::{Bracket, HeatEvidence, SoakRecord, TimelineError, WitnessPlace};
use crate::units::{Interval, Temperature};

/// How far above the last melted witness, or below the first unmelted one, the temperature is
/// taken to be if only one of the two is known: best and farthest, K (judgement).
const BEYOND_WITNESS_K: (f64, f64) = (40.0, 110.0);

impl SoakRecord {
    /// The temperature at heat as judged by eye or bracketed by witnesses, for a soak without log.
    pub fn judged_temperature(&self) -> Result<Interval<Temperature>, TimelineError> {
        let bracket = self.bracket();
        if let (true, Some(melted), Some(kept)) =
            (bracket.contradicts_itself(), bracket.at_least, bracket.below)
        {
            return Err(TimelineError::WitnessesContradict {
                melted_celsius: melted.celsius(),
                kept_celsius: kept.celsius(),
            });
        }
        let by_eye = match &self.evidence {
            HeatEvidence::TimeAtHeat { temperature, .. } => *temperature,
            _ => None,
        };
        let (near, far) = BEYOND_WITNESS_K;
        let k = |t: Temperature| t.kelvin();
        let (low, best, high) = match (bracket.at_least.map(k), bracket.below.map(k), by_eye) {
            (None, None, None) => return Err(TimelineError::NoTemperature),
            (Some(a), Some(b), None) => (a, f64::midpoint(a, b), b),
            (Some(a), None, None) => (a, a + near, a + far),
            (None, Some(b), None) => (b - far, b - near, b),
            (a, b, Some(eye)) => {
                // the witness wins over the eye
                let (floor, ceiling) = (a.unwrap_or(0.0), b.unwrap_or(f64::INFINITY));
                let clamp = |t: Temperature| t.kelvin().clamp(floor, ceiling);
                (clamp(eye.low()), clamp(eye.best()), clamp(eye.high()))
            }
        };
        let t = |k| Temperature::from_kelvin(k).map_err(|_| TimelineError::NoTemperature);
        Interval::new(t(low)?, t(best)?, t(high)?).ok_or(TimelineError::NoTemperature)
    }

    /// What all metal witnesses together say of the heat.
    pub fn bracket(&self) -> Bracket {
        Bracket::of(&self.witnesses, WitnessPlace::BesideSteel)
            .and(Bracket::of(&self.witnesses, WitnessPlace::AtWall))
    }
}
