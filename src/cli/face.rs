use super::face_args::FaceArgs;
use super::face_looking::FaceLooking;
use super::{Answer, Exit, paint};
use crate::estimate::{CaseAnswer, read_fracture};
use crate::features::FractureFeatures;
use crate::files::problem::harmless;
use crate::files::{self, Models, Observed, PhotoFiles, ProblemList};
use crate::fracture::{
    FaceDescription, FaceKnown, FractureDescription, LookedAtFaces, Quenching, UnusableFace,
};
use crate::report;
use std::path::{Path, PathBuf};

/// `snapspark face`: what photos of a fracture face show and say. The error is ready to be shown.
pub(super) fn face(args: &FaceArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let mut told = description(args)?;
    let known = FaceKnown {
        thickness: args.thickness,
        width: args.width,
        marks: args.scale,
        outline: args.outline.as_ref().map(|o| o.points().to_vec()).unwrap_or_default(),
    };
    let (overlay, mask) = (args.overlay.as_deref(), args.mask.as_deref());
    let mut looking = FaceLooking::new(told.photos().count(), overlay, mask);
    keep_files(args, &told, &looking)?;
    let look = &mut |path: &Path, known: &FaceKnown| looking.look(path, known);
    let looked = files::look_at_faces(&told, Path::new(""), &known, look);
    looking.finish()?;
    let looked = looked.ok_or("error: no photo was given")?;
    save_profile(args.profile.as_deref(), &looked)?;
    told.take(&looked);
    let features = FractureFeatures::described(&told, args.thickness, &models.face_reading);
    let answer = read_fracture(&features, &models.face_tree).map_err(|e| format!("error: {e}"))?;
    let exit = exit(&looked, &answer);
    let text = if args.json {
        let observed = Observed { sparks: None, face: Some((features, answer)) };
        files::Answer::face(&observed, &looked).json().map_err(|e| format!("error: {e}"))?
    } else {
        paint::paint(&report::face_page(&report::faces(&looked, &features, &answer)))
    };
    Ok(Answer { text, remarks: String::new(), exit })
}

/// What the arguments tell.
fn description(args: &FaceArgs) -> Result<FractureDescription, String> {
    let quenched = args.quenched.map(Quenching::In);
    let face = |photos: &[String]| -> Result<FaceDescription, String> {
        let named = PhotoFiles::named(photos).map_err(|p| ProblemList(&p).to_string())?;
        let photos = named.paths().iter().map(|p| p.to_string_lossy().into_owned()).collect();
        Ok(FaceDescription { quenched, photos, ..FaceDescription::default() })
    };
    let blank = if args.blank.is_empty() { None } else { Some(face(&args.blank)?) };
    Ok(FractureDescription { coupon: face(&args.photos)?, blank })
}

/// Refuses to write over a photo, or one file over another.
fn keep_files(args: &FaceArgs, told: &FractureDescription, looking: &FaceLooking) -> Result<(), String> {
    let mut written: Vec<(&str, PathBuf)> = Vec::new();
    for (option, drawings) in looking.drawings() {
        drawings.keep(option, told.photos())?;
        written.extend(drawings.files().into_iter().map(|file| (option, file)));
    }
    if let Some(profile) = &args.profile {
        if told.photos().any(|photo| files::same_file(Path::new(photo), profile)) {
            let at = harmless(&profile.display().to_string());
            return Err(format!(
                "error: --profile: the profile would overwrite the photo {at}\n help: choose another name"
            ));
        }
        written.push(("--profile", profile.clone()));
    }
    for (i, (option, file)) in written.iter().enumerate() {
        if let Some((other, _)) = written[..i].iter().find(|(_, before)| before == file) {
            let at = harmless(&file.display().to_string());
            return Err(format!(
                "error: {option}: {at} is written by {other} too\n help: choose another name for one of them"
            ));
        }
    }
    Ok(())
}

fn save_profile(to: Option<&Path>, looked: &LookedAtFaces) -> Result<(), String> {
    let Some(to) = to else { return Ok(()) };
    let at = harmless(&to.display().to_string());
    let bytes = files::face_profile_csv(looked).map_err(|e| format!("error: {at}: {e}"))?;
    files::save(to, &bytes).map_err(|e| {
        format!(
            "error: {at}: the profile cannot be written: {e}\n help: check that the folder exists and may be \
             written to, or choose another name"
        )
    })
}

fn exit(looked: &LookedAtFaces, answer: &CaseAnswer) -> Exit {
    let unread = |why: &UnusableFace| matches!(why, UnusableFace::NotRead { .. });
    match (&looked.coupon, answer) {
        // not a picture among them: the input is wrong, not the face
        (None, _) if !looked.unused.is_empty() && looked.unused.iter().all(|u| unread(&u.why)) => Exit::Input,
        (None, _) | (_, CaseAnswer::CannotTell { .. }) => Exit::CannotTell,
        _ => Exit::Done,
    }
}
