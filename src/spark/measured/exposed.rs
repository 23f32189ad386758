/// What a camera writes about an exposure; `None`: it did not.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Exposed {
    /// Time that the shutter was open, s.
    pub seconds: Option<f64>,
    /// Aperture, f-number.
    pub f_number: Option<f64>,
    /// Sensitivity, ISO.
    pub iso: Option<f64>,
    /// Focal length, mm.
    pub focal_mm: Option<f64>,
    /// When it was taken, as the camera wrote it.
    pub taken: Option<String>,
}
