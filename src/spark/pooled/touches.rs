use super::{Frame, PhotoNote, Series};
use crate::units::Time;

/// How photos were put into touches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Grouping {
    /// By the time that the camera wrote: a gap begins a new touch. Where a photo has none, each is a touch of its own.
    ByTime,
    /// So many photos, one touch after the other; what is left over is one more.
    Told(Vec<usize>),
}

impl Series {
    /// Puts photos into touches; `None` holds the place of a photo that cannot be used.
    pub fn of(photos: Vec<Option<Frame>>, grouping: &Grouping, gap: Time) -> (Self, Option<PhotoNote>) {
        match grouping {
            Grouping::Told(sizes) => (Self::told(photos, sizes), None),
            Grouping::ByTime => Self::by_time(photos.into_iter().flatten().collect(), gap),
        }
    }

    fn told(photos: Vec<Option<Frame>>, sizes: &[usize]) -> Self {
        let mut photos = photos.into_iter();
        let mut touches: Vec<Vec<Frame>> =
            sizes.iter().map(|n| photos.by_ref().take(*n).flatten().collect()).collect();
        touches.push(photos.flatten().collect());
        touches.retain(|touch| !touch.is_empty());
        Self { touches, inward: true }
    }

    fn by_time(photos: Vec<Frame>, gap: Time) -> (Self, Option<PhotoNote>) {
        let seconds = |f: &Frame| f.photo.exposed.taken.as_deref().and_then(seconds);
        let times: Option<Vec<i64>> = photos.iter().map(seconds).collect();
        let Some(times) = times else {
            let alone = photos.len() > 1;
            let touches = photos.into_iter().map(|f| vec![f]).collect();
            return (Self { touches, inward: false }, alone.then_some(PhotoNote::NoTimes));
        };
        let mut in_order: Vec<(i64, Frame)> = times.into_iter().zip(photos).collect();
        in_order.sort_by_key(|(time, _)| *time);
        let mut touches: Vec<Vec<Frame>> = Vec::new();
        let mut before = i64::MIN;
        for (time, frame) in in_order {
            match touches.last_mut() {
                Some(touch) if time.saturating_sub(before) as f64 <= gap.seconds() => touch.push(frame),
                _ => touches.push(vec![frame]),
            }
            before = time;
        }
        let note = (touches.len() > 1).then_some(PhotoNote::TouchesByTime { touches: touches.len() });
        (Self { touches, inward: true }, note)
    }
}

/// Seconds since some moment of a time as cameras write it: `2031:05:17 14:03:22`, with or without what follows.
fn seconds(taken: &str) -> Option<i64> {
    let numbers: Vec<i64> = taken
        .split(|c: char| !c.is_ascii_digit())
        .filter(|n| !n.is_empty())
        .take(6)
        .map(|n| n.parse().ok())
        .collect::<Option<_>>()?;
    let [year, month, day, hour, minute, second] = numbers[..] else { return None };
    let possible = (1..=9999).contains(&year) && (1..=12).contains(&month) && (1..=31).contains(&day);
    let possible =
        possible && (0..24).contains(&hour) && (0..60).contains(&minute) && (0..=60).contains(&second);
    // days of the Gregorian calendar, the year beginning in March
    let (year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let days = 365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + day;
    possible.then_some(((days * 24 + hour) * 60 + minute) * 60 + second)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_cameras() {
        let apart = |a: &str, b: &str| Some(seconds(b)? - seconds(a)?);
        assert_eq!(apart("2031:05:17 14:03:22", "2031:05:17 14:03:43"), Some(21));
        assert_eq!(apart("2028:02:28 23:59:59", "2028-02-29T00:00:00.25+01:00"), Some(1));
        assert_eq!(apart("2031:12:31 23:59:59", "2032:01:01 00:00:00"), Some(1));
        assert_eq!(apart("2027:02:28 12:00:00", "2027:03:01 12:00:00"), Some(86_400));
        for text in [
            "",
            "0000:00:00 00:00:00",
            "2031:13:01 00:00:00",
            "yesterday",
            "2031:05:17",
            "99999999999999999999:1:1 1:1:1",
        ] {
            assert_eq!(seconds(text), None, "{text}");
        }
    }
}
