use super::draw::Draw;
use super::fault::Fault;
use std::fmt::Write;

/// A run as the smith would write it down, before anything was seen of the coupon. Ranges are judgements:
/// what a small forge or kiln does.
#[derive(Clone)]
pub(in crate::reference) struct Believed {
    grade: &'static str,
    /// Thickness, or diameter of a round coupon, mm; `None`: not told.
    pub(in crate::reference) size_mm: Option<f64>,
    round: bool,
    edge_mm: Option<(f64, f64)>,
    container: Option<(&'static str, f64, f64)>,
    compound: &'static str,
    heat: Heat,
    celsius: f64,
    minutes: f64,
    thermometer: &'static str,
    pub(in crate::reference) cooled: Cooled,
    /// Mass before, g, and decimals of the balance.
    pub(in crate::reference) mass: Option<(f64, usize)>,
    cutting_edge: bool,
    /// In what the coupon is quenched, later or straight from the heat.
    pub(in crate::reference) medium: &'static str,
}

#[derive(Clone, Copy, PartialEq)]
enum Heat {
    Steps,
    Time,
    Colour(&'static str),
}

#[derive(Clone, Copy, PartialEq)]
pub(in crate::reference) enum Cooled {
    ClosedPack,
    OpenedHot,
    FromHeat,
}

impl Believed {
    /// A run of a kind in which the fault can be.
    pub(in crate::reference) fn draw(draw: &mut Draw, fault: Option<Fault>) -> Self {
        let round = draw.chance(0.15);
        let size = (draw.between(3.0, if round { 12.0 } else { 8.0 }) * 10.0).round() / 10.0;
        let size_told = fault != Some(Fault::ThinCoupon) && draw.chance(0.85);
        let closed =
            matches!(fault, Some(Fault::CarbonLost | Fault::DecarburisedSkin | Fault::HardAgainstSoft));
        let cooled = match fault {
            _ if closed => Cooled::ClosedPack,
            Some(Fault::OverCarburised) => draw.pick(&[(Cooled::ClosedPack, 0.4), (Cooled::FromHeat, 0.6)]),
            _ => draw.pick(&[(Cooled::ClosedPack, 0.8), (Cooled::OpenedHot, 0.06), (Cooled::FromHeat, 0.14)]),
        };
        let wet = draw.pick(&[("water", 0.6), ("brine", 0.4)]);
        let medium = match fault {
            Some(Fault::SlackQuench) => "oil",
            Some(Fault::CoreHardened) => wet,
            _ if draw.chance(0.4) => "oil",
            _ => wet,
        };
        let container = (!draw.chance(0.15)).then(|| {
            let (shape, least, most) = draw.pick(&[(("pipe", 35.0, 60.0), 0.6), (("box", 45.0, 80.0), 0.4)]);
            (shape, draw.between(least, most).round(), draw.between(2.0, 4.0).round())
        });
        let heat = draw.pick(&[
            (Heat::Steps, 0.4),
            (Heat::Time, 0.4),
            (Heat::Colour("bright cherry"), 0.14),
            (Heat::Colour("cherry"), 0.06),
        ]);
        let can_weigh = size_told && cooled == Cooled::ClosedPack;
        Self {
            grade: draw.pick(&[
                ("1018", 0.3),
                ("1020", 0.1),
                ("1010", 0.1),
                ("A36", 0.15),
                ("mild steel", 0.35),
            ]),
            size_mm: size_told.then_some(size),
            round,
            edge_mm: draw.chance(0.6).then(|| (draw.between(0.8, 2.5), draw.between(0.05, 0.3))),
            container,
            compound: draw.pick(&[
                ("granules", 0.35),
                ("powder", 0.1),
                ("with energizer", 0.15),
                ("charcoal", 0.4),
            ]),
            heat,
            celsius: draw.between(86.0, 94.0).round() * 10.0,
            minutes: draw.between(6.0, 36.0).round() * 5.0,
            thermometer: draw.pick(&[("beside the steel", 0.25), ("in the pack", 0.35), ("outside", 0.4)]),
            cooled,
            mass: (can_weigh && draw.chance(0.3))
                .then(|| (draw.between(8.0, 30.0), draw.pick(&[(2, 0.6), (3, 0.4)]))),
            cutting_edge: draw.chance(0.3),
            medium,
        }
    }

    /// A run in a container of known size, its heat told by a thermometer that has a place.
    pub(super) fn in_known_furnace(draw: &mut Draw) -> Self {
        loop {
            let believed = Self::draw(draw, None);
            let by_thermometer = matches!(believed.heat, Heat::Steps | Heat::Time);
            if by_thermometer && believed.container.is_some() && believed.cooled == Cooled::ClosedPack {
                return believed;
            }
        }
    }

    /// Another run with all the same but the heat and the time.
    pub(super) fn another(&self, draw: &mut Draw) -> Self {
        let (celsius, minutes) =
            (draw.between(86.0, 94.0).round() * 10.0, draw.between(6.0, 36.0).round() * 5.0);
        Self { celsius, minutes, ..self.clone() }
    }

    /// The sheet without what was seen; `after`: mass after the soak, g.
    pub(in crate::reference) fn text(&self, after: Option<f64>) -> String {
        let mut text = format!("run-sheet = 1\n[stock]\ngrade = \"{}\"\n", self.grade);
        let mut line = |args: std::fmt::Arguments<'_>| text.write_fmt(args).unwrap();
        match (self.size_mm, self.round) {
            (Some(mm), true) => line(format_args!("diameter = \"{mm:.1} mm\"\n")),
            (Some(mm), false) => line(format_args!("thickness = \"{mm:.1} mm\"\n")),
            (None, _) => {}
        }
        if let Some((before, digits)) = self.mass {
            line(format_args!("mass_before = \"{before:.digits$} g\"\n"));
            if let Some(after) = after {
                line(format_args!("mass_after = \"{after:.digits$} g\"\n"));
            }
        }
        if let Some((edge, off)) = self.edge_mm {
            line(format_args!("[piece]\nedge_thickness = \"{edge:.1} mm\"\nmetal_off = \"{off:.2} mm\"\n"));
            line(format_args!("bevels = \"both\"\ncoupon_sat = \"same\"\n"));
        }
        line(format_args!("[pack]\ncompound = \"{}\"\n", self.compound));
        if let Some((shape, inside, wall)) = self.container {
            line(format_args!("container = \"{shape}\"\ninside = \"{inside} mm\"\nwall = \"{wall} mm\"\n"));
        }
        line(format_args!("[soak]\n"));
        let Self { celsius, minutes, thermometer, .. } = self;
        match self.heat {
            Heat::Steps => {
                let end = match self.cooled {
                    Cooled::ClosedPack => "cool in pack".to_string(),
                    Cooled::OpenedHot => "open hot".to_string(),
                    Cooled::FromHeat => format!("quench in {}", self.medium),
                };
                line(format_args!(
                    "steps = [\"40 min to {celsius}C\", \"hold {minutes} min\", \"{end}\"]\nthermometer = \"{thermometer}\"\n"
                ));
            }
            Heat::Time => line(format_args!(
                "time_at_heat = \"{minutes} min\"\ntemperature = \"{celsius} C\"\nthermometer = \"{thermometer}\"\n"
            )),
            Heat::Colour(word) => {
                line(format_args!("time_at_heat = \"{minutes} min\"\ncolour = \"{word}\"\n"));
            }
        }
        if self.heat != Heat::Steps {
            let word = match self.cooled {
                Cooled::ClosedPack => "in the closed pack",
                Cooled::OpenedHot => "opened hot",
                Cooled::FromHeat => "quenched from the heat",
            };
            line(format_args!("cooled = \"{word}\"\n"));
        }
        if self.cutting_edge {
            line(format_args!("[aim]\nuse = \"cutting edge\"\n"));
        }
        text
    }
}
