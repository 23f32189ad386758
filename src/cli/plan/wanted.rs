//! What a soak is for, from options and sheets.

use super::PlanArgs;
use crate::crosscheck::Hardening;
use crate::files::Models;
use crate::plan::Target;
use crate::prediction::{Aim, DepthCriterion, Use};
use crate::steel::{Bevels, Piece, Stock, Wedge};
use crate::units::{CarbonPercent, Depth, Hrc};

/// What is wanted: by option, else by the sheet's aim.
pub(super) fn target(
    args: &PlanArgs,
    aim: Option<&Aim>,
    piece: Option<&Piece>,
    hardness: Option<(Hrc, CarbonPercent)>,
    models: &Models,
    name: &str,
) -> Result<Target, String> {
    let edge = piece.and_then(|p| p.edge_thickness);
    let criterion = args.criterion.or(aim.and_then(|a| a.criterion));
    if let Some(depth) = args.reach {
        return Ok(Target::Depth { criterion: criterion.unwrap_or(DepthCriterion::Total), depth });
    }
    // what is ground off a face must be there first
    let off = piece.filter(|p| p.edge_thickness.is_none()).and_then(|p| p.metal_off);
    let with_off = |depth: Depth| {
        let whole = off.map(|off| Depth::from_metres(depth.metres() + off.metres()));
        whole.and_then(Result::ok).unwrap_or(depth)
    };
    if let Some(depth) = args.depth {
        let criterion = criterion.unwrap_or(DepthCriterion::Total);
        return Ok(Target::Depth { criterion, depth: with_off(depth) });
    }
    let cuts = aim.is_some_and(|a| a.purpose == Some(Use::CuttingEdge));
    let asked = args.edge.or(aim.and_then(|a| a.edge_carbon).map(|c| c.low()));
    let asked = asked.or(hardness.filter(|_| edge.is_some()).map(|(_, carbon)| carbon));
    let wanted = asked.or_else(|| (cuts && edge.is_some()).then_some(models.need.wanted.value));
    match (wanted, edge, aim.and_then(|a| a.depth)) {
        (Some(carbon), Some(thickness), _) => fits(carbon, thickness, piece, name),
        // a sheet's depth counts by what an eye sees, unless it says otherwise: as for `check`
        (_, _, Some(depth)) if args.edge.is_none() => Ok(Target::Depth {
            criterion: criterion.unwrap_or(DepthCriterion::Visible),
            depth: with_off(depth.low()),
        }),
        (Some(_), None, _) => Err(format!(
            "error: {name}: how thick the edge is in the pack is not told, so its carbon cannot be planned for\n \
             help: add --edge-thickness 1.5mm, or edge_thickness in [piece]"
        )),
        (None, ..) => Err(format!(
            "error: {name}: nothing says what the soak is for\n \
             help: add --depth 0.8mm, or --edge 0.6 with --edge-thickness; in a sheet, depth or edge_carbon in [aim]"
        )),
    }
}

/// The hardness that is wanted after the temper, with the carbon that it takes.
pub(super) fn hardness(
    args: &PlanArgs,
    aim: Option<&Aim>,
    stock: &Stock,
    models: &Models,
    name: &str,
) -> Result<Option<(Hrc, CarbonPercent)>, String> {
    let Some(hrc) = args.hardness.or(aim.and_then(|a| a.hardness).map(|h| h.low())) else { return Ok(None) };
    let (need, phase) = (&models.need, &models.phase);
    let hardening = Hardening { hardness: &models.hardness, phase, alloy: need.alloy(stock.manganese) };
    let carbon = hardening.carbon_for(need, hrc).map_err(|hardest| {
        format!(
            "error: {name}: no plain carbon steel keeps {:.0} HRC after {:.0} h at {:.0} °C\n \
             help: ask for {:.0} HRC or less; an edge wants 56 to 60 HRC",
            hrc.points(),
            need.temper_time.value.minutes() / 60.0,
            need.temper.value.celsius(),
            hardest.floor()
        )
    })?;
    Ok(Some((hrc, carbon)))
}

/// The shape of the edge, if its angle is told.
pub(super) fn wedge(args: &PlanArgs, piece: Option<&Piece>, name: &str) -> Result<Option<Wedge>, String> {
    let angle = args.edge_angle.or(piece.and_then(|p| p.edge_angle));
    let height = args.height.or(piece.and_then(|p| p.height));
    let (degrees, height) = match (angle, height) {
        (None, None) => return Ok(None),
        (Some(degrees), Some(height)) => (degrees, height),
        (angle, _) => {
            let (has, lacks) = if angle.is_some() { ("angle", "height") } else { ("height", "edge-angle") };
            return Err(format!(
                "error: {name}: the {has} of the edge alone draws no cross-section\n \
                 help: add --{lacks}, or {} in [piece]",
                lacks.replace('-', "_")
            ));
        }
    };
    let edge = piece.and_then(|p| p.edge_thickness).ok_or_else(|| {
        format!(
            "error: {name}: an angle alone makes no edge: how thick it is in the pack is not told\n \
             help: add --edge-thickness 1mm, or edge_thickness in [piece]"
        )
    })?;
    Ok(Wedge::new(degrees, edge, height))
}

/// The edge, if grinding leaves any of it.
fn fits(
    carbon: CarbonPercent,
    thickness: Depth,
    piece: Option<&Piece>,
    name: &str,
) -> Result<Target, String> {
    let sides = if piece.and_then(|p| p.bevels) == Some(Bevels::One) { 1.0 } else { 2.0 };
    let gone = sides * piece.and_then(|p| p.metal_off).map_or(0.0, Depth::millimetres);
    if gone > thickness.millimetres() + 1e-9 {
        return Err(format!(
            "error: {name}: {gone:.2} mm comes off an edge that is {:.2} mm thick: nothing is left of it\n \
             help: --grind counts each ground side by itself; --edge-thickness is the thickness in the pack",
            thickness.millimetres()
        ));
    }
    Ok(Target::Edge { carbon })
}
