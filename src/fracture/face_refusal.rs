use thiserror::Error;

/// Why a photo of a fracture face cannot be read, with what was measured and what is needed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FaceRefusal {
    /// Nothing in the photo looks like one face.
    #[error(
        "no fracture face found: the best patch fills {overlap:.0} % of a rectangle or an ellipse, {needed:.0} % are needed"
    )]
    NoFace {
        /// How well the best patch fits a face's form, percent.
        overlap: f64,
        /// Needed, percent.
        needed: f64,
    },
    /// No outline parts a face from what is around it.
    #[error(
        "no fracture face stands out: just inside the best outline it looks {times:.1} times as much like a face as just \
         outside, {needed:.1} times are needed"
    )]
    Blended {
        /// Odds inside over odds outside, on the side where they are least.
        times: f64,
        /// Needed.
        needed: f64,
    },
    /// More than one face.
    #[error("{faces} faces in one photo: it is not known which is meant; 1 is allowed")]
    Several {
        /// Found.
        faces: usize,
    },
    /// The face leaves the picture.
    #[error(
        "the face is cut by the frame: {share:.0} % of its outline lies on the edge of the picture, {allowed:.0} % are allowed"
    )]
    CutByFrame {
        /// Measured, percent.
        share: f64,
        /// Allowed, percent.
        allowed: f64,
    },
    /// Too few pixels across the face.
    #[error("too far away: the face is {across:.0} px thick, {needed:.0} px are needed")]
    TooSmall {
        /// Thickness, px.
        across: f64,
        /// Needed, px.
        needed: f64,
    },
    /// A border was seen, but fewer pixels deep than can be measured.
    #[error("pixel too large: the rim that was seen is {deep:.1} px deep, {needed:.0} px are needed")]
    PixelTooLarge {
        /// Depth, px.
        deep: f64,
        /// Needed, px.
        needed: f64,
    },
    /// Not sharp.
    #[error("not sharp: brightness swings by {contrast:.1} % from grain to grain, {needed:.1} % are needed")]
    NotSharp {
        /// Measured, percent.
        contrast: f64,
        /// Needed, percent.
        needed: f64,
    },
    /// Too dark.
    #[error(
        "too dark: the face has {light:.1} % of the light that the picture can hold, {needed:.1} % are needed"
    )]
    TooDark {
        /// Middle brightness in linear light, percent.
        light: f64,
        /// Needed, percent.
        needed: f64,
    },
    /// Blown out.
    #[error("blown out: {share:.0} % of the face is white, {allowed:.0} % are allowed")]
    BlownOut {
        /// Measured, percent.
        share: f64,
        /// Allowed, percent.
        allowed: f64,
    },
    /// No relief to be seen.
    #[error(
        "the light is flat: brightness swings by {contrast:.1} % from grain to grain, {needed:.1} % are needed"
    )]
    FlatLight {
        /// Measured, percent.
        contrast: f64,
        /// Needed, percent.
        needed: f64,
    },
    /// Rust.
    #[error("oxidised over: {share:.0} % of the face is red or brown, {allowed:.0} % are allowed")]
    Oxidised {
        /// Measured, percent.
        share: f64,
        /// Allowed, percent.
        allowed: f64,
    },
    /// Scale: rust on it is brighter than what is around it.
    #[error(
        "scale lies over it: rust on {share:.0} % of the face is {times:.1} times as bright as the rest, and would be darker than \
         bare steel"
    )]
    Scaled {
        /// Measured, percent.
        share: f64,
        /// Measured.
        times: f64,
    },
    /// Stripes of a tool.
    #[error(
        "not a fracture: {share:.0} % of the face is striped in one direction like a sawn or ground face, {allowed:.0} % are allowed"
    )]
    Tooled {
        /// Measured, percent.
        share: f64,
        /// Allowed, percent.
        allowed: f64,
    },
    /// Corners that are told do not make a face.
    #[error("the outline that was told is no face: {why}")]
    BadOutline {
        /// What is wrong with it.
        why: &'static str,
    },
}
