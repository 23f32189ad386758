use crate::files::problem::shown;
use crate::spark::ClickedScale;
use crate::units::{Depth, parse};

/// How a scale is written.
const WRITTEN: &str = "write x1,y1,x2,y2=100mm: two points in pixels from the top left corner of a photo, and how far \
                       apart they are";

/// Reads a scale, such as `120,80,620,85=100mm`; the error says what to do.
pub fn clicked_scale(text: &str) -> Result<ClickedScale, String> {
    let (points, length) = text.split_once('=').ok_or(WRITTEN)?;
    let points: Vec<f64> =
        points.split(',').map(|p| p.trim().parse::<f64>()).collect::<Result<_, _>>().map_err(|_| WRITTEN)?;
    let [x1, y1, x2, y2] = points[..] else { return Err(WRITTEN.into()) };
    if [x1, y1, x2, y2].iter().any(|p| !ClickedScale::PLACES.contains(p)) {
        return Err(format!("a point lies from 0 to {} pixels from the corner", ClickedScale::PLACES.end()));
    }
    let length = parse::<Depth>(length)
        .map_err(|_| format!("`{}` is no length such as 100mm or 4in", shown(length.trim())))?
        .value;
    ClickedScale::new([x1, y1], [x2, y2], length).ok_or_else(|| {
        format!(
            "the points must be more than {} pixels apart, and the length more than 0",
            ClickedScale::NEAREST
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_points_and_length() {
        let scale = clicked_scale("120, 80,620,80 = 4 in").unwrap();
        let mm = scale.mm_per_px(2.0).unwrap();
        assert!((mm.best() - 101.6 / 500.0).abs() < 1e-12);
        assert!(mm.low() < mm.best() && mm.best() < mm.high());
    }

    #[test]
    fn says_what_is_wrong() {
        for text in [
            "",
            "1,2,3=4mm",
            "1,2,3,4",
            "a,b,c,d=1mm",
            "1,2,1,2=10mm",
            "0,0,100,0=",
            "0,0,NaN,0=1mm",
            "0,0,1e9,0=1mm",
            "0,0,100,0=0 mm",
        ] {
            assert!(clicked_scale(text).is_err(), "{text}");
        }
    }
}
