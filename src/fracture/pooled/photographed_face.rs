use super::{FaceFrame, PooledNote, ShownFace};
use crate::fracture::{FacePhoto, SeenGrain, SeenRim, SeenTexture};
use crate::units::Interval;

/// One face on its photos: the light turned from one to the next, or the two halves of one break.
///
/// They are readings of one border, not of several: all share the coupon, its thickness as told and the way of reading,
/// so what they say together is hardly surer than the best of them.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotographedFace {
    /// The photos, each once.
    pub photos: Vec<FaceFrame>,
    /// What they show.
    pub shown: ShownFace,
    /// Depth over which case turns into core, share of the thickness: the middle one of the photos.
    pub transition: Option<f64>,
    /// Case and core beside each other: the mean of the photos, of logarithms.
    pub texture: Option<SeenTexture>,
    /// What to know.
    pub notes: Vec<PooledNote>,
}

impl PhotographedFace {
    /// Grain of its case, from the photo with the smallest pixels.
    pub fn grain(&self) -> Option<SeenGrain> {
        let scaled = self.photos.iter().filter_map(|f| Some((f.photo.px_per_mm?.best(), f.photo.grain?)));
        scaled.max_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, grain)| grain)
    }
}

/// Puts photos of one face together. `None`: there is none.
pub fn pool_faces(frames: Vec<FaceFrame>) -> Option<PhotographedFace> {
    let mut notes = Vec::new();
    let mut photos: Vec<FaceFrame> = Vec::new();
    for frame in frames {
        match photos.iter().find(|kept| kept.photo == frame.photo) {
            Some(first) => notes.push(PooledNote::Copy { photo: frame.name, of: first.name.clone() }),
            None => photos.push(frame),
        }
    }
    if photos.is_empty() {
        return None;
    }
    let seen: Vec<&FacePhoto> = photos.iter().map(|f| &f.photo).collect();
    let rim = agreed(&seen);
    let alike = seen.iter().filter(|p| p.rim == rim).count();
    if alike < seen.len() {
        notes.push(PooledNote::RimsDiffer { agreed: alike, of: seen.len() });
    }
    let shown = ShownFace::of(rim, &seen);
    let depths: Vec<Interval<f64>> = seen.iter().filter_map(|p| p.depth()).map(|(share, _)| share).collect();
    let lowest_high = depths.iter().map(Interval::high).fold(f64::INFINITY, f64::min);
    if depths.iter().any(|d| d.low() > lowest_high) {
        notes.push(PooledNote::DepthsApart);
    }
    if seen.len() > 1 && depths.len() == 1 && shown.depth.is_some() {
        notes.push(PooledNote::OneDepth);
    }
    for note in seen.iter().flat_map(|p| &p.notes).cloned().map(PooledNote::Seen) {
        if !notes.contains(&note) {
            notes.push(note);
        }
    }
    let (transition, texture) = (transition(&seen), texture(&seen));
    Some(PhotographedFace { photos, shown, transition, texture, notes })
}

/// What most photos show. As many for one as for another: a rim on some sides if all of these show a rim with an edge,
/// else it cannot be told. Photos that do not tell have no vote.
fn agreed(photos: &[&FacePhoto]) -> SeenRim {
    let votes = |rim: SeenRim| photos.iter().filter(|p| p.rim == rim).count();
    let told = [SeenRim::None, SeenRim::Partial, SeenRim::AllRound, SeenRim::Through];
    let most = told.map(votes).into_iter().max().unwrap_or(0);
    let first: Vec<SeenRim> = told.into_iter().filter(|rim| most > 0 && votes(*rim) == most).collect();
    match first.as_slice() {
        [one] => *one,
        [] => SeenRim::Unclear,
        several if several.iter().all(|rim| rim.has_edge()) => SeenRim::Partial,
        _ => SeenRim::Unclear,
    }
}

fn transition(photos: &[&FacePhoto]) -> Option<f64> {
    let mut seen: Vec<f64> = photos.iter().filter_map(|p| p.transition).collect();
    seen.sort_by(f64::total_cmp);
    let (upper, lower) = (seen.get(seen.len() / 2)?, seen.get(seen.len().checked_sub(1)? / 2)?);
    Some(f64::midpoint(*lower, *upper))
}

fn texture(photos: &[&FacePhoto]) -> Option<SeenTexture> {
    let seen: Vec<SeenTexture> = photos.iter().filter_map(|p| p.texture).collect();
    let mean = |of: &dyn Fn(&SeenTexture) -> f64| {
        libm::exp(seen.iter().map(|t| libm::log(of(t))).sum::<f64>() / seen.len() as f64)
    };
    (!seen.is_empty()).then(|| SeenTexture {
        brightness: mean(&|t| t.brightness),
        roughness: std::array::from_fn(|band| mean(&|t| t.roughness[band])),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fracture::FaceForm;

    fn face(rim: SeenRim, across: f64) -> FacePhoto {
        FacePhoto {
            outline: Vec::new(),
            form: FaceForm::Four,
            px_per_mm: None,
            thickness_px: across,
            rim,
            sides: Vec::new(),
            transition: None,
            texture: None,
            grain: None,
            notes: Vec::new(),
        }
    }

    fn pooled(rims: &[SeenRim]) -> Option<PhotographedFace> {
        let frame = |(i, rim): (usize, &SeenRim)| FaceFrame {
            name: format!("{i}.jpg"),
            photo: face(*rim, 100.0 + i as f64),
        };
        pool_faces(rims.iter().enumerate().map(frame).collect())
    }

    #[test]
    fn most_photos_decide_and_a_draw_is_told() {
        use SeenRim::{AllRound, None as NoRim, Partial, Through, Unclear};
        for (rims, want) in [
            (&[AllRound][..], AllRound),
            (&[AllRound, AllRound, Through], AllRound),
            (&[AllRound, Partial], Partial),
            (&[AllRound, NoRim], Unclear),
            (&[Unclear, Unclear, Through], Through),
            (&[Unclear], Unclear),
        ] {
            let face = pooled(rims);
            let got = face.as_ref().map(|f| f.shown.rim);
            assert_eq!(got, Some(want), "{rims:?}");
            let differ =
                face.is_some_and(|f| f.notes.iter().any(|n| matches!(n, PooledNote::RimsDiffer { .. })));
            assert_eq!(differ, rims.iter().any(|r| *r != want), "{rims:?}");
        }
        assert_eq!(pooled(&[]), None);
    }

    #[test]
    fn a_copy_is_no_second_photo() {
        let frame = |name: &str| FaceFrame { name: name.into(), photo: face(SeenRim::Through, 90.0) };
        let face = pool_faces(vec![frame("a"), frame("b")]);
        assert_eq!(face.as_ref().map(|f| f.photos.len()), Some(1));
        let copy = PooledNote::Copy { photo: "b".into(), of: "a".into() };
        assert_eq!(face.map(|f| f.notes), Some(vec![copy]));
    }
}
