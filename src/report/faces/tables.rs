use super::{grain, rim};
use crate::fracture::{FacePhoto, PhotographedFace, SideName, SideSeen, SideUnread};
use crate::report::number::DEPTH;
use crate::report::soak::Line;
use crate::units::Interval;

/// Each photo's sides.
pub(super) fn sides(face: &PhotographedFace) -> Vec<(String, Vec<[String; 4]>)> {
    let of_photo = |photo: &FacePhoto| {
        let head = ["side", "median (nine in ten)", "10 to 90 % along it", "border readable"];
        let mut rows = vec![head.map(String::from)];
        rows.extend(photo.sides.iter().map(side));
        rows
    };
    let with_depth = face.photos.iter().filter(|frame| frame.photo.rim.has_edge());
    with_depth.map(|frame| (frame.name.clone(), of_photo(&frame.photo))).collect()
}

fn side(side: &SideSeen) -> [String; 4] {
    let name = name(side.name).to_string();
    let readable = format!("{:.0} %", side.readable * 100.0);
    let Some(case) = &side.case else {
        let why = side.unread.map_or("no rim", unread);
        return [name, why.into(), String::new(), readable];
    };
    let depth = case.median_mm.as_ref().map_or_else(|| percent(&case.median), |mm| DEPTH.with_range(mm));
    let spread = match case.spread_mm {
        Some([low, high]) => format!("{} to {}", DEPTH.bare(low), DEPTH.one(high)),
        None => format!("{:.0} to {:.0} %", case.spread[0] * 100.0, case.spread[1] * 100.0),
    };
    [name, depth, spread, readable]
}

/// What a side is called.
pub(in crate::report) fn name(side: SideName) -> &'static str {
    match side {
        SideName::Top => "top",
        SideName::Right => "right",
        SideName::Bottom => "bottom",
        SideName::Left => "left",
        SideName::Round => "all round",
    }
}

fn unread(why: SideUnread) -> &'static str {
    match why {
        SideUnread::Band => "not read: a notch, a lip or a wall lies along it",
        SideUnread::Faint => "not read: its border hardly stands out",
    }
}

/// Transition, light and roughness, scale.
pub(super) fn looks(face: &PhotographedFace) -> Vec<Line> {
    let line = |label: &str, value: String, range: String| Line { label: label.into(), value, range };
    let mut lines = Vec::new();
    if let Some(share) = face.transition {
        let mm = face.photos.iter().find_map(|f| f.photo.thickness_mm()).map(|mm| DEPTH.one(share * mm));
        let value = mm.unwrap_or_else(|| format!("{:.1} % of the thickness", share * 100.0));
        lines.push(line("case turns into core over", value, String::new()));
    }
    if let Some(texture) = &face.texture {
        let times = |v: f64| format!("{v:.2} times");
        lines.push(line("light of the case against the core's", times(texture.brightness), String::new()));
        let [fine, .., coarse] = texture.roughness;
        lines.push(line("its finest roughness", times(fine), String::new()));
        lines.push(line("its coarsest roughness", times(coarse), String::new()));
    }
    lines.extend(face.grain().as_ref().map(grain::line));
    for frame in &face.photos {
        if let Some(scale) = &frame.photo.px_per_mm {
            let range = format!("{:.1} to {:.1}", scale.low(), scale.high());
            let label = if face.photos.len() > 1 {
                format!("px to the mm, {}", frame.name)
            } else {
                "px to the mm".into()
            };
            lines.push(line(&label, format!("{:.1}", scale.best()), range));
        }
    }
    lines
}

/// Each photo with its rim and its depth, if there are several.
pub(super) fn photos(face: &PhotographedFace) -> Vec<[String; 3]> {
    if face.photos.len() < 2 {
        return Vec::new();
    }
    let depth = |photo: &FacePhoto| {
        let (share, mm) = photo.depth()?;
        Some(mm.map_or_else(|| format!("{} of it", percent(&share)), |mm| DEPTH.with_range(&mm)))
    };
    let row = |photo: &FacePhoto| [rim(photo.rim).to_string(), depth(photo).unwrap_or_default()];
    face.photos
        .iter()
        .map(|frame| {
            let [rim, depth] = row(&frame.photo);
            [frame.name.clone(), rim, depth]
        })
        .collect()
}

/// "19 % (17 to 22)".
pub(in crate::report) fn percent(share: &Interval<f64>) -> String {
    let [low, best, high] = [share.low(), share.best(), share.high()].map(|v| v * 100.0);
    format!("{best:.0} % ({low:.0} to {high:.0})")
}
