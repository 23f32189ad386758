use super::believed::{Believed, Cooled};
use super::draw::Draw;
use super::fault::Fault;
use super::trend::spark;
use super::truth::{Truth, hardness};

/// Tells what a smith sees of a coupon: eye and hand with their noise, in plain words. Spreads and word
/// borders are judgements of this test; none is taken from the program's tables of words, eyes or causes.
pub(super) struct Smith<'a> {
    pub(super) draw: &'a mut Draw,
    pub(super) believed: &'a Believed,
    pub(super) truth: &'a Truth,
    pub(super) fault: Option<Fault>,
    /// Whether more is told than `start` asks for.
    pub(super) talkative: bool,
}

/// The word for a value: the first whose upper border is above it.
fn word<'w>(value: f64, words: &[(f64, &'w str)], last: &'w str) -> &'w str {
    words.iter().find(|(border, _)| value < *border).map_or(last, |w| w.1)
}

const COMPARED: [(f64, &str); 4] = [(0.8, "fewer"), (1.3, "same"), (2.1, "some more"), (3.3, "many more")];
const PARTS: [(f64, &str); 4] = [(0.04, "none"), (0.32, "few"), (0.63, "half"), (0.86, "most")];
const TIERS: [(f64, &str); 3] = [(0.5, "none"), (1.5, "single"), (2.5, "forked")];
const ONSETS: [(f64, &str); 4] =
    [(0.13, "at the wheel"), (0.36, "first third"), (0.63, "middle"), (0.97, "last third")];
const FINE: [(f64, &str); 2] = [(0.4, "none"), (1.4, "some")];
const RAYS: [(f64, &str); 3] = [(1.0, "none"), (4.5, "few"), (7.0, "some")];
const LADDER: [(f64, &str); 8] = [
    (0.10, "1010"),
    (0.18, "1018"),
    (0.31, "1030"),
    (0.46, "1045"),
    (0.60, "1060"),
    (0.75, "1075"),
    (0.87, "1084"),
    (0.98, "1095"),
];

impl Smith<'_> {
    /// Told with this chance in few words, with that in many.
    fn tells(&mut self, few: f64, many: f64) -> bool {
        let p = if self.talkative { many } else { few };
        self.draw.chance(p)
    }

    /// Mass after, g: gain, brushing and handling, and the balance.
    pub(super) fn weighs(&mut self) -> Option<f64> {
        let (before, _) = self.believed.mass?;
        let gain = self.truth.gain? * 1e-3;
        Some(before + gain + self.draw.normal(0.0, 0.003))
    }

    /// All that was seen, as the rest of a sheet.
    pub(super) fn tells_all(&mut self) -> String {
        let sparks = section("[spark]", &self.sparks());
        let face = self.fracture();
        let skin = section("[witness]", &self.witness());
        sparks + &face + &skin + &self.files()
    }

    fn sparks(&mut self) -> Vec<String> {
        let (profile, ground) = (&self.truth.profile, self.truth.ground * 1e-3);
        // after long grinding only what comes last is in the eye
        let wt =
            if ground > 0.15e-3 { profile.at(ground) } else { profile.mean_over(ground) } + self.truth.bias;
        let wt = self.sees(wt);
        let mut lines = Vec::new();
        if self.tells(0.95, 0.85) {
            let core = self.sees(self.truth.inputs.core);
            let stock = spark(self.draw, "burst_density_rel", core).max(0.05);
            let ratio = spark(self.draw, "burst_density_rel", wt) / stock;
            lines.push(format!("compared = \"{}\"", word(ratio, &COMPARED, "bushy")));
        }
        let told = if self.fault == Some(Fault::GroundThrough) {
            self.tells(0.4, 0.4)
        } else {
            self.tells(0.7, 0.6)
        };
        if told {
            lines.push(format!("over_time = \"{}\"", self.over_time()));
        }
        lines.extend(self.grinding());
        if !self.talkative {
            return lines;
        }
        let looks = [
            ("share_bursting", "burst_fraction", &PARTS[..], "all", 0.6),
            ("tiers", "burst_order", &TIERS[..], "bushy", 0.6),
            ("onset", "onset_fraction", &ONSETS[..], "nowhere", 0.5),
            ("fine_sparking", "pollen", &FINE[..], "much", 0.5),
            ("rays", "rays_per_burst", &RAYS[..], "many", 0.4),
        ];
        for (field, feature, words, last, chance) in looks {
            if self.draw.chance(chance) {
                let value = spark(self.draw, feature, wt);
                lines.push(format!("{field} = \"{}\"", word(value, words, last)));
            }
        }
        if self.draw.chance(0.5) {
            let like = self.draw.normal(wt, 0.06);
            let nearest = LADDER.iter().min_by(|a, b| (a.0 - like).abs().total_cmp(&(b.0 - like).abs()));
            lines.push(format!("looks_like = \"{}\"", nearest.unwrap().1));
        }
        lines
    }

    /// Carbon that the sparks speak of to this eye, wt%.
    fn sees(&mut self, wt: f64) -> f64 {
        let factor = self.draw.normal(1.0, 0.08);
        (self.draw.normal(wt * factor, 0.03)).max(0.02)
    }

    /// How much was ground, and whether coupon and stock were hard or soft.
    fn grinding(&mut self) -> Vec<String> {
        let mut lines = Vec::new();
        if self.fault == Some(Fault::GroundThrough) {
            let told = self.draw.pick(&[
                (Some("ground_depth = \"a few seconds\""), 0.5),
                (Some("touches = 6"), 0.2),
                (Some("ground_depth = \"one touch\""), 0.1),
                (None, 0.2),
            ]);
            lines.extend(told.map(ToString::to_string));
        } else if self.tells(0.0, 0.6) {
            let told = self.draw.pick(&[
                ("ground_depth = \"one touch\"", 0.5),
                ("touches = 2", 0.4),
                ("touches = 4", 0.1),
            ]);
            lines.push(told.to_string());
        }
        if self.fault == Some(Fault::HardAgainstSoft) {
            if self.tells(0.5, 0.8) {
                lines.push("state = \"hardened\"".to_string());
                lines.push("untreated = { state = \"soft\" }".to_string());
            }
        } else if self.tells(0.0, 0.4) {
            lines.push("state = \"soft\"".to_string());
            lines.push("untreated = { state = \"soft\" }".to_string());
        }
        lines
    }

    /// How sparks change while grinding inward: rich is what a steel of about 0.42 %C throws, where bursts
    /// begin to fork (trend); one smith calls it so earlier than another.
    fn over_time(&mut self) -> &'static str {
        if self.draw.chance(0.03) {
            return self.draw.pick(&[
                ("rich then plain", 1.0),
                ("plain throughout", 1.0),
                ("rich throughout", 1.0),
            ]);
        }
        if self.fault == Some(Fault::GroundThrough) {
            return "plain throughout";
        }
        let rich = self.draw.normal(0.42, 0.06);
        let deep = self.draw.between(0.5, 1.2).min(self.truth.profile.extent() * 1e3);
        let at = |mm: f64| self.truth.profile.at(mm * 1e-3) + self.truth.bias;
        let first = at(0.5 * self.truth.ground.min(0.1)) >= rich;
        let peak = (0..=40).map(|i| at(deep * f64::from(i) / 40.0)).fold(0.0, f64::max) >= rich;
        match (first, peak, at(deep) >= rich) {
            (true, _, true) => "rich throughout",
            (true, _, false) => "rich then plain",
            (false, true, _) => "plain then rich then plain",
            (false, false, _) => "plain throughout",
        }
    }

    fn fracture(&mut self) -> String {
        let quench = self.truth.quench;
        let mut lines = Vec::new();
        if self.tells(0.9, 0.95) {
            lines.push(format!("quenched_in = \"{}\"", self.believed.medium));
        }
        let hot = self.fault == Some(Fault::OverCarburised);
        if self.believed.cooled == Cooled::FromHeat {
            if self.tells(0.3, 0.7) {
                lines.push("quench_heat = \"straight from the soak\"".to_string());
            }
        } else if if hot { self.draw.chance(0.7) } else { self.tells(0.0, 0.6) } {
            let told = if quench.just_past_magnet {
                "just past magnet".to_string()
            } else {
                format!("{:.0} C", self.draw.normal(quench.celsius, 12.0))
            };
            lines.push(format!("quench_heat = \"{told}\""));
        }
        let (rim, depth) = self.rim();
        lines.push(format!("rim = \"{rim}\""));
        let edge = matches!(rim, "partial" | "all round");
        let depth = depth.filter(|_| edge);
        if let Some(mm) = depth {
            lines.push(format!("depth = \"{mm:.2} mm\""));
        }
        let core_hard = self.core_hard();
        let fine: &[(&str, f64)] = &[("silky", 0.5), ("fine", 0.4), ("grainy", 0.1)];
        if edge && self.tells(0.0, 0.6) {
            let coarse = if self.fault == Some(Fault::HotSteel) || hot { 0.4 } else { 0.08 };
            let texture = if self.truth.lip.is_some() {
                self.draw.pick(&[("silky", 0.5), ("fibrous", 0.5)])
            } else if self.draw.chance(coarse) {
                self.draw.pick(&[("grainy", 0.6), ("coarse", 0.4)])
            } else {
                self.draw.pick(fine)
            };
            lines.push(format!("texture_rim = \"{texture}\""));
        }
        if rim != "through" && self.tells(0.0, 0.6) {
            let torn = if core_hard { 0.1 } else { 0.92 };
            let texture = if self.draw.chance(torn) { "fibrous" } else { self.draw.pick(fine) };
            lines.push(format!("texture_core = \"{texture}\""));
        }
        let lip = self.truth.lip.is_some();
        if self.tells(if lip { 0.3 } else { 0.1 }, 0.6) {
            let seen = self.draw.chance(if lip { 0.8 } else { 0.15 });
            lines.push(format!("shear_lip = {seen}"));
        }
        if self.tells(0.0, 0.6) {
            let broken = if self.draw.chance(0.8) { "one blow" } else { "bent first" };
            lines.push(format!("broken = \"{broken}\""));
        }
        let mut text = section("[fracture]", &lines);
        if self.tells(0.1, 0.45) {
            text += &self.blank(rim, depth, core_hard);
        }
        text
    }

    /// The blank of the same stock, quenched and broken beside it.
    fn blank(&mut self, rim: &str, depth: Option<f64>, core_hard: bool) -> String {
        let mut lines = vec![format!("quenched_in = \"{}\"", self.believed.medium)];
        if self.truth.lip.is_some() {
            lines.push(format!("rim = \"{rim}\""));
            lines.extend(depth.map(|mm| format!("depth = \"{:.2} mm\"", self.ruler(mm))));
        } else if core_hard && self.draw.chance(0.4) {
            lines.push("rim = \"through\"".to_string());
        } else {
            lines.push("rim = \"none\"".to_string());
        }
        if self.draw.chance(0.8) {
            let torn = if core_hard { 0.08 } else { 0.95 };
            let texture = if self.draw.chance(torn) { "fibrous" } else { "fine" };
            lines.push(format!("texture_core = \"{texture}\""));
        }
        section("[fracture.blank]", &lines)
    }

    /// Stock that hardens to the middle of a small coupon.
    fn core_hard(&self) -> bool {
        self.truth.quench.hardened && (self.truth.core_hard || self.truth.inputs.core >= 0.28)
    }

    /// A ruler and the eye: a tenth of a millimetre either way in nine readings of ten, mm.
    fn ruler(&mut self, mm: f64) -> f64 {
        let read = self.draw.normal(mm, 0.06);
        let step = if self.draw.chance(0.7) { 0.1 } else { 0.05 };
        ((read / step).round() * step).max(step)
    }

    /// How far round the rim runs, and how deep if that was read.
    fn rim(&mut self) -> (&'static str, Option<f64>) {
        let around = self.draw.pick(&[("partial", 0.12), ("all round", 0.88)]);
        let told = self.tells(0.8, 0.85);
        let read = |smith: &mut Self, mm: f64| told.then(|| smith.ruler(mm));
        if !self.truth.quench.hardened {
            return ("none", None);
        }
        if let Some(mm) = self.truth.lip {
            return (self.draw.pick(&[("partial", 0.6), ("all round", 0.4)]), read(self, mm));
        }
        if self.truth.core_hard {
            let rim = self.draw.pick(&[("through", 0.5), ("none", 0.35), ("all round", 0.15)]);
            return (rim, read(self, self.truth.visible.unwrap_or(0.3)));
        }
        let least = self.draw.between(0.03, 0.12);
        match self.truth.visible {
            None => ("through", None),
            Some(mm) if mm < least => ("none", None),
            Some(mm) => (around, read(self, mm)),
        }
    }

    fn witness(&mut self) -> Vec<String> {
        let mut lines = Vec::new();
        if self.tells(0.85, 0.9) {
            let leak = self.fault == Some(Fault::WeakPack) && self.truth.inputs.transfer < 4e-8;
            let dark = match self.fault {
                _ if leak => 0.5,
                Some(Fault::CarbonLost | Fault::DecarburisedSkin) => 0.6,
                _ if self.believed.cooled == Cooled::OpenedHot => 0.8,
                _ => 0.1,
            };
            let skin = if self.draw.chance(dark) { "dark scale" } else { "light grey" };
            lines.push(format!("skin = \"{skin}\""));
        }
        lines
    }

    /// A file on the quenched coupon; some grind a little and file again.
    fn files(&mut self) -> String {
        let mut text = String::new();
        if !self.tells(0.8, 0.8) {
            return text;
        }
        let thin_skin = self.fault == Some(Fault::DecarburisedSkin);
        let again = self.draw.between(0.1, 0.25);
        let depths =
            if self.tells(0.0, if thin_skin { 0.5 } else { 0.2 }) { vec![0.0, again] } else { vec![0.0] };
        // a plain new mill file: between the files 62 and 65 of SAE J864; hands differ
        let turns = self.draw.normal(62.5, 1.5);
        for mm in depths {
            let hard = hardness(self.truth, mm).map_or(15.0, |hrc| self.draw.normal(hrc, 1.0));
            let result = if hard > turns { "skates" } else { "bites" };
            let mut lines = vec!["which = \"mill file\"".to_string(), format!("result = \"{result}\"")];
            if mm > 0.0 {
                lines.push(format!("after_grinding = \"{mm:.2} mm\""));
            }
            text += &section("[[witness.file]]", &lines);
        }
        text
    }
}

fn section(header: &str, lines: &[String]) -> String {
    if lines.is_empty() { String::new() } else { format!("{header}\n{}\n", lines.join("\n")) }
}
