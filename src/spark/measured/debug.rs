#![allow(missing_docs, unreachable_pub)]
use super::flank::{Look, evenness, height as line_height};
use super::piece::{Piece, distance};
use super::plane::Plane;
use super::*;

pub struct Lines {
    pub pieces: Vec<(Vec<Spot>, u8)>,
    pub bursts: Vec<(Spot, Vec<Spot>)>,
    pub contact: Option<(Spot, f64, f64)>,
    pub times: Vec<(&'static str, f64)>,
    pub width: f64,
    pub seen: usize,
}

/// full width at half height of the strongest lines
fn width_of(pieces: &[Piece], plane: &Plane) -> f64 {
    let mut order: Vec<&Piece> = pieces.iter().filter(|p| p.points.len() >= 16 && p.mean_strength() > 8.0).collect();
    order.sort_by(|a, b| (b.mean_strength() * b.length().min(60.0)).total_cmp(&(a.mean_strength() * a.length().min(60.0))));
    let mut widths: Vec<f32> = Vec::new();
    for piece in order.iter().take(150) {
        for k in [1, 2, 3] {
            let i = piece.points.len() * k / 4;
            let (a, b) = (piece.points[i - 3], piece.points[i + 3]);
            let r = distance(a, b).max(1e-9);
            let n = [-(b[1] - a[1]) / r, (b[0] - a[0]) / r];
            let p = piece.points[i];
            let value = |off: f64| plane.at(p[0] + off * n[0], p[1] + off * n[1]).powi(2);
            let profile: Vec<f64> = (-48..=48).map(|k| value(f64::from(k) * 0.25)).collect();
            let top = profile[44..=52].iter().copied().fold(0.0, f64::max);
            let mut side = |sense: i32| -> Option<f64> {
                let at = |k: i32| profile[(48 + sense * k) as usize];
                // the valley on this side: the lowest before it rises again
                let mut low = top;
                for k in 0..=48 {
                    low = low.min(at(k));
                    if at(k) > low + 0.25 * (top - low) && low < 0.6 * top { break; }
                }
                let half = 0.5 * (top + low);
                if low > 0.6 * top { return None; }
                (1..=48).find(|k| at(*k) < half).map(|k| { let (a, b) = (at(k - 1), at(k)); 0.25 * (f64::from(k) - 1.0 + (a - half) / (a - b).max(1e-12)) })
            };
            if let (Some(l), Some(r)) = (side(-1), side(1)) { widths.push((l + r) as f32); }
        }
    }
    if widths.len() < 6 { return f64::NAN; }
    f64::from(tiles::quantile(&mut widths, 0.5))
}

/// From the first point towards the contact while light goes on: extra length, hidden?
fn hidden(piece: &Piece, contact: Spot, plane: &Plane, ground: &tiles::Tiles) -> f64 {
    let start = piece.points[0];
    let whole = distance(start, contact);
    if whole < 3.0 { return 0.0; }
    let u = [(contact[0] - start[0]) / whole, (contact[1] - start[1]) / whole];
    let light = |p: Spot| plane.at(p[0], p[1]) - ground.at(p[0], p[1]);
    let n = piece.points.len().min(10);
    let level = piece.points[..n].iter().map(|p| light(*p)).sum::<f64>() / n as f64;
    let mut dark = 0.0;
    let mut r: f64 = 1.0;
    let mut seen = 0.0;
    while r < whole {
        let w = 1.0 + 0.03 * r;
        let p = [start[0] + r * u[0], start[1] + r * u[1]];
        let best = [-1.0, -0.5, 0.0, 0.5, 1.0].map(|o| light([p[0] - o * w * u[1], p[1] + o * w * u[0]])).into_iter().fold(f64::NEG_INFINITY, f64::max);
        if best < 0.5 * level { dark += 1.0; if dark > 4.0 { break; } } else { dark = 0.0; seen = r; }
        r += 1.0;
    }
    seen
}

pub fn lines(width: usize, height: usize, values: Vec<f32>) -> Lines {
    let plane = Plane { width, height, values };
    let found = at_scale(&plane, 1.0, 2.5, true);
    let f = if found.width.is_nan() { 1 } else { (found.width / 2.2).floor().clamp(1.0, 8.0) as usize };
    if f == 1 { let w = found.width; return at_scale(&plane, 1.0, if w.is_nan() { 2.5 } else { w.clamp(1.6, 5.0) }, false); }
    // shrink: mean of linear light
    let (w, h) = (width / f, height / f);
    let mut small = Plane::new(w, h);
    for y in 0..h { for x in 0..w {
        let mut sum = 0.0;
        for dy in 0..f { for dx in 0..f { sum += plane.values[(y * f + dy) * width + x * f + dx].powi(2); } }
        small.values[y * w + x] = (sum / (f * f) as f32).sqrt();
    } }
    let mut l = at_scale(&small, f as f64, found.width / f as f64, false);
    let up = |p: &mut Spot| { p[0] *= f as f64; p[1] *= f as f64; };
    for (p, _) in &mut l.pieces { p.iter_mut().for_each(up); }
    for (a, r) in &mut l.bursts { up(a); r.iter_mut().for_each(up); }
    if let Some(c) = &mut l.contact { up(&mut c.0); c.1 *= f as f64; }
    l.width = found.width;
    l
}

fn at_scale(plane: &Plane, factor: f64, line: f64, probe: bool) -> Lines {
    let (width, height) = (plane.width, plane.height);
    let mut times = Vec::new();
    let mut clock = std::time::Instant::now();
    let mut lap = |what| {
        times.push((what, clock.elapsed().as_secs_f64() * 1e3));
        clock = std::time::Instant::now();
    };
    let sigma = (line / 2.355).clamp(0.9, 1.7);
    let ridges = ridge::ridges(plane, sigma, 2.0, 0.003);
    lap("ridges");
    let chains = chain::chains(&ridges);
    lap("chains");
    let pieces: Vec<_> = chains.iter().flat_map(piece::pieces).collect();
    lap("pieces");
    let pieces: Vec<_> = pieces.into_iter().filter(|p| p.points.len() >= 4 && p.mean_strength() > 2.7 + 10.0 / p.points.len() as f64).collect();
    if probe {
        let w = width_of(&pieces, plane);
        return Lines { pieces: vec![], bursts: vec![], contact: None, times, width: w, seen: 0 };
    }
    let ground = tiles::Tiles::of(plane, 48, |v| tiles::quantile(v, 0.4)).around(|v| tiles::quantile(v, 0.4));
    let mut light = plane.clone();
    let mut row = vec![0.0; width];
    for y in 0..height {
        ground.row(y as f64 + 0.5, &mut row);
        for (v, g) in light.values[y * width..][..width].iter_mut().zip(&row) {
            *v -= g;
        }
    }
    lap("light");
    let pieces = join::join(pieces, &light);
    lap("join");
    let look = Look { plane, ground: &ground, width: line };
    let seen: Vec<(f64, f64)> = pieces.iter().map(|p| { let b = look.along(p); (evenness(&b), line_height(&b)) }).collect();
    let mut heights: Vec<f32> = pieces.iter().zip(&seen).filter(|(p, s)| p.length() > 25.0 && s.0 > 0.15).map(|(_, s)| s.1 as f32).collect();
    let least = (0.05 * f64::from(tiles::quantile(&mut heights, 0.8))).max(0.016);
    let mut pieces: Vec<_> = pieces.into_iter().zip(&seen).filter(|(_, s)| s.0 > 0.15 && s.1 > least).map(|(p, _)| p).collect();
    lap("flanks");
    let contact = contact::contact(&pieces, [width as f64, height as f64]);
    lap("contact");
    let mut bursts = Vec::new();
    let mut kinds = vec![0u8; pieces.len()];
    if let Some(contact) = &contact {
        for p in &mut pieces {
            if distance(p.points[0], contact.at) > distance(p.points[p.points.len() - 1], contact.at) { p.points.reverse(); p.strength.reverse(); }
        }
        let radial: Vec<bool> = pieces.iter().map(|p| contact::Chord::of(p).is_some_and(|c| c.past(contact.at) < 3.0)).collect();
        let candidates = burst::candidates(&pieces, width, height);
        lap("candidates");
        let hubs = hub::Hubs::new(&pieces, &radial, &ridges, contact, &look, 4.0 / factor);
        let hubs = hubs.found(&candidates);
        lap("hubs");
        let mut ray = vec![false; pieces.len()];
        for h in &hubs { for i in &h.pieces {
            // a carrier that ends in its burst is no ray
            let p = &pieces[*i];
            let ends_here = radial[*i] && distance(p.points[p.points.len() - 1], h.at) < distance(p.points[0], h.at);
            let carrier_like = radial[*i] && p.length() > 45.0;
            if !ends_here && !carrier_like { ray[*i] = true; }
        } }
        let mut free_lengths: Vec<f32> = Vec::new();
        let mut extras = vec![0.0; pieces.len()];
        for (i, p) in pieces.iter().enumerate() {
            let seen = look.along(p);
            let near = &seen[..seen.len().min(10)];
            let free = near.iter().filter(|b| b.is_apart()).count() * 2 > near.len();
            let extra = if free { 0.0 } else { hidden(p, contact.at, plane, &ground) };
            if free && radial[i] && !ray[i] && p.length() * factor > 24.0 { free_lengths.push(p.length() as f32); }
            extras[i] = extra;
        }
        let longest = if free_lengths.len() >= 5 { f64::from(tiles::quantile(&mut free_lengths, 0.9)) * 1.1 } else { f64::INFINITY };
        for (i, p) in pieces.iter().enumerate() {
            let seen = look.along(p);
            let apart = seen.iter().filter(|b| b.is_apart()).count() as f64;
            extras[i] = extras[i].min((longest - p.length()).max(0.0));
            let extra = extras[i];
            let whole = p.length() + extra;
            kinds[i] = if ray[i] { 2 } else if radial[i] && p.length() * factor >= 12.0 && apart > 0.5 * whole && p.mean_strength() > 4.0 { 1 } else { 0 };
            if kinds[i] == 1 && extra > 3.0 {
                kinds[i] = 3;
            }
        }
        for ((p, k), extra) in pieces.iter_mut().zip(&mut kinds).zip(&extras) {
            if *k == 3 {
                *k = 1;
                let s = p.points[0]; let w = distance(s, contact.at);
                p.points.insert(0, [s[0] + (contact.at[0] - s[0]) * extra / w, s[1] + (contact.at[1] - s[1]) * extra / w]);
            }
        }
        bursts = hubs.into_iter().map(|h| (h.at, h.rays.iter().map(|r| [h.at[0] + r.to * r.angle.cos(), h.at[1] + r.to * r.angle.sin()]).collect())).collect();
    }
    lap("rest");
    Lines {
        seen: pieces.len(),
        pieces: pieces.into_iter().zip(kinds).map(|(p, k)| (p.points, k)).collect(),
        bursts,
        contact: contact.map(|c| (c.at, c.sd, c.share)),
        times,
        width: line,
    }
}
