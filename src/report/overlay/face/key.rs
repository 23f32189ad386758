use super::border::{BAND, BORDER, CORNER, OUTLINE, Stretch, Traced, hatch};
use crate::fracture::{FacePhoto, SeenRim};
use crate::report::faces::{percent, rim};
use crate::report::number::DEPTH;
use crate::report::overlay::drawing::{Drawing, Point};
use crate::report::overlay::legend::{Key, Legend};
use crate::report::overlay::pen::Pen;
use crate::report::overlay::stencil::Stencil;
use crate::report::overlay::view::View;

/// A mark of a face's legend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::report::overlay) enum FaceKey {
    Outline,
    Border,
    Corner,
    Unread,
}

/// What stands below a face: only what is there is explained.
pub(super) fn legend(face: &FacePhoto) -> Legend {
    let all: Vec<Stretch> = face.sides.iter().flat_map(|side| Traced::of(face, side).stretches).collect();
    let there = |kind: Stretch| all.contains(&kind);
    let entries = [
        (true, FaceKey::Outline, "edge of the face"),
        (there(Stretch::Side), FaceKey::Border, "case ends, 9 in 10"),
        (there(Stretch::Corner), FaceKey::Corner, "the same in corners"),
        (there(Stretch::Unread), FaceKey::Unread, "not read"),
    ];
    let entries = entries.into_iter().filter(|(there, ..)| *there);
    Legend::with(entries.map(|(_, key, words)| (Key::Face(key), words.to_string())).collect(), words(face))
}

fn words(face: &FacePhoto) -> String {
    let rim = match face.rim {
        SeenRim::Unclear => "Whether there is a rim cannot be told.".into(),
        known => format!("The photo shows: {}.", rim(known)),
    };
    match face.depth().filter(|_| face.rim.has_edge()) {
        Some((_, Some(mm))) => format!("{rim} Visible case depth {}.", DEPTH.with_range(&mm)),
        Some((share, None)) => format!("{rim} Visible case depth {} of the thickness.", percent(&share)),
        None => rim,
    }
}

impl FaceKey {
    /// Draws the mark as it is in the photo; `left` is the middle of its left side.
    pub(in crate::report::overlay) fn draw(self, on: &mut Drawing, view: &View, left: Point) {
        let [x, y] = left;
        let (end, half) = (x + view.text * 3.0, view.text * 0.5);
        let line = |colour| Pen::new(colour, view.line());
        let mut area = Stencil::new(on.width(), on.height());
        area.add(&[[x, y - half], [end, y - half], [end, y + half], [x, y + half]]);
        let path = vec![vec![[x, y], [end, y]]];
        match self {
            Self::Outline => line(OUTLINE).draw(on, &path),
            Self::Border | Self::Corner => {
                let colour = if self == Self::Border { BORDER } else { CORNER };
                area.paint(on, colour, BAND, |_, _| true);
                line(colour).dashed(self == Self::Corner).draw(on, &path);
            }
            Self::Unread => hatch(on, view, &area),
        }
    }
}
