//! What is planned, from options and sheets.

use super::PlanArgs;
use super::args::Work;
use super::wanted::{hardness, target, wedge};
use crate::cli::earlier::HistoryArgs;
use crate::crosscheck::EarlierRuns;
use crate::files::problem::harmless;
use crate::files::{Models, PlannedSheet, Problem, ProblemList, RunSheet, UnknownName};
use crate::plan::{Intent, LastHeat, PlanError};
use crate::prediction::ModelChoice;
use crate::soak::{Pack, SoakRecord, Thermometer, ThermometerPlace};
use crate::steel::{Coupon, CouponPlace, Faces, Piece, Shape, Stock};
use crate::units::{Depth, Temperature};
use std::path::Path;

/// How much wider than thick a plate is taken where nobody said (judgement): a bar for a blade.
const WIDE: f64 = 4.0;

/// What is planned, what it is called, and what is odd in its sheet.
pub(super) struct Told {
    pub(super) name: String,
    pub(super) intent: Intent,
    /// The soak that the steel has been through.
    pub(super) before: Option<RunSheet>,
    /// Earlier runs that were asked for.
    pub(super) earlier: Option<EarlierRuns>,
    pub(super) warnings: Vec<Problem>,
}

/// From options, and a sheet of a run that is only planned.
pub(super) fn from_options(args: &PlanArgs, models: &Models) -> Result<Told, String> {
    // clap does not ask for what is required where another of the options given excludes it
    let of_a_soak = [("--history", args.history.is_some()), ("--go-on", args.go_on), ("--quick", args.quick)];
    if let Some((option, _)) = of_a_soak.iter().find(|(_, given)| *given) {
        return Err(format!(
            "error: {option} speaks of a soak that the steel has been through, and none is named\n help: name its sheet \
             with --from, or leave {option} out"
        ));
    }
    let sheet = match &args.run {
        Some(path) => PlannedSheet::read_file(path, models).map_err(|p| ProblemList(&p).to_string())?,
        None => nothing_told(models)?,
    };
    let name = args.run.as_deref().map_or_else(|| "plan".into(), shown);
    let mut stock = sheet.stock;
    if let Some(grade) = &args.steel {
        let grade = models.grade(grade).map_err(|e| unknown("--steel", &e))?;
        stock = Stock { name: grade.name.clone(), carbon: grade.carbon.value, manganese: grade.manganese };
    }
    let mut pack = sheet.pack;
    if let Some(compound) = &args.compound {
        pack.compound = models.compound(compound).map_err(|e| unknown("--compound", &e))?.clone();
    }
    pack.container = args.container.or(pack.container);
    let piece = piece(args, sheet.piece);
    let body = piece.as_ref().and_then(|p| p.body).map(|(thickness, _)| thickness);
    let shape = match (args.work, body, sheet.coupon) {
        (Some(work), ..) => work.shape,
        (None, Some(thickness), _) => Shape::Flat { thickness: Some(thickness), faces: Faces::Both },
        (None, None, Some(coupon)) => coupon.shape,
        (None, None, None) => Shape::Flat { thickness: None, faces: Faces::Both },
    };
    let hardness = hardness(args, sheet.aim.as_ref(), &stock, models, &name)?;
    let intent = Intent {
        wedge: wedge(args, piece.as_ref(), &name)?,
        target: target(args, sheet.aim.as_ref(), piece.as_ref(), hardness, models, &name)?,
        hardness,
        temperature: temperature(args, sheet.soak.as_ref(), &sheet.model, models, &name)?,
        thermometer: thermometer(args.thermometer, sheet.soak, models)?,
        coupon: Coupon { shape, length: None, width: None, mass_before: None, mass_after: None },
        first_seen: false,
        weighed: args.coupon.or(sheet.coupon).filter(|coupon| coupon.packed_area().is_some()),
        choice: sheet.model,
        heat_up: args.heat_up,
        history: None,
        stock,
        pack,
        piece,
    };
    Ok(Told { name, intent, before: None, earlier: None, warnings: sheet.warnings })
}

/// From the sheet of a soak that the steel has been through, or is in.
pub(super) fn from_run(args: &PlanArgs, models: &Models) -> Result<Told, String> {
    let Some(path) = &args.from else { return from_options(args, models) };
    let sheet = RunSheet::read_file(path, models).map_err(|p| ProblemList(&p).to_string())?;
    let name = shown(path);
    let told = |e: PlanError| format!("error: {name}: {e}\n help: {}", e.help());
    if args.go_on {
        let physics = models.physics(None).map_err(|e| format!("error: {e}"))?;
        if LastHeat::of(&sheet.soak, &physics).map_err(told)?.cooled {
            return Err(told(PlanError::CooledAlready));
        }
    }
    if args.edge_angle.or(args.height.map(Depth::metres)).is_some() {
        return Err(format!(
            "error: {name}: what a first soak left behind the edge is not kept, so a second one draws no cross-section\n \
             help: leave --edge-angle and --height out; the carbon of the edge itself is planned by [piece], edge_thickness"
        ));
    }
    let hardness = hardness(args, sheet.aim.as_ref(), &sheet.stock, models, &name)?;
    let earlier = HistoryArgs { history: args.history.clone() }.told(path, &sheet)?;
    let intent = Intent {
        wedge: None,
        target: target(args, sheet.aim.as_ref(), sheet.piece.as_ref(), hardness, models, &name)?,
        hardness,
        temperature: temperature(args, Some(&sheet.soak), &sheet.model, models, &name)?,
        thermometer: sheet.soak.thermometer.clone(),
        coupon: *sheet.run().coupon,
        first_seen: false,
        weighed: args.coupon,
        choice: sheet.model.clone(),
        heat_up: args.heat_up,
        history: earlier.as_ref().and_then(EarlierRuns::told).cloned(),
        stock: sheet.stock.clone(),
        pack: sheet.pack.clone(),
        piece: sheet.piece.clone(),
    };
    let warnings = sheet.warnings.clone();
    Ok(Told { name, intent, before: Some(sheet), earlier, warnings })
}

fn nothing_told(models: &Models) -> Result<PlannedSheet, String> {
    let grade = models.grade(&models.default_grade).map_err(|e| unknown("--steel", &e))?;
    let compound = models.compound(&models.default_compound).map_err(|e| unknown("--compound", &e))?;
    Ok(PlannedSheet {
        stock: Stock { name: grade.name.clone(), carbon: grade.carbon.value, manganese: grade.manganese },
        coupon: None,
        piece: None,
        pack: Pack {
            container: None,
            compound: compound.clone(),
            vent: None,
            distance_from_wall: None,
            wholly_in_heat: None,
        },
        soak: None,
        model: ModelChoice::default(),
        aim: None,
        warnings: Vec::new(),
    })
}

/// The piece of the sheet with what the options say of it.
fn piece(args: &PlanArgs, told: Option<Piece>) -> Option<Piece> {
    let body = args.work.and_then(|Work { shape, width }| match shape {
        Shape::Flat { thickness: Some(t), .. } => {
            Some((t, width.or_else(|| Depth::from_metres(WIDE * t.metres()).ok())?))
        }
        _ => None,
    });
    let asked =
        body.is_some() || args.edge_thickness.is_some() || args.grind.is_some() || args.bevels.is_some();
    let unknown = || Piece {
        what: "the piece".into(),
        body: None,
        edge_thickness: None,
        edge_angle: None,
        height: None,
        metal_off: None,
        bevels: None,
        coupon_place: CouponPlace::Same,
    };
    let mut piece = told.or_else(|| asked.then(unknown))?;
    piece.body = body.or(piece.body);
    piece.edge_thickness = args.edge_thickness.or(piece.edge_thickness);
    piece.metal_off = args.grind.or(piece.metal_off);
    piece.bevels = args.bevels.or(piece.bevels);
    Some(piece)
}

fn temperature(
    args: &PlanArgs,
    soak: Option<&SoakRecord>,
    choice: &ModelChoice,
    models: &Models,
    name: &str,
) -> Result<Temperature, String> {
    match (args.temperature, soak) {
        (Some(temperature), _) => Ok(temperature),
        (None, Some(soak)) => {
            let physics = models.physics(choice.law.as_deref()).map_err(|e| format!("error: {name}: {e}"))?;
            let last = LastHeat::of(soak, &physics);
            Ok(last.map_err(|e| format!("error: {name}: {e}\n help: {}", e.help()))?.temperature)
        }
        (None, None) => Err(format!(
            "error: {name}: nothing says how hot the soak is to be\n help: add --temperature 925C (900 to 925 °C is usual)"
        )),
    }
}

/// By option, else as in the sheet, else outside.
fn thermometer(
    asked: Option<ThermometerPlace>,
    soak: Option<SoakRecord>,
    models: &Models,
) -> Result<Thermometer, String> {
    if let (None, Some(soak)) = (asked, soak) {
        return Ok(soak.thermometer);
    }
    let place = asked.unwrap_or(ThermometerPlace::Outside);
    let known = models.thermometers.iter().find(|t| t.place == place);
    known.cloned().ok_or_else(|| "error: the program's tables have no thermometer at this place".into())
}

fn unknown(option: &str, e: &UnknownName) -> String {
    harmless(&format!("error: {option}: {e}")) + "\n help: " + &harmless(&e.help())
}

fn shown(path: &Path) -> String {
    harmless(&path.display().to_string())
}
