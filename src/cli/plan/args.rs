use crate::cli::args::quantity;
use crate::prediction::DepthCriterion;
use crate::soak::{Container, ContainerShape, ThermometerPlace};
use crate::steel::{Bevels, Coupon, Faces, Shape, Wedge};
use crate::units::{CarbonPercent, Depth, Hrc, Interval, Temperature, Time, parse_interval};
use clap::Parser;
use std::path::PathBuf;

/// Plan the soak for a case depth or a finished edge: how long, how surely, what to watch.
///
/// The same solver as `soak`, asked the other way round. Give what is known as options, or a run sheet with
/// `[aim]`; an option wins over the sheet. With --from the steel has been through a soak already.
#[derive(Debug, Parser)]
#[command(after_help = "\
Examples:
  snapspark plan --steel 1018 --depth 0.8mm --criterion total --temperature 925C \\
    --container box:80mm --work plate:6mm --compound granules
  snapspark plan --steel 1018 --edge 0.6 --edge-thickness 1.5mm --grind 0.2mm \\
    --bevels both --temperature 900C --container pipe:50mm
  snapspark plan --from run.toml --reach 0.8mm            a second soak
  snapspark plan --from run.toml --reach 0.8mm --go-on    the rest of this one

Exit codes: 0 done, 1 an error in the input or on disk, or no soak does it; 2
wrong usage.")]
pub(in crate::cli) struct PlanArgs {
    /// Run sheet with what is there and what is wanted ([aim]); its [soak] may be missing.
    #[arg(value_name = "RUN.toml", conflicts_with = "from")]
    pub(super) run: Option<PathBuf>,

    /// Grade of the stock, such as 1018; without it, unknown mild steel.
    #[arg(long, value_name = "GRADE", conflicts_with = "from")]
    pub(super) steel: Option<String>,

    /// Case depth wanted.
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = quantity::<Depth>, conflicts_with_all = ["edge", "from"])]
    pub(super) depth: Option<Depth>,

    /// What ends a depth: total (core + 0.04 %C), 0.35%C, visible, 50HRC or 550HV; without it, total.
    #[arg(long, value_name = "CRITERION", value_parser = criterion)]
    pub(super) criterion: Option<DepthCriterion>,

    /// Heat that the thermometer is to show, such as 925C or 1700F.
    #[arg(long, value_name = "HEAT", allow_hyphen_values = true, value_parser = quantity::<Temperature>)]
    pub(super) temperature: Option<Temperature>,

    /// Container with its inside size, and its wall if known: pipe:50mm, box:80mm, box:80mm:3mm.
    #[arg(long, value_name = "SHAPE:SIZE", value_parser = container, conflicts_with = "from")]
    pub(super) container: Option<Container>,

    /// The work with its section: plate:6mm, plate:6mm:25mm (with its width) or bar:12mm.
    #[arg(long, value_name = "SHAPE:SIZE", value_parser = work, conflicts_with = "from")]
    pub(super) work: Option<Work>,

    /// Compound: granules, powder, energized, spent or unknown.
    #[arg(long, value_name = "NAME", conflicts_with = "from")]
    pub(super) compound: Option<String>,

    /// Where the thermometer sits: outside, pack, steel, or eye for a heat colour; without it, outside.
    #[arg(long, value_name = "PLACE", value_parser = place, conflicts_with = "from")]
    pub(super) thermometer: Option<ThermometerPlace>,

    /// From lighting to heat, such as 40min or 30-60min.
    #[arg(long, value_name = "TIME", allow_hyphen_values = true, value_parser = span)]
    pub(super) heat_up: Option<Interval<Time>>,

    /// Carbon wanted at the finished edge, %C, such as 0.6.
    #[arg(long, value_name = "CARBON", allow_hyphen_values = true, value_parser = carbon)]
    pub(super) edge: Option<CarbonPercent>,

    /// Sizes of the coupon, length x width x thickness: tells what it will gain, in mg.
    #[arg(long, value_name = "LxWxT", value_parser = coupon)]
    pub(super) coupon: Option<Coupon>,

    /// Hardness that grinding must leave after the usual temper, such as 58HRC; without it, the carbon of an edge.
    #[arg(long, value_name = "HRC", allow_hyphen_values = true, value_parser = quantity::<Hrc>)]
    pub(super) hardness: Option<Hrc>,

    /// How thick the edge is in the pack.
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = quantity::<Depth>, conflicts_with = "from")]
    pub(super) edge_thickness: Option<Depth>,

    /// Angle between the faces of the edge, degrees: draws its cross-section. Needs --edge-thickness and --height.
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = Wedge::degrees_of)]
    pub(super) edge_angle: Option<f64>,

    /// From the edge to the back.
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = quantity::<Depth>)]
    pub(super) height: Option<Depth>,

    /// Metal that comes off each ground side after the soak.
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = quantity::<Depth>, conflicts_with = "from")]
    pub(super) grind: Option<Depth>,

    /// Which sides of the edge are ground: both or one.
    #[arg(long, value_name = "both|one", value_parser = bevels, conflicts_with = "from")]
    pub(super) bevels: Option<Bevels>,

    /// Run sheet of a soak that the steel has been through.
    #[arg(long, value_name = "RUN.toml")]
    pub(super) from: Option<PathBuf>,

    /// Case depth that the second soak, or the rest of this one, must reach.
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = quantity::<Depth>, requires = "from", conflicts_with = "edge")]
    pub(super) reach: Option<Depth>,

    /// The soak is not over: the pack is at heat and stays there.
    #[arg(long, requires = "from")]
    pub(super) go_on: bool,

    /// Folder with the sheets of earlier runs: those of the same furnace and container tell what thermometer, compound and
    /// pack should be like.
    #[arg(long, value_name = "DIR", requires = "from")]
    pub(super) history: Option<PathBuf>,

    /// Draw no runs to see what the coupon tells of the first soak: at once, but rougher.
    #[arg(long, requires = "from", conflicts_with = "go_on")]
    pub(super) quick: bool,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

/// The work as it is written: a section, and a width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Work {
    pub(super) shape: Shape,
    /// Of a plate, if told.
    pub(super) width: Option<Depth>,
}

fn criterion(text: &str) -> Result<DepthCriterion, String> {
    let bare: String = text.chars().filter(|c| !c.is_whitespace()).collect::<String>().to_lowercase();
    match bare.as_str() {
        "total" => Ok(DepthCriterion::Total),
        "0.35%c" | "carburization" => Ok(DepthCriterion::Carburization),
        "visible" => Ok(DepthCriterion::Visible),
        "50hrc" | "effective" => Ok(DepthCriterion::Effective50Hrc),
        "550hv" => Ok(DepthCriterion::Effective550Hv),
        _ => Err("allowed: total, 0.35%C, visible, 50HRC, 550HV".into()),
    }
}

fn container(text: &str) -> Result<Container, String> {
    let help = "write its shape and inside size, such as pipe:50mm or box:80mm:3mm (with the wall)";
    let mut parts = text.split(':');
    let shape = match parts.next().map(str::trim) {
        Some("pipe") => ContainerShape::Pipe,
        Some("box") => ContainerShape::Box,
        _ => return Err(format!("the shape is neither pipe nor box; {help}")),
    };
    let inside =
        Some(parts.next().ok_or_else(|| format!("its inside size is missing; {help}"))).transpose()?;
    let wall = parts.next().map(quantity::<Depth>).transpose()?;
    match parts.next() {
        None => Ok(Container { shape, inside: inside.map(quantity::<Depth>).transpose()?, wall }),
        Some(_) => Err(format!("it has a size too many; {help}")),
    }
}

fn work(text: &str) -> Result<Work, String> {
    let help = "write plate:6mm, plate:6mm:25mm (with its width) or bar:12mm";
    let mut parts = text.split(':');
    let shape = parts.next().unwrap_or_default().trim();
    let size = parts.next().ok_or_else(|| format!("its size is missing; {help}"))?;
    let size = Some(quantity::<Depth>(size)?);
    let width = parts.next().map(quantity::<Depth>).transpose()?;
    let shape = match (shape, width) {
        ("plate", _) => Shape::Flat { thickness: size, faces: Faces::Both },
        ("bar", None) => Shape::Round { diameter: size },
        ("bar", Some(_)) => return Err(format!("a bar is round and has one size; {help}")),
        _ => return Err(format!("the shape is neither plate nor bar; {help}")),
    };
    match parts.next() {
        None => Ok(Work { shape, width }),
        Some(_) => Err(format!("it has a size too many; {help}")),
    }
}

/// Three sizes, the unit once or each time.
fn coupon(text: &str) -> Result<Coupon, String> {
    let help = "write length x width x thickness with the unit, such as 40x20x3mm";
    let parts: Vec<&str> = text.split(['x', '×']).map(str::trim).collect();
    let [length, width, thickness] = parts[..] else { return Err(format!("it has not three sizes; {help}")) };
    let unit = thickness.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').trim();
    let size = |part: &str| {
        let bare = part.parse::<f64>().is_ok();
        quantity::<Depth>(&if bare { format!("{part} {unit}") } else { part.to_string() })
    };
    let sizes = (size(length)?, size(width)?, size(thickness)?);
    let shape = Shape::Flat { thickness: Some(sizes.2), faces: Faces::Both };
    let (length, width) = (Some(sizes.0), Some(sizes.1));
    Ok(Coupon { shape, length, width, mass_before: None, mass_after: None })
}

fn place(text: &str) -> Result<ThermometerPlace, String> {
    match text.trim() {
        "outside" => Ok(ThermometerPlace::Outside),
        "pack" | "in the pack" => Ok(ThermometerPlace::InPack),
        "steel" | "beside the steel" => Ok(ThermometerPlace::BesideSteel),
        "eye" | "by eye" => Ok(ThermometerPlace::Eye),
        _ => Err("allowed: outside, pack, steel, eye".into()),
    }
}

fn bevels(text: &str) -> Result<Bevels, String> {
    match text {
        "both" => Ok(Bevels::Both),
        "one" => Ok(Bevels::One),
        _ => Err("allowed: both, one".into()),
    }
}

fn span(text: &str) -> Result<Interval<Time>, String> {
    let told = parse_interval::<Time>(text).map_err(|e| format!("{e}; {}", e.help()))?.value;
    if told.low() <= Time::ZERO { Err("the time is 0".into()) } else { Ok(told) }
}

/// Carbon; a bare number is meant in %C, as the trade speaks of edges.
fn carbon(text: &str) -> Result<CarbonPercent, String> {
    let bare = text.trim().parse::<f64>().is_ok();
    let carbon: CarbonPercent =
        quantity(&if bare { format!("{} %C", text.trim()) } else { text.to_string() })?;
    if carbon.wt_percent() > MOST {
        return Err(format!("austenite does not hold {} %C; an edge wants 0.6 to 0.9", carbon.wt_percent()));
    }
    Ok(carbon)
}

/// Most carbon that austenite holds, wt%, as for a run sheet.
const MOST: f64 = 2.1;
