use super::plural;
use crate::spark::PhotoNote;

/// What to know of figures from photos, in words.
pub(super) fn note(note: &PhotoNote) -> String {
    match note {
        PhotoNote::Copy { photo, of } => {
            format!("{photo} shows the same picture as {of}: counted once. Copies tell nothing new.")
        }
        PhotoNote::NoTimes => "Not all photos tell when they were taken, so each counts as a touch of its own. Say which \
                               belong together with --touch 2,3 (two frames of the first touch, three of the next)."
            .into(),
        PhotoNote::TouchesByTime { touches } => {
            format!("{touches} touches, told apart by the time between photos. --touch says it for sure.")
        }
        PhotoNote::ExposuresDiffer { coupon, stock } => format!(
            "Coupon and stock were exposed for {} and {} on the average: counts are compared for each second.",
            seconds(*coupon),
            seconds(*stock)
        ),
        PhotoNote::ExposureUnknown => "Not all photos tell their exposure time: it is taken as the same for coupon and \
                                       stock, and ratios of counts are wider."
            .into(),
        PhotoNote::SizesDiffer => "Photos differ in size: lengths were brought to the first one's, as if it were the same \
                                   view."
            .into(),
        PhotoNote::FocalLengthsDiffer => {
            "Focal lengths differ: lengths were brought to the first photo's.".into()
        }
        PhotoNote::FocalLengthUnknown => {
            "Some photos tell no focal length: it is taken as the same, so leave the zoom alone.".into()
        }
        PhotoNote::ShutterTooShort { photos } => format!(
            "{}: the shutter was too short to read how long carriers are. Counts along carriers hold; for lengths take \
             1/30 to 1/15 s.",
            plural(*photos, "photo")
        ),
        PhotoNote::ShutterTooLong { photos } => format!(
            "{}: the shutter was so long that sparks lie over each other. For bursts and rays take 1/250 to 1/160 s.",
            plural(*photos, "photo")
        ),
        PhotoNote::FlightUnknown => "How far a spark flies could not be read: the share of carriers that burst depends on \
                                     the shutter then, and carbon is not read from it. Step back so that the whole stream \
                                     is in the picture."
            .into(),
        PhotoNote::StreamLeavesPicture => {
            "The stream leaves the picture: its length, and where bursts begin, are not known. Step back.".into()
        }
        PhotoNote::StockWithoutBursts => "No burst was found on the stock: no ratio of bursts. Take more photos of it.".into(),
        PhotoNote::NoStock => "No photo of untreated stock: only what needs none was used. Spark a piece of it on the same \
                               wheel, and give its photos with --against."
            .into(),
        PhotoNote::SurfaceTouches { used, of } => {
            format!("{used} of {of} touches show the surface; the later ones come from deeper and are not in the answer.")
        }
        PhotoNote::RimUnseen => "The wheel's rim is not seen over a quarter of its turn, or not square on: its diameter gives \
                                 no scale. Click two of its points instead: --scale x1,y1,x2,y2=150mm."
            .into(),
        PhotoNote::NoScale => "No scale: lengths are in pixels, and only measures that need none were used. --scale \
                               x1,y1,x2,y2=100mm gives it from two points of the first photo."
            .into(),
        PhotoNote::BrightnessUncorrected => "Not all photos tell ISO and aperture: brightness is that of the pictures and \
                                             not to be compared."
            .into(),
    }
}

fn seconds(s: f64) -> String {
    if s < 0.5 { format!("1/{:.0} s", 1.0 / s) } else { format!("{s:.1} s") }
}
