use super::carbon::carbon;
use crate::files::Models;
use crate::files::run_sheet::fault::Fault;
use crate::files::words::is_dont_know;
use crate::known::{KnownSteel, Seen, Session, rig_name};
use crate::spark::SteelState;
use crate::units::{CarbonPercent, Interval};

/// What is known of a steel before its sparks are looked at, checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The steel: a grade by its proper name, or free words.
    pub steel: String,
    /// Its carbon.
    pub carbon: Interval<CarbonPercent>,
    /// Soft or hardened.
    pub state: Option<SteelState>,
    /// The rig.
    pub rig: String,
    /// Whether it is the stock that ties the session to others.
    pub reference: bool,
    /// Notes.
    pub notes: String,
}

impl Label {
    /// From a steel as typed and its carbon as typed, which a steel that is no known grade needs; `rig` as typed. The
    /// error has what is wrong, and what to do.
    pub fn new(
        steel: &str,
        typed_carbon: Option<&str>,
        rig: &str,
        models: &Models,
    ) -> Result<Self, (String, String)> {
        if is_dont_know(rig) {
            return Err((
                "the rig has no name".into(),
                "name it by grinder and camera, such as \"bench\"".into(),
            ));
        }
        let (steel, carbon) = Self::steel(steel, typed_carbon, models)?;
        let rig = rig_name(rig).map_err(|e| (e.to_string(), e.help()))?;
        Ok(Self { steel, carbon, state: None, rig, reference: false, notes: String::new() })
    }

    /// A steel by its proper name, and its carbon, from both as typed.
    pub fn steel(
        steel: &str,
        typed_carbon: Option<&str>,
        models: &Models,
    ) -> Result<(String, Interval<CarbonPercent>), (String, String)> {
        let said = |fault: Fault| (fault.message, fault.help);
        let steel = steel.trim();
        let long = steel.len();
        if long == 0 || long > KnownSteel::LONGEST_NAME || steel.chars().any(char::is_control) {
            let help = format!("allowed: 1 to {} characters on one line", KnownSteel::LONGEST_NAME);
            return Err(("no name of a steel".into(), help));
        }
        let told = typed_carbon.map(|text| carbon(text).map_err(said)).transpose()?;
        let (steel, range) = match (models.grade(steel), told) {
            (Ok(grade), told) => (grade.name.clone(), told.unwrap_or(grade.carbon.value)),
            (Err(_), Some(_)) if is_dont_know(steel) => {
                return Err((
                    "nobody knows what it is".into(),
                    "call it by what it was, such as \"old bolt\"".into(),
                ));
            }
            (Err(_), Some(told)) => (steel.to_string(), told),
            (Err(e), None) => {
                let help = format!(
                    "{}; or tell its carbon, such as 0.95 or 0.9-1.1, and call it as you like",
                    e.help()
                );
                return Err((e.to_string(), help));
            }
        };
        if range.high().wt_percent() > KnownSteel::MOST_CARBON {
            let help = format!("allowed: up to {} %C", KnownSteel::MOST_CARBON);
            return Err(("it is cast iron, not steel".into(), help));
        }
        Ok((steel, range))
    }

    /// The record of a session, without anything seen yet.
    pub fn on(&self, session: Session) -> KnownSteel {
        KnownSteel {
            name: self.steel.clone(),
            carbon: self.carbon,
            state: self.state,
            rig: self.rig.clone(),
            session,
            reference: self.reference,
            notes: self.notes.clone(),
            seen: Seen::Photos(Vec::new()),
        }
    }
}
