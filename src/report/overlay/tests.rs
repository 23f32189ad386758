//! What a drawing shows, told from its pixels.

use super::carriers::BY_TURNS;
use super::palette::{Colour, PURPLE, VERMILLION, WHITE, YELLOW};
use super::*;
use crate::photo::{Channels, Samples};
use crate::spark::{Burst, Carrier, CarrierEnd, Exposed, LeftOut, Spot, Stream, StreamPhoto, WhyLeftOut};
use crate::units::Interval;

fn dark(width: usize, height: usize) -> Picture {
    let samples = Samples::Eight(vec![20; width * height]);
    Picture::new(width, height, Channels::Grey, samples).unwrap()
}

/// A photo in which nothing was found, of a stream to the right.
fn empty(width: usize, height: usize) -> StreamPhoto {
    let (wide, high) = (width as f64, height as f64);
    StreamPhoto {
        size: [width as u32, height as u32],
        line_width: 4.0,
        carriers: Vec::new(),
        bursts: Vec::new(),
        stream: Stream {
            contact: [wide * 0.1, high * 0.5],
            contact_sd: 10.0,
            direction: Interval::exact(0.0),
            opening: Interval::exact(30.0),
            length: None,
            flight: None,
        },
        resolved: 1.0,
        left_out: Vec::new(),
        light: Vec::new(),
        clipped: 0.0,
        exposed: Exposed::default(),
    }
}

fn carrier(path: &[Spot], certainty: f64) -> Carrier {
    let (start, end) = (CarrierEnd::Free, CarrierEnd::Free);
    Carrier { path: path.to_vec(), length: 1.0, start, end, bursts: Vec::new(), certainty }
}

fn burst(at: Spot, rays: &[Spot], tier: u32, certainty: f64) -> Burst {
    Burst { at, rays: rays.to_vec(), ray_count: rays.len() as f64, tier, parent: None, certainty }
}

/// Places of pixels of a colour in the photo's part of a drawing.
fn places(drawing: &Drawing, height: usize, colour: Colour) -> Vec<[f64; 2]> {
    let pixels = drawing.rgb().chunks_exact(3).take(height * drawing.width()).enumerate();
    let of = pixels.filter(|(_, pixel)| **pixel == colour.0);
    of.map(|(i, _)| [(i % drawing.width()) as f64 + 0.5, (i / drawing.width()) as f64 + 0.5]).collect()
}

fn nearest(places: &[[f64; 2]], to: [f64; 2]) -> f64 {
    places.iter().map(|p| (p[0] - to[0]).hypot(p[1] - to[1])).fold(f64::INFINITY, f64::min)
}

#[test]
fn every_carrier_has_its_line_beside_it() {
    let mut found = empty(1600, 1000);
    for i in 0..12 {
        let y = 80.0 * f64::from(i) + 60.0;
        let path: Vec<Spot> = (0..50).map(f64::from).map(|k| [400.0 + 15.0 * k, y + 0.02 * k * k]).collect();
        found.carriers.push(carrier(&path, 0.9));
    }
    let drawing = overlay(&dark(1600, 1000), Ok(&found), 1600);
    let lines = BY_TURNS.map(|colour| places(&drawing, 1000, colour));
    for carrier in &found.carriers {
        let away = |lines: &[[f64; 2]]| carrier.path.iter().map(|p| nearest(lines, *p)).fold(0.0, f64::max);
        let near = lines.iter().map(|l| away(l)).fold(f64::INFINITY, f64::min);
        assert!(near < 8.0, "a point of it is {near:.1} px from its line");
        // the middle of the streak stays to be seen
        for at in &carrier.path {
            let pixel = (at[1] as usize * 1600 + at[0] as usize) * 3;
            assert_eq!(drawing.rgb()[pixel], 17, "the streak is covered at {at:?}");
        }
    }
    // neighbours differ: six of each
    let of_first = |i: usize| nearest(&lines[0], found.carriers[i].path[25]) < 8.0;
    assert!((1..12).all(|i| of_first(i) != of_first(i - 1)));
}

#[test]
fn unsure_ones_are_dashed() {
    let path: Vec<Spot> = vec![[400.0, 500.0], [1400.0, 500.0]];
    let count = |certainty| {
        let mut found = empty(1600, 1000);
        found.carriers.push(carrier(&path, certainty));
        found.bursts.push(burst([1000.0, 200.0], &[[1080.0, 200.0], [960.0, 150.0]], 1, certainty));
        let drawing = overlay(&dark(1600, 1000), Ok(&found), 1600);
        [BY_TURNS[0], YELLOW].map(|colour| places(&drawing, 1000, colour).len() as f64)
    };
    let (sure, unsure) = (count(0.5), count(0.49));
    for (sure, unsure) in sure.iter().zip(unsure) {
        assert!(unsure > 0.4 * sure && unsure < 0.9 * sure, "{unsure} of {sure}");
    }
}

/// How many stretches of a colour are on a straight way from `from` at an angle.
fn met(drawing: &Drawing, from: Spot, degrees: f64, length: f64, colour: Colour) -> usize {
    let (down, right) = degrees.to_radians().sin_cos();
    let lit: Vec<bool> = (0..(length * 4.0) as usize)
        .map(|i| i as f64 / 4.0)
        .map(|by| [(from[0] + by * right) as usize, (from[1] + by * down) as usize])
        .map(|[x, y]| drawing.rgb()[(y * drawing.width() + x) * 3..][..3] == colour.0)
        .collect();
    usize::from(lit[0]) + lit.windows(2).filter(|w| !w[0] && w[1]).count()
}

#[test]
fn a_ring_encloses_its_burst_and_secondary_ones_have_two() {
    let at = [800.0, 500.0];
    let rays: Vec<Spot> = [(10.0, 60.0), (75.0, 90.0), (130.0, 45.0), (200.0, 20.0_f64)]
        .iter()
        .map(|(degrees, long): &(f64, f64)| {
            [at[0] + long * degrees.to_radians().cos(), at[1] + long * degrees.to_radians().sin()]
        })
        .collect();
    for (tier, rings) in [(1, 1), (2, 2), (3, 2)] {
        let mut found = empty(1600, 1000);
        found.bursts.push(burst(at, &rays, tier, 0.9));
        let drawing = overlay(&dark(1600, 1000), Ok(&found), 1600);
        for ray in &rays {
            let degrees = (ray[1] - at[1]).atan2(ray[0] - at[0]).to_degrees();
            assert!(met(&drawing, *ray, degrees, 190.0, YELLOW) >= rings, "open beyond {ray:?}");
            assert!(nearest(&places(&drawing, 1000, YELLOW), *ray) < 3.0, "no tick at {ray:?}");
        }
        // away from ticks and from the number
        for degrees in [100.0, 160.0, 240.0, 280.0] {
            let start = [at[0] + 6.0 * f64::cos(f64::to_radians(degrees)), at[1]];
            assert_eq!(met(&drawing, start, degrees, 250.0, YELLOW), rings, "tier {tier} at {degrees}");
        }
    }
}

#[test]
fn ends_that_are_no_ends_are_marked() {
    let marked = |start, end| {
        let mut found = empty(1600, 1000);
        found.carriers.push(Carrier { start, end, ..carrier(&[[600.0, 300.0], [1600.0, 300.0]], 0.9) });
        places(&overlay(&dark(1600, 1000), Ok(&found), 1600), 1000, VERMILLION)
    };
    assert!(marked(CarrierEnd::AtWheel, CarrierEnd::Burst).is_empty());
    let cut = marked(CarrierEnd::Free, CarrierEnd::Cut);
    assert!(nearest(&cut, [1600.0, 300.0]) < 5.0 && nearest(&cut, [600.0, 300.0]) > 900.0);
    let hidden = marked(CarrierEnd::Hidden, CarrierEnd::Free);
    assert!(nearest(&hidden, [600.0, 300.0]) < 12.0 && nearest(&hidden, [1600.0, 300.0]) > 900.0);
    let height = |p: &[[f64; 2]]| {
        p.iter().map(|p| p[1]).fold(0.0, f64::max) - p.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min)
    };
    assert!(height(&cut) > 3.0 * height(&hidden), "a bar and dots: they differ without colour");
}

#[test]
fn the_contact_is_shown_or_pointed_to() {
    let photo = dark(1600, 1000);
    let purple = |contact| {
        let mut found = empty(1600, 1000);
        found.stream.contact = contact;
        places(&overlay(&photo, Ok(&found), 1600), 1000, PURPLE)
    };
    assert!(nearest(&purple([700.0, 300.0]), [700.0, 300.0]) < 2.0);
    // the stream goes to the right: it comes in at the left at the contact's height, or never
    for (contact, edge) in [
        ([-500.0, 400.0], [0.0, 400.0]),
        ([2500.0, 400.0], [1600.0, 400.0]),
        ([900.0, -400.0], [900.0, 0.0]),
        ([900.0, 1e7], [900.0, 1000.0]),
    ] {
        let away = nearest(&purple(contact), edge);
        assert!(away < 40.0, "{contact:?}: the nearest mark is {away:.0} px from {edge:?}");
    }
}

#[test]
fn left_out_patches_are_seen_through_and_differ() {
    let patterns = [WhyLeftOut::Dense, WhyLeftOut::Blown, WhyLeftOut::Clutter].map(|why| {
        let mut found = empty(1600, 1000);
        // two that touch become one
        found.left_out.push(LeftOut { patch: [800.0, 200.0, 1000.0, 600.0], why });
        found.left_out.push(LeftOut { patch: [1000.0, 200.0, 1200.0, 600.0], why });
        let drawing = overlay(&dark(1600, 1000), Ok(&found), 1600);
        let lit = |x: usize, y: usize| drawing.rgb()[(y * 1600 + x) * 3] > 50;
        let inner: Vec<bool> =
            (210..590).flat_map(|y| (810..1190).map(move |x| (x, y))).map(|(x, y)| lit(x, y)).collect();
        let covered = inner.iter().filter(|l| **l).count() as f64 / inner.len() as f64;
        assert!((0.005..0.3).contains(&covered), "{why:?} covers {covered:.3}");
        assert!((200..600).all(|y| lit(800, y) && lit(1199, y)), "{why:?} has no outline");
        assert!(!(210..590).all(|y| lit(1000, y)), "{why:?}: a line where two patches touch");
        inner
    });
    assert!(patterns[0] != patterns[1] && patterns[1] != patterns[2] && patterns[0] != patterns[2]);
}

#[test]
fn a_photo_without_carriers_says_so() {
    let drawing = overlay(&dark(1600, 1000), Ok(&empty(1600, 1000)), 1600);
    assert!(drawing.height() > 1000 && drawing.rgb().chunks_exact(3).any(|p| p == WHITE.0));
    for colour in [BY_TURNS[0], BY_TURNS[1], YELLOW, VERMILLION] {
        assert!(places(&drawing, 1000, colour).is_empty(), "{colour:?}");
    }
}

#[test]
fn a_refused_photo_stays_as_it_is_with_the_reason_below() {
    let why = Refusal::TooFew { found: 3, needed: 12 };
    let drawing = overlay(&dark(1600, 1000), Err(&why), 1600);
    assert!(drawing.rgb()[..1600 * 1000 * 3].iter().all(|v| v.abs_diff(20) <= 1));
    let banner = &drawing.rgb()[1600 * 1000 * 3..];
    assert!(
        banner.chunks_exact(3).any(|p| p == WHITE.0) && banner.chunks_exact(3).any(|p| p == VERMILLION.0)
    );
}

/// Nothing reaches out of the photo's part, wherever a wrong measurement puts it, and none of it hangs.
#[test]
fn nothing_is_drawn_outside_the_photo() {
    let mut inside = empty(800, 600);
    let mut outside = inside.clone();
    let far = [[-1e300, 1e300], [f64::NAN, 5.0], [5.0, f64::INFINITY], [1e12, 300.0], [-4.0, 603.0]];
    inside.carriers.push(carrier(&[[300.0, 200.0], [500.0, 200.0]], 0.4));
    inside.bursts.push(burst([400.0, 300.0], &[[410.0, 310.0]], 2, 0.4));
    outside.carriers.push(carrier(&far, 0.4));
    outside.bursts.push(burst([-4.0, 603.0], &[[1e300, -1e9]], 2, 0.4));
    outside.stream.direction = Interval::exact(f64::INFINITY);
    let [a, b] = [&inside, &outside].map(|found| overlay(&dark(800, 600), Ok(found), 1600));
    assert_eq!((a.width(), a.height()), (b.width(), b.height()));
    assert!(a.rgb()[800 * 600 * 3..] == b.rgb()[800 * 600 * 3..], "the legend was drawn over");
    outside.stream.contact = [f64::NAN, -1e300];
    outside.left_out.push(LeftOut { patch: [-1e300, f64::NAN, 1e300, 5.0], why: WhyLeftOut::Blown });
    outside.left_out.push(LeftOut { patch: [900.0, 50.0, -3.0, 1e300], why: WhyLeftOut::Dense });
    overlay(&dark(800, 600), Ok(&outside), 1600);
}

#[test]
fn draws_photos_of_every_size() {
    let sizes = [[1, 1], [1, 4000], [4000, 1], [640, 480], [480, 640], [3000, 4000], [8660, 5774]];
    for [width, height] in sizes {
        let photo = dark(width, height);
        let mut found = empty(width, height);
        let spot = |x: f64, y: f64| [x * width as f64, y * height as f64];
        found.carriers.push(Carrier {
            end: CarrierEnd::Cut,
            start: CarrierEnd::Hidden,
            ..carrier(&[spot(0.2, 0.5), spot(1.0, 0.4)], 0.2)
        });
        found.bursts.push(burst(spot(0.5, 0.5), &[spot(0.55, 0.52)], 1, 0.9));
        found
            .left_out
            .push(LeftOut { patch: [0.0, 0.0, width as f64, height as f64], why: WhyLeftOut::Clutter });
        let drawing = overlay(&photo, Ok(&found), LONGEST_SIDE);
        assert_eq!(drawing.rgb().len(), drawing.width() * drawing.height() * 3);
        let scale = (1600.0 / width.max(height) as f64).min(1.0);
        let drawn = (width as f64 * scale).round().max(1.0) as usize;
        assert!(drawing.width() >= drawn, "{width} x {height} became {}", drawing.width());
    }
}

/// Letters are at least a forty-fifth of the photo's height and a fortieth of the width of the whole, which is what a
/// phone held upright fits to its screen; the size is from the top of capitals to the foot of a "g".
#[test]
fn letters_can_be_read_on_a_phone() {
    let mut found = empty(100, 100);
    found.carriers.push(carrier(&[[1.0, 1.0], [90.0, 9.0]], 0.2));
    found.carriers[0].start = CarrierEnd::Hidden;
    found.carriers[0].end = CarrierEnd::Cut;
    found.bursts.push(burst([5.0, 5.0], &[], 2, 0.2));
    for why in [WhyLeftOut::Dense, WhyLeftOut::Blown, WhyLeftOut::Clutter] {
        found.left_out.push(LeftOut { patch: [0.0, 0.0, 9.0, 9.0], why });
    }
    let words = Refusal::NoStream { lines: 1000, share: 10.0, needed: 50.0 }.to_string();
    for legend in [Legend::of(&found, true), Legend::refused(words)] {
        for [width, height] in [[1600.0, 900.0], [900.0, 1600.0], [640.0, 480.0], [20.0, 1600.0], [1.0, 1.0]]
        {
            let view = view(1.0, width, height);
            let whole = width.max(legend.least_width(view.text));
            assert!(view.text >= whole / 40.0 && view.number >= whole / 50.0, "{width} x {height}");
            assert!(view.number >= height / 45.0 && view.text >= view.number && view.number >= 11.0);
        }
    }
}
