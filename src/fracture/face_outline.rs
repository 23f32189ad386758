use thiserror::Error;

/// Where a face lies in a photo, as told: its four corners, or more points around a round one, px at full size from the
/// top left corner of the upright picture, in the order in which they go round.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceOutline {
    points: Vec<[f64; 2]>,
}

/// Corners of a face with sides.
const CORNERS: usize = 4;
/// Points that a round face needs: an ellipse has five numbers.
const AROUND: usize = 6;
/// Most points: judgement.
const MOST: usize = 200;
/// Least length between neighbouring points, px: judgement.
const LEAST: f64 = 4.0;

impl FaceOutline {
    /// Reads `x,y x,y x,y x,y`.
    pub fn parse(text: &str) -> Result<Self, OutlineError> {
        let points: Vec<[f64; 2]> = text.split_whitespace().map(point).collect::<Result<_, _>>()?;
        let given = points.len();
        if given != CORNERS && !(AROUND..=MOST).contains(&given) {
            return Err(OutlineError::Count { given });
        }
        let turns: Vec<f64> = (0..given).map(|i| turn([0, 1, 2].map(|k| points[(i + k) % given]))).collect();
        for (i, a) in points.iter().enumerate() {
            let b = points[(i + 1) % given];
            let apart = libm::hypot(b[0] - a[0], b[1] - a[1]);
            if apart < LEAST {
                return Err(OutlineError::Close { x: a[0], y: a[1], apart });
            }
        }
        // always to the same hand, and once round
        let round = points
            .iter()
            .enumerate()
            .map(|(i, a)| a[0] * points[(i + 1) % given][1] - a[1] * points[(i + 1) % given][0]);
        let area = round.sum::<f64>() / 2.0;
        let bent = turns.iter().any(|t| t * area <= 0.0);
        if bent || once_round(&points) > 1.5 {
            return Err(OutlineError::Crossed);
        }
        Ok(Self { points })
    }

    /// The points, px.
    pub fn points(&self) -> &[[f64; 2]] {
        &self.points
    }
}

fn point(text: &str) -> Result<[f64; 2], OutlineError> {
    let not_a_point = || OutlineError::NotAPoint { got: text.chars().take(40).collect() };
    let (x, y) = text.split_once(',').ok_or_else(not_a_point)?;
    let number = |t: &str| t.parse::<f64>().ok().filter(|v| v.is_finite() && *v >= 0.0);
    number(x).zip(number(y)).map(|(x, y)| [x, y]).ok_or_else(not_a_point)
}

/// Which way three points turn: twice the area between them.
fn turn([a, b, c]: [[f64; 2]; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
}

/// How many times the way round turns in all.
fn once_round(points: &[[f64; 2]]) -> f64 {
    let n = points.len();
    let heading = |i: usize| {
        let (a, b) = (points[i % n], points[(i + 1) % n]);
        libm::atan2(b[1] - a[1], b[0] - a[0])
    };
    let turns = (0..n).map(|i| {
        let by = heading(i + 1) - heading(i);
        // the shorter way
        by - std::f64::consts::TAU * (by / std::f64::consts::TAU).round()
    });
    (turns.sum::<f64>() / std::f64::consts::TAU).abs()
}

/// Why an outline cannot be meant. `Display` says what is wrong; [`OutlineError::help`] what to do.
#[derive(Debug, Clone, PartialEq, Error)]
#[allow(missing_docs)] // the variants' fields are shown by Display
pub enum OutlineError {
    #[error("`{got}` is no point; allowed: x,y in px, 0 and more")]
    NotAPoint { got: String },
    #[error("an outline of {given} points; allowed: 4 corners, or 6 to 200 points around a round face")]
    Count { given: usize },
    #[error("the points at {x},{y} and after it are {apart:.1} px apart; allowed: 4 px and more")]
    Close { x: f64, y: f64, apart: f64 },
    #[error("the points do not go round an area: its sides cross, lie on a line, or bend inward")]
    Crossed,
}

impl OutlineError {
    /// What to do about it.
    pub fn help(&self) -> String {
        match self {
            Self::NotAPoint { .. } | Self::Count { .. } => {
                "name the corners going round, such as \"210,180 940,195 930,920 205,905\"".into()
            }
            Self::Close { .. } => "name each corner once".into(),
            Self::Crossed => {
                "name the corners in the order in which they follow each other round the face".into()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_corners_either_way_round() {
        let way = FaceOutline::parse("210,180 940,195 930,920 205,905");
        assert_eq!(way.map(|o| o.points().len()), Ok(4));
        assert!(FaceOutline::parse("205,905 930,920 940,195 210,180").is_ok());
        let ring: Vec<String> = (0..12)
            .map(|i| f64::from(i) * 30.0_f64.to_radians())
            .map(|a| format!("{:.1},{:.1}", 300.0 + 90.0 * a.cos(), 250.0 + 80.0 * a.sin()))
            .collect();
        assert!(FaceOutline::parse(&ring.join("  ")).is_ok());
    }

    #[test]
    fn says_what_is_wrong() {
        let wrong = |text: &str| FaceOutline::parse(text).err();
        assert!(matches!(wrong("1,2 3,4 5"), Some(OutlineError::NotAPoint { .. })));
        assert!(matches!(wrong("1,2 3,nan 5,6 7,8"), Some(OutlineError::NotAPoint { .. })));
        assert!(matches!(wrong("-1,2 300,4 300,600 7,800"), Some(OutlineError::NotAPoint { .. })));
        assert_eq!(wrong(""), Some(OutlineError::Count { given: 0 }));
        assert_eq!(wrong("0,0 100,0 100,100"), Some(OutlineError::Count { given: 3 }));
        assert!(matches!(wrong("0,0 100,0 100,1 0,90"), Some(OutlineError::Close { .. })));
        // a bow tie, a line, a dent, a star that goes round twice
        for text in [
            "0,0 100,100 100,0 0,100",
            "0,0 100,0 200,0 300,0",
            "0,0 100,0 20,20 0,100",
            "100,0 159,181 5,69 195,69 41,181 88,36",
        ] {
            assert_eq!(wrong(text), Some(OutlineError::Crossed), "{text}");
        }
    }
}
