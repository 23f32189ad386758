use super::fault::Fault;
use super::section::Section;
use crate::files::Models;
use crate::files::problem::shown;
use crate::prediction::{ModelChoice, PotentialChoice, SurfaceChoice};
use crate::soak::CoolingLaw;
use crate::units::{CarbonPercent, parse};

const SURFACES: [(&str, SurfaceChoice); 2] =
    [("held", SurfaceChoice::Held), ("transfer", SurfaceChoice::Transfer)];
const COOLING: [(&str, CoolingLaw); 2] =
    [("gives nothing back", CoolingLaw::GivesNothingBack), ("follows Acm", CoolingLaw::FollowsAcm)];
/// Most carbon that austenite dissolves, wt%, at the eutectic. Source: Fe-C assessment in
/// `models/steels.toml`, 2.05, rounded up.
pub(super) const MOST_DISSOLVED: f64 = 2.1;
/// Allowed shares of Acm.
const SHARE_OF_ACM: (f64, f64) = (0.05, 1.5);

/// Reads `[model]`.
pub(super) fn read(section: &mut Section<'_>) -> ModelChoice {
    let law = section.take("law").and_then(|f| f.name(Models::law)).map(|law| law.name);
    let surface = section.take("surface").and_then(|f| f.word(&SURFACES));
    let coefficient = section.take("transfer_coefficient");
    if let (Some(field), Some(SurfaceChoice::Held)) = (&coefficient, surface) {
        field.refuse::<()>(Fault::new(
            "a surface that is held has no transfer coefficient",
            "write surface = \"transfer\", or take this line out",
        ));
    }
    ModelChoice {
        law,
        surface,
        transfer: coefficient.and_then(|f| f.more_than_zero()),
        potential: section.take("potential").and_then(|f| f.settle(potential(f.short("a potential")?))),
        cooling: section.take("cooling_law").and_then(|f| f.word(&COOLING)),
        heat_through: section
            .take("heat_through")
            .and_then(|f| f.word(&[("computed", true), ("none", false)])),
    }
}

/// `0.9 Acm`, `90 % of Acm` or `1.0 %C`.
fn potential(text: &str) -> Result<PotentialChoice, Fault> {
    let lower = text.trim().to_lowercase();
    let Some(share) = lower.strip_suffix("acm") else {
        let fixed = parse::<CarbonPercent>(text).map(|w| PotentialChoice::Fixed(w.value));
        let help = "allowed: a share of Acm such as \"0.9 Acm\", or a carbon content such as \"1.0 %C\"";
        let fixed = fixed.map_err(|e| Fault::new(e.to_string(), help))?;
        return match fixed {
            PotentialChoice::Fixed(c) if c.wt_percent() > MOST_DISSOLVED => Err(Fault::new(
                format!("austenite holds no {} %C", c.wt_percent()),
                format!("allowed: 0 to {MOST_DISSOLVED} %C"),
            )),
            fixed => Ok(fixed),
        };
    };
    let share = share.trim().trim_end_matches("of").trim();
    let (number, scale) = share.strip_suffix('%').map_or((share, 1.0), |percent| (percent, 0.01));
    let (low, high) = SHARE_OF_ACM;
    match number.trim().parse::<f64>().map(|n| n * scale) {
        Ok(share) if share >= low && share <= high => Ok(PotentialChoice::ShareOfAcm(share)),
        _ => Err(Fault::new(
            format!("`{}` is not a share of Acm", shown(text.trim())),
            format!("allowed: {low} to {high} Acm, as \"0.9 Acm\" or \"90 % of Acm\""),
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_both_kinds_of_potential() {
        assert_eq!(potential("0.9 Acm"), Ok(PotentialChoice::ShareOfAcm(0.9)));
        assert_eq!(potential("90 % of acm"), Ok(PotentialChoice::ShareOfAcm(0.9)));
        let fixed = CarbonPercent::new(1.0).unwrap();
        assert_eq!(potential("1.0 %C"), Ok(PotentialChoice::Fixed(fixed)));
        for bad in ["0.9", "Acm", "9 Acm", "nan Acm", "-1 Acm", "rich"] {
            assert!(potential(bad).is_err(), "{bad}");
        }
    }
}
