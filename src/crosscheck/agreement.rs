use super::{Doubtful, Observation};

/// One thing that was seen beside what should have been.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Agreement {
    /// What was seen.
    pub seen: Observation,
    /// What should have been, in the unit of the observation; `None`: it is no number.
    pub expected: Option<Doubtful>,
    /// Share of what should be seen that is poorer, shallower or softer than this, 0 to 1.
    pub place: f64,
    /// What that comes to.
    pub side: Side,
}

/// On which side of the expected an observation lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Poorer, shallower, softer.
    Less,
    /// Within it.
    Within,
    /// Richer, deeper, harder.
    More,
}

/// Whether what was seen fits what the soak should have given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fits {
    /// It does.
    Yes,
    /// The case is shallower or poorer.
    Less,
    /// It is deeper or richer.
    More,
    /// One observation says the one, another the other; or sparks and hardness exclude each other.
    Contradicts,
    /// Nothing was seen that can be compared.
    CannotTell,
}

impl Side {
    /// `tail` is the share at either end that counts as outside.
    pub(super) fn of(place: f64, tail: f64) -> Self {
        if place < tail {
            Self::Less
        } else if place > 1.0 - tail {
            Self::More
        } else {
            Self::Within
        }
    }
}

impl Fits {
    /// What all observations say together. `exclude`: whether they exclude each other whatever the soak;
    /// `unusual`: whether some cause explains all of it far better than a run without fault, though nothing
    /// lies outside by itself.
    pub(super) fn of(agreements: &[Agreement], exclude: bool, unusual: bool) -> Self {
        let any = |side| agreements.iter().any(|a| a.side == side);
        match (any(Side::Less), any(Side::More)) {
            _ if agreements.is_empty() => Self::CannotTell,
            _ if exclude => Self::Contradicts,
            (true, true) => Self::Contradicts,
            (true, false) => Self::Less,
            (false, true) => Self::More,
            (false, false) if unusual => Self::leaning(agreements),
            (false, false) => Self::Yes,
        }
    }

    /// Where what lies farthest out lies.
    fn leaning(agreements: &[Agreement]) -> Self {
        /// Both ends are reached: the observations pull apart (judgement).
        const APART: f64 = 0.15;
        let low = agreements.iter().map(|a| a.place).fold(1.0, f64::min);
        let high = agreements.iter().map(|a| a.place).fold(0.0, f64::max);
        if low < APART && high > 1.0 - APART {
            Self::Contradicts
        } else if low < 1.0 - high {
            Self::Less
        } else {
            Self::More
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(places: &[f64]) -> Vec<Agreement> {
        let seen = Observation::Sparks([0.0; 6]);
        let one =
            |place: &f64| Agreement { seen, expected: None, place: *place, side: Side::of(*place, 0.05) };
        places.iter().map(one).collect()
    }

    #[test]
    fn one_outside_decides_and_two_sides_contradict() {
        assert_eq!(Fits::of(&[], false, true), Fits::CannotTell);
        assert_eq!(Fits::of(&at(&[0.3, 0.8]), false, false), Fits::Yes);
        assert_eq!(Fits::of(&at(&[0.3, 0.01]), false, false), Fits::Less);
        assert_eq!(Fits::of(&at(&[0.99, 0.3]), false, false), Fits::More);
        assert_eq!(Fits::of(&at(&[0.99, 0.01]), false, false), Fits::Contradicts);
        assert_eq!(Fits::of(&at(&[0.5]), true, false), Fits::Contradicts);
    }

    #[test]
    fn what_is_unusual_only_together_leans_where_it_lies() {
        assert_eq!(Fits::of(&at(&[0.07, 0.4]), false, true), Fits::Less);
        assert_eq!(Fits::of(&at(&[0.93, 0.4]), false, true), Fits::More);
        assert_eq!(Fits::of(&at(&[0.93, 0.07]), false, true), Fits::Contradicts);
    }
}
