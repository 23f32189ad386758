use super::args::SparkArgs;
use super::looking::Looking;
use super::{Answer, Exit, paint};
use crate::estimate::SparkAnswer;
use crate::files::{self, Models, Observed, PhotoFiles, ProblemList};
use crate::report;
use crate::spark::{LookedAt, PhotoPaths, SparkObservation, StreamObservation, Unusable, Wheel};
use std::path::Path;

/// `snapspark spark`: what photos of sparks show and say. The error is ready to be shown.
pub(super) fn spark(args: &SparkArgs) -> Result<Answer, String> {
    let models = Models::shipped().map_err(|e| format!("error: {e}"))?;
    let grade = args.stock.as_deref().unwrap_or(&models.default_grade);
    let grade = models.grade(grade).map_err(|e| format!("error: --stock: {e}"))?;
    let rig = args.known.named()?.trained()?;
    let mut told = observation(args)?;
    let all = told.photos().count();
    let overlay = args.overlay.as_deref();
    let mut looking = Looking::new(all, overlay, args.wheel.is_some() && args.scale.is_none());
    looking.drawings().keep("--overlay", told.photos())?;
    let looked = files::look_at_photos(&told, Path::new(""), &models, &mut |path| looking.look(path));
    looking.finish()?;
    let looked = looked.ok_or("error: no photo was given")?;
    told.photographed = looked.sparks.as_ref().map(|s| s.says.clone());
    let read = Observed::sparks(&told, &grade.carbon.value, rig.as_ref(), &models);
    let (features, answer) = read.map_err(|e| format!("error: {e}"))?;
    let exit = exit(&looked, &answer);
    let text = if args.json {
        let observed = Observed { sparks: Some((features, answer)), face: None };
        files::Answer::spark(&observed, &looked).json().map_err(|e| format!("error: {e}"))?
    } else {
        paint::paint(&report::spark_page(&report::sparks(&looked, &answer)))
    };
    Ok(Answer { text, remarks: String::new(), exit })
}

/// What the arguments tell.
fn observation(args: &SparkArgs) -> Result<SparkObservation, String> {
    let stream = |photos: &[String], touches: &[u16], option: &str, state| {
        let named = PhotoFiles::named(photos).map_err(|p| ProblemList(&p).to_string())?;
        let photos: Vec<String> = named.paths().iter().map(|p| p.to_string_lossy().into_owned()).collect();
        let wanted: usize = touches.iter().map(|n| usize::from(*n)).sum();
        if wanted > photos.len() {
            let given = photos.len();
            return Err(format!(
                "error: {option}: touches of {wanted} photos in all, but {given} are given\n help: say how many \
                 photos each touch has, such as {option} 2,3"
            ));
        }
        Ok(StreamObservation { photos: by_touch(photos, touches), state, ..StreamObservation::default() })
    };
    let stock = stream(&args.against, &args.against_touch, "--against-touch", args.stock_state)?;
    let wheel = Wheel { diameter: args.wheel, turning: args.rpm, ..Wheel::default() };
    Ok(SparkObservation {
        coupon: stream(&args.photos, &args.touch, "--touch", args.state)?,
        untreated: (!args.against.is_empty() || args.stock_state.is_some()).then_some(stock),
        wheel: Some(wheel),
        scale: args.scale,
        ..SparkObservation::default()
    })
}

/// Photos in touches of so many; what is left over is one more.
fn by_touch(photos: Vec<String>, touches: &[u16]) -> PhotoPaths {
    if touches.is_empty() {
        return PhotoPaths::Mixed(photos);
    }
    let mut photos = photos.into_iter();
    let mut list: Vec<Vec<String>> =
        touches.iter().map(|n| photos.by_ref().take(usize::from(*n)).collect()).collect();
    list.push(photos.collect());
    list.retain(|touch| !touch.is_empty());
    PhotoPaths::ByTouch(list)
}

fn exit(looked: &LookedAt, answer: &SparkAnswer) -> Exit {
    let unread = |why: &Unusable| matches!(why, Unusable::NotRead { .. });
    match (&looked.sparks, answer) {
        // not a picture among them: the input is wrong, not the sparks
        (None, _) if !looked.unused.is_empty() && looked.unused.iter().all(|u| unread(&u.why)) => Exit::Input,
        (None, _) | (_, SparkAnswer::Unlike { .. } | SparkAnswer::CannotTell { .. }) => Exit::CannotTell,
        _ => Exit::Done,
    }
}
