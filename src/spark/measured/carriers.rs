use super::hub::Hub;
use super::scene::Scene;
use super::stream_photo::{Carrier, Spot};
use super::track::Track;

/// The carriers in pixels of the photo, with their bursts.
pub(super) fn carriers(tracks: &[Track<'_>], hubs: &[Hub], scene: &Scene) -> Vec<Carrier> {
    let factor = scene.factor as f64;
    let up = |p: &Spot| p.map(|v| v * factor);
    tracks
        .iter()
        .map(|track| {
            let mut path: Vec<Spot> = track.line.piece.points.iter().map(up).collect();
            if track.hidden > 0.0 {
                path.insert(0, up(&track.begin));
            }
            let sits = |hub: &Hub| hub.carriers.contains(&track.number);
            Carrier {
                path,
                length: (track.line.length + track.hidden) * factor,
                start: track.start,
                end: track.end,
                bursts: (0..hubs.len()).filter(|i| sits(&hubs[*i])).collect(),
                certainty: track.certainty,
            }
        })
        .collect()
}
