/// What is expected of a measure on photos against the published trend, before any steel of the rig is known: on the
/// scale of the measure, reading = centre + offset + slope (trend - centre) + drift of the day + scatter.
///
/// A photo shows fewer of its bursts the denser the stream is, so its readings lie lower and rise less than what an eye
/// is told of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotoLine {
    /// Mean of the rigs, and standard deviation from rig to rig. `None`: the measure is an amount, which on a photo has no
    /// number to be off from.
    pub offset: Option<(f64, f64)>,
    /// Slope against the trend's: mean of the rigs, and standard deviation from rig to rig.
    pub slope: (f64, f64),
    /// From day to day, standard deviation.
    pub drift: f64,
    /// From piece to piece beyond what their own ranges allow, standard deviation.
    pub scatter: f64,
}

/// One for each measure, in the order of [`super::SparkMeasure::ALL`]; `None`: photos tell nothing of carbon by it.
pub type PhotoLines = [Option<PhotoLine>; 8];
