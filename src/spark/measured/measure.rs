use super::bursts::bursts;
use super::carriers::carriers;
use super::certainty;
use super::chain::chains;
use super::contact::Contact;
use super::exposed::Exposed;
use super::fan::Fan;
use super::hub::{Hub, Hubs};
use super::join::join;
use super::judge;
use super::light::light;
use super::line::{Line, lines};
use super::piece::{Piece, pieces};
use super::refusal::Refusal;
use super::resolved::resolved;
use super::ridge::Ridges;
use super::scene::Scene;
use super::seen::{SeenBurst, seen_bursts};
use super::sight::{Sight, Sights};
use super::stream::stream;
use super::stream_photo::{LeftOut, Spot, StreamPhoto, WhyLeftOut};
use super::track::{Track, tracks};
use super::width::line_width;
use crate::net::UNet;
use crate::photo::Picture;

/// The way of measuring that this program has. Raise it by one with every change that moves a figure of
/// [`crate::spark::StreamFigures`] on any photo: finds, their certainty, or how they are put together. The figures that a
/// set of known steels keeps are then made again from its photos.
pub const MEASURING: u32 = 5;

/// Points of lines stand so far above the noise, in its standard deviations.
const LEAST: f32 = 2.0;
/// The first look is at a picture no longer than this, px.
const FIRST_LOOK: usize = 2000;
/// Width of lines before they are measured, px of the plane, and the range that they are looked for in.
const USUAL_LINE: f64 = 2.5;
const LINE: (f64, f64) = (1.6, 5.0);
/// Lines of the plane are at least so wide, px: a wider one needs no more pixels.
const FINE: f64 = 2.2;
/// Largest number of pixels to one of the plane, along one side.
const COARSEST: usize = 8;
/// Full width at half the height of a Gaussian over its standard deviation.
const FWHM: f64 = 2.355;
/// Range of the smoothing, px of the plane.
const SIGMA: (f64, f64) = (0.9, 1.7);
/// Among sparks that lie over each other a burst is at least so sure: hardly more are found then in the dense part of a real
/// picture (160 on all of it) than before bursts were told by their pixels (152; judgement).
const CLEAR: f64 = 0.61;

/// Reads the photo of a spark stream; `exposed` is what the camera wrote about it.
///
/// Bright lines are found (Steger 1998), cut into smooth pieces, joined along their course; most come from one place,
/// the contact. Where lines end together, without passing, is a burst. What comes from the contact and stands apart
/// from other light is a carrier.
pub fn measure(picture: &Picture, exposed: Exposed, net: &UNet) -> Result<StreamPhoto, Refusal> {
    let lined = Lined::of(picture)?;
    let hubs = lined.hubs(&lined.bursts(net));
    let Lined { scene, lines, contact, .. } = lined;
    let tracks = tracks(&lines, &hubs, &scene, &contact);
    let (resolved, left_out) = resolved(&tracks, &lines, &hubs, &scene, &contact);
    judge::carriers(&tracks, resolved, &scene)?;
    let hubs = in_the_stream(hubs, &left_out, &tracks, &scene, contact.at);
    let stream = stream(&tracks, &contact, &scene);
    let (light, clipped) = light(&tracks, picture, &scene, &contact, &stream);
    Ok(StreamPhoto {
        size: [picture.width() as u32, picture.height() as u32],
        line_width: scene.line * scene.factor as f64,
        carriers: carriers(&tracks, &hubs, &scene),
        bursts: bursts(&hubs, &lines, &scene),
        stream,
        resolved,
        left_out,
        light,
        clipped,
        exposed,
    })
}

/// A whole photo as the network sees it: to learn from.
pub fn sight(picture: &Picture) -> Result<Sight, Refusal> {
    let lined = Lined::of(picture)?;
    let sights = lined.sights();
    Ok(sights.part([0; 2], sights.size()))
}

/// A picture with its lines and where they come from.
struct Lined {
    scene: Scene,
    ridges: Ridges,
    lines: Vec<Line>,
    contact: Contact,
}

impl Lined {
    fn of(picture: &Picture) -> Result<Self, Refusal> {
        let (factor, line) = scale(picture);
        let scene = Scene::of(picture, factor, line);
        let ridges = Ridges::of(&scene.plane, sigma(line), LEAST);
        let (lines, contact) = lines(join(all_pieces(&ridges), &scene), &scene);
        let contact = judge::stream(&lines, contact, &scene)?;
        Ok(Self { scene, ridges, lines, contact })
    }

    fn sights(&self) -> Sights<'_> {
        Sights { scene: &self.scene, ridges: &self.ridges, contact: self.contact.at }
    }

    fn bursts(&self, net: &UNet) -> Vec<SeenBurst> {
        let least = certainty::odds_of_burst(certainty::LEAST_BURST);
        seen_bursts(net, &self.sights(), &self.lines, least)
    }

    fn hubs(&self, seen: &[SeenBurst]) -> Vec<Hub> {
        Hubs::new(&self.lines, &self.ridges, &self.scene, self.contact.at).of(seen)
    }
}

/// The bursts where sparks stand apart, or that are clear all the same; one on no carrier that was traced lies between the outermost carriers.
fn in_the_stream(
    mut hubs: Vec<Hub>,
    left_out: &[LeftOut],
    tracks: &[Track<'_>],
    scene: &Scene,
    contact: Spot,
) -> Vec<Hub> {
    let factor = scene.factor as f64;
    let covers = |l: &LeftOut, at: Spot| {
        let [x, y] = at.map(|v| v * factor);
        (l.patch[0]..l.patch[2]).contains(&x) && (l.patch[1]..l.patch[3]).contains(&y)
    };
    let fan = Fan::of(tracks, contact);
    hubs.retain(|hub| {
        let here = left_out.iter().find(|l| covers(l, hub.at));
        let clear = match here.map(|l| l.why) {
            None => true,
            Some(WhyLeftOut::Dense) => hub.certainty >= CLEAR,
            Some(WhyLeftOut::Blown | WhyLeftOut::Clutter) => false,
        };
        clear && (!hub.carriers.is_empty() || fan.holds(hub.at))
    });
    hubs
}

fn all_pieces(ridges: &Ridges) -> Vec<Piece> {
    chains(ridges).iter().flat_map(pieces).collect()
}

fn sigma(line: f64) -> f64 {
    (line / FWHM).clamp(SIGMA.0, SIGMA.1)
}

/// Pixels to one of the plane, and how wide lines are there, px: a first look measures lines in a smaller picture.
fn scale(picture: &Picture) -> (usize, f64) {
    let coarsest = COARSEST.min(picture.width()).min(picture.height()).max(1);
    let first = picture.width().max(picture.height()).div_ceil(FIRST_LOOK).clamp(1, coarsest);
    let scene = Scene::of(picture, first, USUAL_LINE);
    let ridges = Ridges::of(&scene.plane, sigma(USUAL_LINE), LEAST);
    let Some(seen) = line_width(&all_pieces(&ridges), &scene.plane) else {
        return (first, USUAL_LINE);
    };
    // squares of pixels widen lines as a Gaussian of the same spread does: FWHM 2.355 / √12 of their side
    let blur = if first > 1 { FWHM / 12.0_f64.sqrt() } else { 0.0 };
    let width = first as f64 * (seen * seen - blur * blur).max(0.25).sqrt();
    let factor = (width / FINE).floor().clamp(1.0, coarsest as f64);
    (factor as usize, (width / factor).clamp(LINE.0, LINE.1))
}
