use super::drawing::Drawing;
use super::lettering::{CAPITAL, width, write};
use super::palette::{Colour, INK};
use super::pen::{Pen, between, distance};

/// Left, top, right, bottom, px.
pub(super) type Area = [f64; 4];

/// Words beside marks, each where it covers least.
pub(super) struct Labels {
    marks: Vec<Area>,
    plates: Vec<Area>,
}

/// How much worse it is to cover a word than a mark. Judgement: half a ring is still a ring.
const WORD: f64 = 5.0;

impl Labels {
    /// With marks that should stay to be seen.
    pub(super) fn new(marks: Vec<Area>) -> Self {
        Self { marks, plates: Vec::new() }
    }

    /// Writes a word of letters `size` px high on a plate of ink beside a mark; a line leads to it if it is not
    /// right beside.
    pub(super) fn write(&mut self, on: &mut Drawing, size: f64, mark: Area, colour: Colour, word: &str) {
        let margin = size * 0.12;
        let plate = [width(word, size) + 2.0 * margin, size * CAPITAL + 2.0 * margin];
        let room = [on.width() as f64, on.height() as f64];
        let covers = |area: &Area| -> f64 {
            let of = |areas: &[Area]| areas.iter().map(|t| shared(area, t)).sum::<f64>();
            of(&self.marks) + WORD * of(&self.plates)
        };
        let mut best: Option<(f64, Area)> = None;
        for away in [0.0, 1.0, 2.0].map(|step| step * size) {
            for corner in around(mark, plate, away) {
                let [left, top] = [0, 1].map(|k| corner[k].clamp(0.0, (room[k] - plate[k]).max(0.0)));
                let area = [left, top, left + plate[0], top + plate[1]];
                let cost = covers(&area);
                // the first of the best, so that a free mark has its word to the right
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, area));
                }
            }
        }
        let Some((_, area)) = best else { return };
        let [middle, word_middle] = [mark, area].map(|a| [0, 1].map(|k| f64::midpoint(a[k], a[k + 2])));
        // from the circle that fills the mark
        let rim = (mark[2] - mark[0]) / 2.0 / distance(middle, word_middle);
        if rim < 1.0 {
            let line = vec![between(middle, word_middle, rim), word_middle];
            Pen::new(colour, size / 20.0).draw(on, &[line]);
        }
        on.fill_rectangle(area, INK);
        write(on, [area[0] + margin, area[1] + margin], size, colour, word);
        self.plates.push(area);
    }
}

/// Top left corners of eight places around a mark, `away` px from it: right, left, above, below, then the corners.
fn around(mark: Area, [width, height]: [f64; 2], away: f64) -> [[f64; 2]; 8] {
    let [left, top, right, bottom] =
        [mark[0] - away - width, mark[1] - away - height, mark[2] + away, mark[3] + away];
    let [x, y] =
        [f64::midpoint(mark[0], mark[2]) - width / 2.0, f64::midpoint(mark[1], mark[3]) - height / 2.0];
    [[right, y], [left, y], [x, top], [x, bottom], [right, top], [right, bottom], [left, top], [left, bottom]]
}

/// Area that two share, px².
fn shared(a: &Area, b: &Area) -> f64 {
    let side = |k: usize| (a[k + 2].min(b[k + 2]) - a[k].max(b[k])).max(0.0);
    side(0) * side(1)
}
