use thiserror::Error;

/// Why a photo cannot be used, with what was measured and what is needed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Refusal {
    /// No line of light stands out.
    #[error(
        "no sparks found: {lines} lines of light stand out of the picture, a stream has at least {needed}"
    )]
    NoSparks {
        /// Lines found.
        lines: usize,
        /// Lines needed.
        needed: usize,
    },
    /// Lines of light, but they do not come from one place in one direction.
    #[error(
        "not a spark stream: {share:.0} % of {lines} lines of light come from one place, {needed:.0} % would be needed"
    )]
    NoStream {
        /// Lines found.
        lines: usize,
        /// Of these from one place, percent.
        share: f64,
        /// Needed, percent.
        needed: f64,
    },
    /// The lines run side by side.
    #[error(
        "not a spark stream: the lines of light run side by side and would meet {outside:.1} picture diagonals outside the picture, {allowed:.2} are allowed"
    )]
    SideBySide {
        /// Measured, diagonals of the picture from its edge.
        outside: f64,
        /// Allowed.
        allowed: f64,
    },
    /// The lines that come from one place hardly look like sparks.
    #[error(
        "not a spark stream: of its lines {sure:.0} in 100 are likely to be sparks, {needed:.0} are needed"
    )]
    UnlikeSparks {
        /// Mean chance that a carrier is one, percent.
        sure: f64,
        /// Needed, percent.
        needed: f64,
    },
    /// The light goes out all round.
    #[error(
        "sparks all round: they fill {opening:.0} degrees; the stream of a wheel fills less than {allowed:.0}"
    )]
    AllRound {
        /// Measured, degrees.
        opening: f64,
        /// Allowed, degrees.
        allowed: f64,
    },
    /// Too dark.
    #[error("too dark: the lines of light stand {signal:.1} times above the noise, {needed:.1} are needed")]
    TooDark {
        /// Measured.
        signal: f64,
        /// Needed.
        needed: f64,
    },
    /// Blown out.
    #[error("blown out: {share:.0} % of the stream is at the sensor's limit, {allowed:.0} % are allowed")]
    BlownOut {
        /// Measured, percent.
        share: f64,
        /// Allowed, percent.
        allowed: f64,
    },
    /// Blurred.
    #[error(
        "blurred: a carrier is {width:.0} px wide, {share:.1} % of its length; {allowed:.1} % are allowed"
    )]
    Blurred {
        /// Width of a line, px.
        width: f64,
        /// Over its length, percent.
        share: f64,
        /// Allowed, percent.
        allowed: f64,
    },
    /// Too few carriers.
    #[error("too few carriers: {found} found, an answer needs {needed}")]
    TooFew {
        /// Found.
        found: usize,
        /// Needed.
        needed: usize,
    },
    /// Not separable.
    #[error(
        "stream not separable: single sparks stand apart in {share:.1} % of its light, {needed:.0} % are needed"
    )]
    NotSeparable {
        /// Measured, percent.
        share: f64,
        /// Needed, percent.
        needed: f64,
    },
}
