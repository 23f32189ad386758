/// What to know about figures from photos.
#[derive(Debug, Clone, PartialEq)]
pub enum PhotoNote {
    /// A photo shows the same picture as one before it and was not counted again.
    Copy {
        /// Its name.
        photo: String,
        /// The one that was counted.
        of: String,
    },
    /// Not all photos tell when they were taken: each is taken as a touch of its own.
    NoTimes,
    /// Touches were told apart by the time between photos.
    TouchesByTime {
        /// Touches.
        touches: usize,
    },
    /// Exposure times differ: counts are taken for each second of exposure.
    ExposuresDiffer {
        /// Mean of the coupon's, s.
        coupon: f64,
        /// Mean of the stock's, s.
        stock: f64,
    },
    /// Not all photos tell their exposure time: it is taken as the same, and counts against the stock are wider.
    ExposureUnknown,
    /// Sizes differ: lengths were brought to the first photo's.
    SizesDiffer,
    /// Focal lengths differ: lengths were brought to the first photo's.
    FocalLengthsDiffer,
    /// Some photos tell their focal length and others do not: lengths are taken as if it were the same.
    FocalLengthUnknown,
    /// Photos whose shutter was too short to read how long carriers are.
    ShutterTooShort {
        /// Photos.
        photos: usize,
    },
    /// Photos whose shutter was too long to tell bursts apart.
    ShutterTooLong {
        /// Photos.
        photos: usize,
    },
    /// How far a spark flies is not known: the share of carriers that burst depends on the shutter and is left out.
    FlightUnknown,
    /// The stream leaves the picture: its length, and where bursts begin, are not known.
    StreamLeavesPicture,
    /// No burst on the stock's photos: there is no ratio to them.
    StockWithoutBursts,
    /// No photo of untreated stock.
    NoStock,
    /// Only the first touches are the surface's.
    SurfaceTouches {
        /// Touches that are.
        used: usize,
        /// Touches in all.
        of: usize,
    },
    /// The wheel's diameter is told, but its rim is not seen well enough for a scale.
    RimUnseen,
    /// Nothing gives the scale: lengths are in pixels.
    NoScale,
    /// Not all photos tell sensitivity and aperture: brightness is that of the pictures.
    BrightnessUncorrected,
}
