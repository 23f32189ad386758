use super::UNSURE;
use super::bursts::{Ring, rays};
use super::carriers::{BY_TURNS, beside, mark};
use super::contact::{cross, fan, pointer};
use super::drawing::{Drawing, Point};
use super::face::FaceKey;
use super::left_out::hatch;
use super::lettering::{CAPITAL, advance, write};
use super::palette::{Colour, INK, VERMILLION, WHITE};
use super::pen::Pen;
use super::view::View;
use crate::report::page::wrapped;
use crate::spark::{CarrierEnd, StreamPhoto, WhyLeftOut};

/// What stands below the photo: rows of marks with their words, or words alone.
pub(super) struct Legend {
    entries: Vec<(Key, String)>,
    words: String,
}

/// A mark of the legend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Key {
    Carriers,
    Unsure,
    End(CarrierEnd),
    Burst,
    BurstAgain,
    Contact,
    Outside,
    Direction,
    LeftOut(WhyLeftOut),
    Face(FaceKey),
}

/// Width of a mark and the gap to its words, letters' heights.
const KEY: f64 = 3.6;
/// Margin around the whole and gap between columns, letters' heights.
const MARGIN: f64 = 0.8;
/// From line to line, letters' heights.
const LEADING: f64 = 1.7;
/// Of words that run over several lines.
const TIGHT: f64 = 1.25;

impl Legend {
    /// Of what was found; only what is there is explained.
    pub(super) fn of(found: &StreamPhoto, contact_in_view: bool) -> Self {
        let mut entries = Vec::new();
        let unsure = found.carriers.iter().filter(|c| c.certainty < UNSURE).count()
            + found.bursts.iter().filter(|b| b.certainty < UNSURE).count();
        let ends = |end| {
            let of = found.carriers.iter().flat_map(|c| [c.start, c.end]);
            of.filter(|e| *e == end).count()
        };
        let again = found.bursts.iter().filter(|b| b.tier > 1).count();
        let rays: usize = found.bursts.iter().map(rays).sum();
        let mut add = |there: bool, key: Key, words: String| {
            if there {
                entries.push((key, words));
            }
        };
        add(true, Key::Carriers, counted(found.carriers.len(), "carrier"));
        let (cut, hidden) = (ends(CarrierEnd::Cut), ends(CarrierEnd::Hidden));
        add(cut > 0, Key::End(CarrierEnd::Cut), format!("{} cut off", counted(cut, "end")));
        add(hidden > 0, Key::End(CarrierEnd::Hidden), format!("{} hidden", counted(hidden, "end")));
        let bursts = format!("{}, {}", counted(found.bursts.len(), "burst"), counted(rays, "ray"));
        add(true, Key::Burst, bursts);
        add(again > 0, Key::BurstAgain, format!("{again} of them secondary"));
        add(unsure > 0, Key::Unsure, format!("{unsure} unsure"));
        add(contact_in_view, Key::Contact, "contact with wheel".into());
        add(!contact_in_view, Key::Outside, "wheel is that way".into());
        let wide = found.stream.opening.best();
        add(true, Key::Direction, format!("stream, {wide:.0} deg wide"));
        for (why, words) in [
            (WhyLeftOut::Dense, "too dense to count"),
            (WhyLeftOut::Blown, "blown out"),
            (WhyLeftOut::Clutter, "other light, left out"),
        ] {
            let there = found.left_out.iter().any(|p| p.why == why);
            add(there, Key::LeftOut(why), words.into());
        }
        let words =
            format!("Single sparks could be told apart in {:.0} % of the stream.", found.resolved * 100.0);
        Self { entries, words }
    }

    /// Of these marks, with words below them.
    pub(super) fn with(entries: Vec<(Key, String)>, words: String) -> Self {
        Self { entries, words }
    }

    /// Of a photo that is refused.
    pub(super) fn refused(words: String) -> Self {
        Self { entries: Vec::new(), words }
    }

    /// How wide it has to be, px.
    pub(super) fn least_width(&self, text: f64) -> f64 {
        // a refusal: forty letters to a line
        let column = if self.entries.is_empty() { 40.0 * advance(text) } else { self.column(text) };
        column + MARGIN * text
    }

    /// How high it becomes, px.
    pub(super) fn height(&self, width: f64, text: f64) -> f64 {
        let rows = self.rows(width, text) as f64 * LEADING;
        let lines = self.lines(width, text).len() as f64 * TIGHT;
        (rows + lines + 2.0 * MARGIN) * text
    }

    /// Width of a column with the gap before it, px.
    fn column(&self, text: f64) -> f64 {
        let letters = self.entries.iter().map(|(_, words)| words.chars().count()).max().unwrap_or(0);
        (KEY + MARGIN) * text + advance(text) * letters as f64
    }

    fn rows(&self, width: f64, text: f64) -> usize {
        let columns = ((width - MARGIN * text) / self.column(text)).floor().max(1.0);
        self.entries.len().div_ceil(columns as usize)
    }

    fn lines(&self, width: f64, text: f64) -> Vec<String> {
        let letters = (width - 2.0 * MARGIN * text) / advance(text);
        wrapped(&self.words, (letters as usize).max(1))
    }

    /// Draws it.
    pub(super) fn draw(&self, width: usize, view: &View) -> Drawing {
        let text = view.text;
        let height = self.height(width as f64, text).ceil() as usize;
        let mut on = Drawing::plain(width, height, INK);
        let rows = self.rows(width as f64, text).max(1);
        let mut top = MARGIN * text;
        for (i, (key, words)) in self.entries.iter().enumerate() {
            let left = MARGIN * text + self.column(text) * (i / rows) as f64;
            let y = top + LEADING * text * (i % rows) as f64;
            key.draw(&mut on, view, [left, y + text * CAPITAL / 2.0]);
            write(&mut on, [left + KEY * text, y], text, WHITE, words);
        }
        if !self.entries.is_empty() {
            top += LEADING * text * rows as f64;
        }
        for line in self.lines(width as f64, text) {
            write(&mut on, [MARGIN * text, top], text, WHITE, &line);
            top += TIGHT * text;
        }
        let (bar, colour) = if self.entries.is_empty() { (0.3, VERMILLION) } else { (0.06, WHITE) };
        on.fill_rectangle([0.0, 0.0, width as f64, bar * text], colour);
        on
    }
}

/// "1 burst", "2 bursts".
fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

impl Key {
    /// Draws the mark as it is in the photo; `left` is the middle of its left side.
    fn draw(self, on: &mut Drawing, view: &View, left: Point) {
        let text = view.text;
        let [x, y] = left;
        let middle = [x + text * 1.5, y];
        let along = |dy: f64| vec![[x, y + dy], [x + text * 3.0, y + dy]];
        match self {
            Self::Carriers | Self::Unsure => {
                let streak = Pen::new(Colour([255, 214, 150]), view.line() * 0.8);
                for (colour, dy) in BY_TURNS.into_iter().zip([-0.2, 0.35]) {
                    let path = along(dy * text);
                    streak.draw(on, std::slice::from_ref(&path));
                    let pen = Pen::new(colour, view.line()).dashed(self == Self::Unsure);
                    pen.draw(on, &[beside(view, &path, view.line() * 0.4)]);
                }
            }
            Self::End(end) => {
                let path = vec![[x + text * 2.0, y], [x, y]];
                Pen::new(BY_TURNS[0], view.line()).draw(on, std::slice::from_ref(&path));
                mark(on, view, end, &path);
            }
            Self::Burst | Self::BurstAgain => {
                let reach = text * if self == Self::Burst { 0.45 } else { 0.3 };
                let tips = [80.0, 200.0, 320.0].map(|a| super::pen::towards(middle, a, reach)).to_vec();
                let (rays, again) = (tips.len(), self == Self::BurstAgain);
                let ring = Ring { at: middle, tips, rays, again, unsure: false };
                ring.draw(on, view);
            }
            Self::Contact => cross(on, view, middle),
            Self::Outside => pointer(on, view, middle, [x - text, y]),
            Self::Direction => fan(on, &View { text: text * 0.55, ..*view }, left, 0.0, 40.0),
            Self::LeftOut(why) => {
                let half = text * 0.65;
                hatch(on, view, &[[x, y - half, x + text * 3.0, y + half]], why);
            }
            Self::Face(key) => key.draw(on, view, left),
        }
    }
}
