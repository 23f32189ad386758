use crate::fracture::SeenGrain;
use crate::report::soak::Line;

/// The number that a well hardened case should have at least (common practice, no source), and that is asked for where
/// none was seen.
const FINE: f64 = 8.0;
/// Coming closer by less is not worth while (judgement).
const LEAST_CLOSER: f64 = 1.05;

/// Grain of the case.
pub(super) fn line(grain: &SeenGrain) -> Line {
    let (value, range) = match grain {
        SeenGrain::Number(number) => {
            let range = format!("{:.1} to {:.1} (drawn faces)", number.low(), number.high());
            (format!("No. {:.1}", number.best()), range)
        }
        SeenGrain::NotSeen { finest, nearest } => {
            let range = format!("No. {finest:.1} and coarser could be{}", closer(*finest, *nearest));
            ("not seen".into(), range)
        }
    };
    Line { label: "grain of the case (ASTM, Shepherd)".into(), value, range }
}

/// How much closer the camera must be to show fine grain: two numbers halve it.
fn closer(finest: f64, nearest: f64) -> String {
    let asked = FINE.min(nearest);
    let times = libm::exp2((asked - finest) / 2.0);
    if finest >= FINE {
        String::new()
    } else if times < LEAST_CLOSER {
        ": no finer on so large a face".into()
    } else {
        format!(", No. {asked:.1} from {times:.1} times closer")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Interval;

    #[test]
    fn a_number_or_how_close_the_camera_must_be() {
        let seen = SeenGrain::Number(Interval::new(2.0, 3.0, 5.0).unwrap());
        assert_eq!(line(&seen).value, "No. 3.0");
        let range = |finest, nearest| line(&SeenGrain::NotSeen { finest, nearest }).range;
        // No. 8 is three numbers finer than No. 5: 2.8 times smaller
        assert_eq!(range(5.0, 9.0), "No. 5.0 and coarser could be, No. 8.0 from 2.8 times closer");
        assert_eq!(range(5.0, 7.0), "No. 5.0 and coarser could be, No. 7.0 from 2.0 times closer");
        assert_eq!(range(6.0, 6.0), "No. 6.0 and coarser could be: no finer on so large a face");
        assert_eq!(range(8.2, 9.0), "No. 8.2 and coarser could be");
    }
}
