use super::args::CheckArgs;
use super::face_looking::FaceLooking;
use super::looking::Looking;
use super::told_run::ToldRun;
use super::{Answer, Exit, paint};
use crate::crosscheck::{self, EarlierRuns, cross_check};
use crate::files::{self, Observed};
use crate::fracture::{FaceKnown, LookedAtFaces};
use crate::plan::Onward;
use crate::prediction::Run;
use crate::report;
use crate::spark::LookedAt;
use std::path::Path;

/// `snapspark check`: what coupon and soak say together. The error is ready to be shown.
pub(super) fn check(args: &CheckArgs) -> Result<Answer, String> {
    let mut told = ToldRun::read(&args.run)?;
    let known = args.known.or(&told)?;
    let rig = known.trained()?;
    told.learn_edge(&known)?;
    let photos = look_at_photos(&mut told, &args.run);
    let faces = look_at_faces(&mut told, &args.run);
    let physics = told.physics()?;
    let earlier = args.earlier.told(&args.run, &told.sheet)?;
    let run = Run { history: earlier.as_ref().and_then(EarlierRuns::told), ..told.sheet.run() };
    let prediction = told.predict(&run, &physics, args.draws.count())?;
    told.save_profile(args.profile.as_deref(), &prediction)?;
    let (name, models) = (&told.name, &told.models);
    let observed =
        Observed::of(&told.sheet, rig.as_ref(), models).map_err(|e| format!("error: {name}: {e}"))?;
    let seen = observed.seen(&told.sheet, models);
    let question = models.question((&run, &physics), &prediction, &seen, told.sheet.aim.as_ref());
    let check = cross_check(&question);
    let tables = models.tables(&physics);
    let onward = Onward::of(&question, &check, &tables);
    let text = if args.json {
        let answer = files::Answer::check(
            name,
            &question,
            &check,
            &observed,
            photos.as_ref(),
            faces.as_ref(),
            &onward,
        );
        let answer = answer.with(earlier.as_ref(), &prediction.prior);
        answer.json().map_err(|e| format!("error: {e}"))?
    } else {
        let told =
            report::check(name, &question, &check, &models.sources, photos.as_ref(), faces.as_ref(), &onward);
        let words = earlier.as_ref().map(|earlier| report::earlier(earlier, &prediction.prior));
        paint::paint(&report::check_page(&report::CheckReport { earlier: words, ..told }))
    };
    let exit = match check.took.answer {
        crosscheck::Answer::Yes | crosscheck::Answer::Partly => Exit::Done,
        crosscheck::Answer::No => Exit::NotTaken,
        crosscheck::Answer::CannotTell => Exit::CannotTell,
    };
    Ok(Answer { text, remarks: told.remarks(), exit })
}

/// Looks at the photos of sparks that the sheet names, from its folder, and takes in what they show.
fn look_at_photos(told: &mut ToldRun, run: &Path) -> Option<LookedAt> {
    let spark = told.sheet.spark.as_mut()?;
    spark.photos().next()?;
    let folder = run.parent().unwrap_or(Path::new(""));
    let unused = files::name_photos(spark, folder);
    let rim = spark.scale.is_none() && spark.wheel.is_some_and(|w| w.diameter.is_some());
    let mut looking = Looking::new(spark.photos().count(), None, rim);
    let looked = files::look_at_photos(spark, folder, &told.models, &mut |path| looking.look(path));
    let mut looked = looked.unwrap_or_default();
    looked.unused.splice(0..0, unused);
    spark.photographed = looked.sparks.as_ref().map(|s| s.says.clone());
    Some(looked)
}

/// Looks at the photos of the face that the sheet names, coupon and blank, from its folder, and takes in what they show.
fn look_at_faces(told: &mut ToldRun, run: &Path) -> Option<LookedAtFaces> {
    let thickness = told.sheet.coupon.and_then(|c| c.shape.size());
    let fracture = told.sheet.fracture.as_mut()?;
    fracture.photos().next()?;
    let folder = run.parent().unwrap_or(Path::new(""));
    let unused = files::name_face_photos(fracture, folder);
    let mut looking = FaceLooking::new(fracture.photos().count(), None, None);
    let known = FaceKnown { thickness, ..FaceKnown::default() };
    let look = &mut |path: &Path, known: &FaceKnown| looking.look(path, known);
    let mut looked = files::look_at_faces(fracture, folder, &known, look).unwrap_or_default();
    looked.unused.splice(0..0, unused);
    fracture.take(&looked);
    Some(looked)
}
