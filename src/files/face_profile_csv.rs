//! Depths along the sides of photographed faces as a table.

use super::face_photos_twin::side_code;
use crate::fracture::{BorderPoint, FaceFrame, FacePhoto, LookedAtFaces, SideSeen};

/// `face,photo,side,unit,along,depth_low,depth,depth_high,read,corner`: a row for each place along each side. Lengths in
/// mm where the scale is known, else as shares of the thickness; `along` is measured on the outline as it lies in the
/// photo.
pub fn face_profile_csv(seen: &LookedAtFaces) -> Result<Vec<u8>, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record([
        "face",
        "photo",
        "side",
        "unit",
        "along",
        "depth_low",
        "depth",
        "depth_high",
        "read",
        "corner",
    ])?;
    for (face, photographed) in [("coupon", &seen.coupon), ("blank", &seen.blank)] {
        for FaceFrame { name, photo } in photographed.iter().flat_map(|p| &p.photos) {
            let (unit, scale) = photo.thickness_mm().map_or(("share", 1.0), |mm| ("mm", mm));
            for side in &photo.sides {
                for row in rows(photo, side, scale) {
                    let [along, low, depth, high] = row.lengths.map(|v| format!("{v:.5}"));
                    let [read, corner] = [row.read, row.corner].map(|yes| if yes { "yes" } else { "no" });
                    let side = side_code(side.name);
                    writer
                        .write_record([face, name, side, unit, &along, &low, &depth, &high, read, corner])?;
                }
            }
        }
    }
    writer.into_inner().map_err(|e| e.into_error().into())
}

struct Row {
    /// Along the side; depth, lowest, best, highest.
    lengths: [f64; 4],
    read: bool,
    corner: bool,
}

fn rows(photo: &FacePhoto, side: &SideSeen, scale: f64) -> Vec<Row> {
    // inward is foreshortened otherwise than along: a side that was measured knows its own scale
    let inward = side.case.and_then(|c| Some(c.median_mm?.best() / c.median.best()));
    let inward = inward.filter(|mm| mm.is_finite()).unwrap_or(scale);
    let corners = photo.corners(side);
    let places = side.border.iter().zip(side.along()).zip(corners);
    let row = |((point, along), corner): ((&BorderPoint, f64), bool)| {
        let [low, best, high] = point.depths(photo.thickness_px).map(|share| share * inward);
        Row {
            lengths: [along / photo.thickness_px * scale, low, best, high],
            read: point.read && side.unread.is_none(),
            corner,
        }
    };
    places.map(row).collect()
}
