use thiserror::Error;

/// Most bytes of a rig's name.
const LONGEST: usize = 40;

/// A name of a rig that cannot be. `Display` says why; [`RigError::help`] what to do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RigError {
    /// No letter in it.
    #[error("the rig has no name")]
    Empty,
    /// Longer than a name.
    #[error("a rig's name of {0} characters")]
    TooLong(usize),
    /// A character that no name has.
    #[error("a rig's name with `{0}` in it")]
    Character(char),
}

impl RigError {
    /// What to write instead.
    pub fn help(&self) -> String {
        format!(
            "allowed: 1 to {LONGEST} letters, digits, - and _, with single spaces between, such as \"bench\""
        )
    }
}

/// The name of a rig, spaces around it taken off.
pub fn rig_name(text: &str) -> Result<String, RigError> {
    let text = text.trim();
    let odd = |c: &char| !(c.is_alphanumeric() || matches!(c, '-' | '_' | ' '));
    match text.len() {
        0 => return Err(RigError::Empty),
        long if long > LONGEST => return Err(RigError::TooLong(long)),
        _ => {}
    }
    if let Some(odd) = text.chars().find(odd) {
        return Err(RigError::Character(odd));
    }
    if text.contains("  ") {
        return Err(RigError::Character(' '));
    }
    Ok(text.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_rigs() {
        assert_eq!(rig_name(" bench-2 old phone ").as_deref(), Ok("bench-2 old phone"));
        assert_eq!(rig_name("Bänk").as_deref(), Ok("Bänk"));
        for bad in ["", " ", "../up", "a/b", "a\\b", "a\nb", "C:", "a  b", &"x".repeat(41)] {
            assert!(rig_name(bad).is_err(), "{bad:?}");
        }
    }
}
