use super::fit::distance;
use super::hub::Hub;
use super::line::Line;
use super::scene::Scene;
use super::stream_photo::Burst;

/// A ray leads to a burst whose middle lies this near to its outer end, px of the plane.
const LEADS: f64 = 8.0;
/// Most tiers that are told.
const TIERS: u32 = 5;

/// The bursts in pixels of the photo, with their tiers.
pub(super) fn bursts(hubs: &[Hub], lines: &[Line], scene: &Scene) -> Vec<Burst> {
    let factor = scene.factor as f64;
    let parents: Vec<Option<usize>> = (0..hubs.len()).map(|i| parent(hubs, lines, i)).collect();
    let tier = |mut i: usize| {
        let mut tier = 1;
        while let Some(above) = parents[i].filter(|_| tier < TIERS) {
            tier += 1;
            i = above;
        }
        tier
    };
    let burst = |(i, hub): (usize, &Hub)| Burst {
        at: hub.at.map(|v| v * factor),
        rays: hub.rays.iter().map(|arm| arm.place(hub.at, arm.to, 0.0).map(|v| v * factor)).collect(),
        ray_count: hub.ray_count,
        tier: tier(i),
        parent: parents[i],
        certainty: hub.certainty,
    };
    hubs.iter().enumerate().map(burst).collect()
}

/// The burst one of whose rays leads to this one, if it sits on no carrier.
fn parent(hubs: &[Hub], lines: &[Line], i: usize) -> Option<usize> {
    if !hubs[i].carriers.is_empty() {
        return None;
    }
    let at = hubs[i].at;
    let leads = |other: &Hub| {
        other.lines.iter().any(|l| {
            let [first, last] = lines[*l].piece.ends();
            let outer = if distance(first, other.at) > distance(last, other.at) { first } else { last };
            distance(outer, at) < LEADS
        })
    };
    let near = (0..hubs.len()).filter(|j| *j != i && leads(&hubs[*j]));
    // a burst cannot be the child of its own child
    let near = near.filter(|j| *j < i || !hubs[*j].carriers.is_empty());
    near.min_by(|a, b| distance(hubs[*a].at, at).total_cmp(&distance(hubs[*b].at, at)))
}
