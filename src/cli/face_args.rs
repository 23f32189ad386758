use super::args::{quantity, scale};
use crate::fracture::FaceOutline;
use crate::photo::ScaleMarks;
use crate::steel::QuenchMedium;
use crate::units::Depth;
use std::path::PathBuf;

/// Measure photos of a broken coupon's face: how far round the case runs, and how deep it looks.
///
/// Finds the face, tells case from core by what both look like on this very face, and follows the border along each
/// side; what cannot be read is left out and said. Several photos of one face (the light turned, or the other half of the
/// break) are put together. With photos of a blank, untreated stock quenched and broken the same way, the answer is far
/// better: a rim that the blank shows too is no case. A photo that cannot be used is refused with the reason and what to
/// do.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  snapspark face face.jpg --thickness 3.2mm
  snapspark face a.jpg b.jpg --thickness 3.2mm --blank stock.jpg --quenched water
  snapspark face face.jpg --thickness 6mm --width 12mm --overlay found.png
  snapspark face face.jpg --outline \"210,180 940,195 930,920 205,905\"

Photos: square on, the face filling half the picture, all four corners sharp,
light from one side at 15 to 30 degrees above the face; a second one with the
light turned by 90 degrees.

Exit codes: 0 an answer; 1 an error in the input or on disk; 2 wrong usage;
4 cannot tell, or no photo of the coupon can be used.")]
pub(super) struct FaceArgs {
    /// Photos of the coupon's face, one face on each: JPEG, PNG, TIFF, WebP; a folder, or a pattern in quotes.
    #[arg(value_name = "PHOTO", required = true)]
    pub(super) photos: Vec<String>,

    /// Thickness of the coupon (the shorter way through), or its diameter: the scale. Without it, and without --scale,
    /// depths are shares of the thickness.
    #[arg(long, value_name = "SIZE", value_parser = quantity::<Depth>)]
    pub(super) thickness: Option<Depth>,

    /// The longer way through a rectangular coupon.
    #[arg(long, value_name = "SIZE", value_parser = quantity::<Depth>)]
    pub(super) width: Option<Depth>,

    /// Scale from two points of the first photo in the plane of the face, such as a ruler's, and how far apart they are;
    /// used before the thickness.
    #[arg(long, value_name = "x1,y1,x2,y2=10mm", value_parser = scale)]
    pub(super) scale: Option<ScaleMarks>,

    /// Where the face lies in the first photo, if it is not found: its four corners going round, px, or six and more
    /// points around a round one.
    #[arg(long, value_name = "x,y x,y x,y x,y", value_parser = outline)]
    pub(super) outline: Option<FaceOutline>,

    /// Photos of the blank: untreated stock of the same section, quenched and broken the same way.
    #[arg(long, value_name = "PHOTO", num_args = 1..)]
    pub(super) blank: Vec<String>,

    /// What coupon and blank were quenched in. A piece that was not quenched shows no case to be measured.
    #[arg(long, value_name = "water|brine|oil", value_parser = medium)]
    pub(super) quenched: Option<QuenchMedium>,

    /// Draw what was found over the photo; with several photos OUT-1.png, OUT-2.png and so on, in the order given, those
    /// of the blank last.
    #[arg(long, value_name = "OUT.png")]
    pub(super) overlay: Option<PathBuf>,

    /// Write case and core as a picture of the photo's size: white case, dark grey core, light grey where the border was
    /// not read, black outside. Numbered like --overlay; a photo that is refused has none.
    #[arg(long, value_name = "OUT.png")]
    pub(super) mask: Option<PathBuf>,

    /// Write depths along every side: face, photo, side, unit, along, depth with its range, read, corner.
    #[arg(long, value_name = "OUT.csv")]
    pub(super) profile: Option<PathBuf>,

    /// Answer in JSON (the schema is documented on `files::Answer`) instead of text.
    #[arg(long)]
    pub(super) json: bool,
}

fn outline(text: &str) -> Result<FaceOutline, String> {
    FaceOutline::parse(text).map_err(|e| format!("{e}; {}", e.help()))
}

fn medium(text: &str) -> Result<QuenchMedium, String> {
    match text {
        "water" => Ok(QuenchMedium::Water),
        "brine" => Ok(QuenchMedium::Brine),
        "oil" => Ok(QuenchMedium::Oil),
        _ => Err("allowed: water, brine, oil".into()),
    }
}
