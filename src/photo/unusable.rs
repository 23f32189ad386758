/// A photo that was given and not used.
#[derive(Debug, Clone, PartialEq)]
pub struct UnusedPhoto<R> {
    /// What it is called.
    pub name: String,
    /// Why.
    pub why: Unusable<R>,
}

/// Why a photo was not used; `R` says why a picture cannot be measured.
#[derive(Debug, Clone, PartialEq)]
pub enum Unusable<R> {
    /// It is a picture, but cannot be measured.
    Refused(R),
    /// It is no picture that can be read.
    NotRead {
        /// What is wrong with it.
        message: String,
        /// What to do.
        help: String,
    },
}
