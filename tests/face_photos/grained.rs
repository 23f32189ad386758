//! How well the grain of drawn cases is told: `FIRST=1000 COUNT=40 cargo test drawn_grain_is_scored -- --ignored --nocapture`
//! prints a line for each face with a grain that is drawn, and the figures of all. The figures are in this folder's README.

use super::pictures::{number, picture};
use super::scored::known;
use snapspark::files::face_model;
use snapspark::fracture::{SeenGrain, measure_face};
use snapspark::photo::{Limits, decode};

#[test]
#[ignore = "draws and measures for minutes; run by name with FIRST and COUNT"]
fn drawn_grain_is_scored() {
    let (first, count) = (number("FIRST", 1000), number("COUNT", 10));
    let model = face_model().expect("the shipped model");
    let (mut asked, mut shows, mut off, mut held) = (0, 0, Vec::new(), 0);
    for seed in first..first + count {
        let Some(picture) = picture(seed, false) else { continue };
        let Some(face) = picture.truth.face.as_ref() else { continue };
        let photo = decode(&picture.bytes, &Limits::default()).expect("a drawn picture can be read");
        let Ok(seen) = measure_face(&photo.picture, &known(Some(face)), &model) else { continue };
        let Some(grain) = seen.grain else { continue };
        asked += 1;
        println!("{seed} {} drawn {:?}: {grain:?}", picture.truth.kind, face.case_grain);
        match (grain, face.case_grain) {
            (SeenGrain::Number(told), Some(drawn)) => {
                off.push(told.best() - drawn);
                held += usize::from(told.low() <= drawn && drawn <= told.high());
                shows += 1;
            }
            (SeenGrain::NotSeen { finest, .. }, Some(drawn)) => shows += usize::from(drawn <= finest),
            (_, None) => {}
        }
    }
    off.sort_by(f64::total_cmp);
    let near = off.iter().filter(|d| d.abs() <= 1.0).count();
    let mut size: Vec<f64> = off.iter().map(|d| d.abs()).collect();
    size.sort_by(f64::total_cmp);
    println!(
        "{asked} faces with a case and a scale, {shows} told or coarse enough to be; {} told: middle {:?}, off by {:?} in the \
         middle, {near} within one number, {held} held; all {off:.1?}",
        off.len(),
        off.get(off.len() / 2),
        size.get(size.len() / 2),
    );
}
