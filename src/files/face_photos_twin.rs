//! The JSON form of what photos of a face show; documented on [`super::Answer`].

use super::estimate_twin::RangeTwin;
use super::photo_note_twin::{Coded, UnusedTwin};
use super::photos_twin::RemarkTwin;
use crate::fracture::{
    FaceForm, FaceFrame, FaceNote, FaceRefusal, LookedAtFaces, PhotographedFace, PooledNote, SeenGrain,
    SeenRim, SeenTexture, SideName, SideSeen, SideUnread,
};
use crate::units::Interval;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct FacePhotosTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    coupon: Option<PhotographedTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    blank: Option<PhotographedTwin>,
    unused: Vec<UnusedTwin>,
    remarks: Vec<RemarkTwin>,
}

#[derive(Debug, Serialize)]
struct PhotographedTwin {
    rim: &'static str,
    #[serde(flatten)]
    depth: DepthTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    transition_of_thickness: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    texture: Option<TextureTwin>,
    photos: Vec<PhotoTwin>,
    notes: Vec<NoteTwin>,
}

#[derive(Debug, Serialize)]
struct DepthTwin {
    #[serde(skip_serializing_if = "Option::is_none")]
    depth_of_thickness: Option<RangeTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    depth_mm: Option<RangeTwin>,
}

#[derive(Debug, Serialize)]
struct PhotoTwin {
    photo: String,
    rim: &'static str,
    form: &'static str,
    thickness_px: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    px_per_mm: Option<RangeTwin>,
    #[serde(flatten)]
    depth: DepthTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    transition_of_thickness: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    texture: Option<TextureTwin>,
    #[serde(skip_serializing_if = "Option::is_none")]
    grain: Option<GrainTwin>,
    sides: Vec<SideTwin>,
}

#[derive(Debug, Serialize)]
struct SideTwin {
    side: &'static str,
    readable: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    unread: Option<&'static str>,
    #[serde(flatten)]
    depth: DepthTwin,
    #[serde(skip_serializing_if = "Option::is_none")]
    spread_of_thickness: Option<[f64; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    spread_mm: Option<[f64; 2]>,
}

#[derive(Debug, Serialize)]
struct TextureTwin {
    case_over_core_brightness: f64,
    case_over_core_roughness: [f64; 4],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum GrainTwin {
    Number(RangeTwin),
    NotSeen { finest: f64, nearest: f64 },
}

#[derive(Debug, Serialize)]
#[serde(tag = "code", rename_all = "snake_case")]
enum NoteTwin {
    NoScale,
    TakenForSquare,
    WidthUnknown,
    Copy { photo: String, of: String },
    RimsDiffer { agreed: usize, of: usize },
    DepthsApart,
    OneDepth,
}

impl FacePhotosTwin {
    pub(super) fn new(seen: &LookedAtFaces) -> Self {
        Self {
            coupon: seen.coupon.as_ref().map(PhotographedTwin::new),
            blank: seen.blank.as_ref().map(PhotographedTwin::new),
            unused: seen.unused.iter().map(UnusedTwin::new).collect(),
            remarks: RemarkTwin::all(&seen.remarks),
        }
    }
}

impl PhotographedTwin {
    fn new(face: &PhotographedFace) -> Self {
        Self {
            rim: rim(face.shown.rim),
            depth: DepthTwin::new(face.shown.depth.as_ref(), face.shown.depth_mm.as_ref()),
            transition_of_thickness: face.transition,
            texture: face.texture.as_ref().map(TextureTwin::new),
            photos: face.photos.iter().map(PhotoTwin::new).collect(),
            notes: face.notes.iter().map(NoteTwin::new).collect(),
        }
    }
}

impl DepthTwin {
    fn new(share: Option<&Interval<f64>>, mm: Option<&Interval<f64>>) -> Self {
        Self { depth_of_thickness: share.map(Into::into), depth_mm: mm.map(Into::into) }
    }
}

impl PhotoTwin {
    fn new(frame: &FaceFrame) -> Self {
        let photo = &frame.photo;
        let depth = photo.depth();
        Self {
            photo: frame.name.clone(),
            rim: rim(photo.rim),
            form: match photo.form {
                FaceForm::Four => "four_sides",
                FaceForm::Round => "round",
            },
            thickness_px: photo.thickness_px,
            px_per_mm: photo.px_per_mm.as_ref().map(Into::into),
            depth: DepthTwin::new(depth.as_ref().map(|d| &d.0), depth.as_ref().and_then(|d| d.1.as_ref())),
            transition_of_thickness: photo.transition,
            texture: photo.texture.as_ref().map(TextureTwin::new),
            grain: photo.grain.as_ref().map(Into::into),
            sides: photo.sides.iter().map(SideTwin::new).collect(),
        }
    }
}

impl SideTwin {
    fn new(side: &SideSeen) -> Self {
        let case = side.case.as_ref();
        Self {
            side: side_code(side.name),
            readable: side.readable,
            unread: side.unread.map(|why| match why {
                SideUnread::Band => "band",
                SideUnread::Faint => "faint",
            }),
            depth: DepthTwin::new(case.map(|c| &c.median), case.and_then(|c| c.median_mm.as_ref())),
            spread_of_thickness: case.map(|c| c.spread),
            spread_mm: case.and_then(|c| c.spread_mm),
        }
    }
}

impl TextureTwin {
    fn new(texture: &SeenTexture) -> Self {
        Self { case_over_core_brightness: texture.brightness, case_over_core_roughness: texture.roughness }
    }
}

impl From<&SeenGrain> for GrainTwin {
    fn from(grain: &SeenGrain) -> Self {
        match grain {
            SeenGrain::Number(number) => Self::Number(number.into()),
            SeenGrain::NotSeen { finest, nearest } => Self::NotSeen { finest: *finest, nearest: *nearest },
        }
    }
}

impl NoteTwin {
    fn new(note: &PooledNote) -> Self {
        match note {
            PooledNote::Seen(FaceNote::NoScale) => Self::NoScale,
            PooledNote::Seen(FaceNote::TakenForSquare) => Self::TakenForSquare,
            PooledNote::Seen(FaceNote::WidthUnknown) => Self::WidthUnknown,
            PooledNote::Copy { photo, of } => Self::Copy { photo: photo.clone(), of: of.clone() },
            PooledNote::RimsDiffer { agreed, of } => Self::RimsDiffer { agreed: *agreed, of: *of },
            PooledNote::DepthsApart => Self::DepthsApart,
            PooledNote::OneDepth => Self::OneDepth,
        }
    }
}

/// The name of a side in data.
pub(super) fn side_code(side: SideName) -> &'static str {
    match side {
        SideName::Top => "top",
        SideName::Right => "right",
        SideName::Bottom => "bottom",
        SideName::Left => "left",
        SideName::Round => "round",
    }
}

fn rim(rim: SeenRim) -> &'static str {
    match rim {
        SeenRim::None => "none",
        SeenRim::Partial => "partial",
        SeenRim::AllRound => "all_round",
        SeenRim::Through => "through",
        SeenRim::Unclear => "unclear",
    }
}

impl Coded for FaceRefusal {
    fn code(&self) -> &'static str {
        match self {
            Self::NoFace { .. } => "no_face",
            Self::Blended { .. } => "blended",
            Self::Several { .. } => "several",
            Self::CutByFrame { .. } => "cut_by_frame",
            Self::TooSmall { .. } => "too_small",
            Self::PixelTooLarge { .. } => "pixel_too_large",
            Self::NotSharp { .. } => "not_sharp",
            Self::TooDark { .. } => "too_dark",
            Self::BlownOut { .. } => "blown_out",
            Self::FlatLight { .. } => "flat_light",
            Self::Oxidised { .. } => "oxidised",
            Self::Scaled { .. } => "scaled",
            Self::Tooled { .. } => "tooled",
            Self::BadOutline { .. } => "bad_outline",
        }
    }
}
