use super::border::{Stretch, Traced};
use crate::fracture::{BorderPoint, FacePhoto, SeenRim};
use crate::report::overlay::drawing::Drawing;
use crate::report::overlay::palette::Colour;
use crate::report::overlay::stencil::Stencil;

/// What is not the face.
const OUTSIDE: Colour = Colour([0; 3]);
/// Core.
const CORE: Colour = Colour([96; 3]);
/// From the edge to where the border most likely lies, where it was not read.
const UNREAD: Colour = Colour([176; 3]);
/// Case.
const CASE: Colour = Colour([255; 3]);

/// Case and core as a picture of the photo's size, `[width, height]` px: black outside the face, grey core (96 of 255),
/// white case (255), between them (176) where the border was not read; all of the face where nothing can be told of it.
pub fn face_mask([width, height]: [usize; 2], face: &FacePhoto) -> Drawing {
    let mut mask = Drawing::plain(width, height, OUTSIDE);
    let mut whole = Stencil::new(width, height);
    whole.add(&face.outline);
    let ground = match face.rim {
        SeenRim::None | SeenRim::Partial | SeenRim::AllRound => CORE,
        SeenRim::Through => CASE,
        SeenRim::Unclear => UNREAD,
    };
    whole.paint(&mut mask, ground, 1.0, |_, _| true);
    for (unread, colour) in [(true, UNREAD), (false, CASE)] {
        let mut area = Stencil::new(width, height);
        for side in &face.sides {
            let Traced { border, stretches, .. } = Traced::of(face, side);
            for (pair, kind) in border.windows(2).zip(stretches) {
                if (kind == Stretch::Unread) == unread {
                    area.add(&rim(&pair[0], &pair[1]));
                }
            }
        }
        area.paint(&mut mask, colour, 1.0, |x, y| whole.has(x, y));
    }
    mask
}

fn rim(a: &BorderPoint, b: &BorderPoint) -> [[f64; 2]; 4] {
    [a.from, a.best, b.best, b.from]
}
