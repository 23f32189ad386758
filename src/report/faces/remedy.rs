use crate::fracture::FaceRefusal;
use crate::report::unused::Remedy;

impl Remedy for FaceRefusal {
    fn remedy(&self) -> String {
        match self {
            Self::NoFace { .. } | Self::Blended { .. } => {
                "Lay one face alone on a plain ground that is darker or lighter than it, square to the \
                                    camera, or name its corners: --outline \"x,y x,y x,y x,y\"."
                    .into()
            }
            Self::Several { .. } => {
                "Photograph one face alone; the other half of the same break is a photo of its own.".into()
            }
            Self::CutByFrame { .. } => {
                "Step back until the whole face is in the picture, with some ground all round.".into()
            }
            Self::TooSmall { across, needed } => {
                format!("{} The face should fill half the picture.", closer(*across, *needed))
            }
            Self::PixelTooLarge { deep, needed } => {
                format!(
                    "{} A lens held before the phone's, or its macro setting, helps.",
                    closer(*deep, *needed)
                )
            }
            Self::NotSharp { .. } => {
                "Focus on the face itself, lock the focus, stand the phone on something firm and use the \
                                      timer; wipe the lens. Digital zoom sharpens nothing."
                    .into()
            }
            Self::TooDark { .. } => {
                "More light from the side, or a longer exposure with the phone on a stand.".into()
            }
            Self::BlownOut { .. } => {
                "Lower the exposure (-1 or -2) or turn the light until the glare leaves the face.".into()
            }
            Self::FlatLight { .. } => {
                "Light it from one side alone, 15 to 30 degrees above the face, flash off and other \
                                       lamps covered: grain shows by its shadows."
                    .into()
            }
            Self::Oxidised { .. } => {
                "Photograph it freshly broken and dry. Rust does not come off without taking the face \
                                      with it: break another piece."
                    .into()
            }
            Self::Scaled { .. } => {
                "Scale hides the grain, and does not come off without taking the face with it: break \
                                    another piece and photograph it before it is heated again."
                    .into()
            }
            Self::Tooled { .. } => {
                "Take the broken face itself. A sawn or ground one shows no case without etching, which is \
                                    not read here."
                    .into()
            }
            Self::BadOutline { .. } => {
                "Name the corners of the face going round, in px of this very photo, upright and at \
                                        full size, such as --outline \"210,180 940,195 930,920 205,905\"."
                    .into()
            }
        }
    }
}

/// How much closer the camera must be: pixels grow as it comes nearer.
fn closer(there: f64, needed: f64) -> String {
    let share = there / needed;
    if share > 0.0 && share < 1.0 {
        format!("Bring the camera to {:.0} % of its distance.", (share * 100.0).floor().max(1.0))
    } else {
        "Bring the camera closer.".into()
    }
}
