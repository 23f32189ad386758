use super::border::Border;
use super::face_model::FaceModel;
use super::layout::Layout;
use super::relative::{Relative, relative};
use super::strip::Strip;

// All of these are judgements on drawn development faces.

/// How far a border moves over a length along the side, share of it.
const SLOPE: f64 = 0.10;
/// Most that one cell may say for case or core, natural logarithm: no bad patch moves a border.
const MOST: f64 = 3.0;
/// Share of a cell's word that is its own: neighbours repeat each other.
const OWN: f64 = 0.1;

/// Case and core told apart on one face.
pub(super) struct Regions {
    /// The border along each side.
    pub(super) borders: Vec<Border>,
    /// How much each cell favours case, natural logarithm of the odds, side by side and column by column; `NAN` where
    /// nothing can be read.
    pub(super) says: Vec<Vec<f32>>,
    /// How far the rim of each side lies from the middle of the face, in spreads of the middle.
    pub(super) contrasts: Vec<f64>,
}

impl Regions {
    /// By what each cell looks like against the middle of the face; `None` if that cannot be seen.
    pub(super) fn of(strips: &[Strip], layout: &Layout, model: &FaceModel) -> Option<Self> {
        let told = relative(strips, layout)?;
        let says: Vec<Vec<f32>> = strips.iter().zip(&told).map(|(s, told)| says(s, told, model)).collect();
        let border = |(strip, says): (&Strip, &Vec<f32>)| {
            let change = SLOPE * strip.cell[0] / strip.cell[1];
            Border::of(strip.columns, strip.rows, change, strips.len() == 1, |column, row| {
                let says = f64::from(says[column * strip.rows + row]);
                if says.is_nan() { 0.0 } else { OWN * says }
            })
        };
        let borders = strips.iter().zip(&says).map(border).collect();
        Some(Self { borders, says, contrasts: told.iter().map(Relative::contrast).collect() })
    }
}

/// How much each cell favours case, column by column.
fn says(strip: &Strip, told: &Relative, model: &FaceModel) -> Vec<f32> {
    let mut says = vec![f32::NAN; strip.cells.len()];
    for column in 0..strip.columns {
        for row in (0..strip.rows).filter(|row| strip.at(column, *row).is_some()) {
            let odds = model.favours_case(&told.values(column, row), MOST);
            says[column * strip.rows + row] = if odds.is_finite() { odds as f32 } else { f32::NAN };
        }
    }
    says
}
