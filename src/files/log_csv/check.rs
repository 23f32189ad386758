use super::cell::TimeCell;
use crate::files::problem::Problem;

/// A gap is longer than this many usual spacings, and
const GAP_IN_SPACINGS: f64 = 10.0;
/// longer than this many seconds.
const GAP_S: f64 = 600.0;

/// Order and spacing of a log's times, and all that was found wrong with the log.
pub(super) struct Check<'f> {
    file: &'f str,
    pub(super) errors: Vec<Problem>,
    pub(super) warnings: Vec<Problem>,
    start: Option<f64>,
    before: Option<(TimeCell, usize)>,
    spacings: Vec<(f64, usize)>,
}

impl<'f> Check<'f> {
    pub(super) fn new(file: &'f str) -> Self {
        Self {
            file,
            errors: Vec::new(),
            warnings: Vec::new(),
            start: None,
            before: None,
            spacings: Vec::new(),
        }
    }

    /// Seconds since the first time; `None`, with an error noted, if it is not later than the last.
    pub(super) fn rising(&mut self, time: TimeCell, column: &str, line: usize) -> Option<f64> {
        let start = *self.start.get_or_insert(time.seconds);
        let before = self.before.replace((time, line));
        let Some((last, last_line)) = before else { return Some(0.0) };
        let spacing = time.seconds - last.seconds;
        if spacing > 0.0 {
            self.spacings.push((spacing, line));
            // Below the start only after an error, and then nothing is used.
            return Some((time.seconds - start).max(0.0));
        }
        let (message, help) = if spacing == 0.0 {
            (
                format!("the same time as on line {last_line}"),
                "log seconds as well, or delete one of the lines",
            )
        } else if last.clock && time.clock && spacing < -12.0 * 3600.0 {
            (
                format!("the time falls from line {last_line}, as it does past midnight"),
                "count on past 24 hours (24:05, 25:10), or write the time since the start",
            )
        } else {
            (
                format!("the time goes back by {:.1} min from line {last_line}", -spacing / 60.0),
                "one log holds one run: split the file, or mend the time",
            )
        };
        self.errors.push(Problem::error(self.file, message).at_line(line).in_field(column).help(help));
        None
    }

    /// Warns of stretches without readings.
    pub(super) fn gaps(&mut self) {
        let mut sorted: Vec<f64> = self.spacings.iter().map(|&(s, _)| s).collect();
        sorted.sort_by(f64::total_cmp);
        let Some(&usual) = sorted.get(sorted.len() / 2) else { return };
        let longest = (usual * GAP_IN_SPACINGS).max(GAP_S);
        let gaps = self.spacings.iter().filter(|&&(s, _)| s > longest);
        self.warnings.extend(gaps.map(|&(spacing, line)| {
            let message = format!("no reading for {:.0} min before this line", spacing / 60.0);
            let help = "the temperature is taken to run straight across; say so if you know better";
            Problem::warning(self.file, message).at_line(line).help(help)
        }));
    }
}
