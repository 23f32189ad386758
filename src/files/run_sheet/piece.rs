use super::fault::Fault;
use super::field::Field;
use super::section::Section;
use crate::steel::{Bevels, CouponPlace, Piece, Wedge};
use crate::units::Depth;

const BEVELS: [(&str, Bevels); 2] = [("both", Bevels::Both), ("one", Bevels::One)];
const PLACES: [(&str, CouponPlace); 3] =
    [("same", CouponPlace::Same), ("hotter", CouponPlace::Hotter), ("colder", CouponPlace::Colder)];

/// Reads `[piece]`.
pub(super) fn read(section: &mut Section<'_>) -> Piece {
    let what = section.take("what").and_then(|f| f.text()).unwrap_or_else(|| "the piece".to_string());
    let thickness = section.take("thickness");
    let width = section.take("width");
    if let Some(alone) = thickness.as_ref().xor(width.as_ref()) {
        let fault = Fault::new(
            "thickness and width of the body are used together, and one of them is missing",
            "give both, or the piece's body is left out of the heating",
        );
        alone.reading.warning(alone.at, &alone.path, fault);
    }
    let thickness = thickness.and_then(|f| f.more_than_zero());
    let width = width.and_then(|f| f.more_than_zero());
    let edge_thickness: Option<Depth> = section.take("edge_thickness").and_then(|f| f.more_than_zero());
    if let (Some(edge), Some(thickness)) = (edge_thickness, thickness)
        && edge > thickness
    {
        let help = "thickness is the body's, edge_thickness that of the edge before grinding";
        section.warning(Fault::new("the edge is thicker than the piece", help));
    }
    let edge_angle = section.take("edge_angle").and_then(|f| {
        let told = Wedge::degrees_of(&f.text()?);
        f.settle(told.map_err(|why| Fault::new(why, "write it as \"20 degrees\"")))
    });
    let height = section.take("height").and_then(|f| f.more_than_zero());
    let off = section.take("metal_off");
    let metal_off = off.as_ref().and_then(Field::quantity);
    let bevels = section.take("bevels").and_then(|f| f.word(&BEVELS));
    let coupon_place = section.take("coupon_sat").and_then(|f| f.word(&PLACES));
    let piece = Piece {
        what,
        body: thickness.zip(width),
        edge_thickness,
        edge_angle,
        height,
        metal_off,
        bevels,
        coupon_place: coupon_place.unwrap_or(CouponPlace::Unknown),
    };
    if let (Some(field), Some(fault)) = (off, more_off_than_there_is(&piece)) {
        field.refuse::<()>(fault);
    }
    piece
}

fn more_off_than_there_is(piece: &Piece) -> Option<Fault> {
    let body = piece.body.map(|(thickness, _)| thickness);
    let (edge, off) = (piece.edge_thickness.or(body)?.millimetres(), piece.metal_off?.millimetres());
    let sides = if piece.bevels.unwrap_or(Bevels::Both) == Bevels::Both { 2.0 } else { 1.0 };
    let gone = off * sides;
    // An edge that both bevels just meet in is the usual case and stays.
    let rounding = 1e-9;
    (gone > edge + rounding).then(|| {
        let each = if sides > 1.0 { " off each of two sides" } else { " off" };
        let mm = |v: f64| (v * 1e3).round() / 1e3;
        Fault::new(
            format!("{} mm{each} is more than the {} mm that are there", mm(off), mm(edge)),
            "edge_thickness is the thickness at the soak; metal_off counts each ground side by itself",
        )
    })
}
