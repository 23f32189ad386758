use super::course::Course;
use super::limit::across;
use super::{Intent, PlanError, Start, Tables};
use crate::soak::{Compound, Container};
use crate::units::{Depth, Temperature, Time};

/// What may bring a case within the longest hold.
#[derive(Debug, Clone, PartialEq)]
pub enum Remedy {
    /// This heat.
    Hotter(Temperature),
    /// A container with this inside size.
    Slimmer(Depth),
    /// Another compound.
    Compound(String),
    /// One of each kind.
    Together(Box<[Remedy]>),
}

/// How much hotter is tried, K, and to which heat, °C (judgement: more burns containers and coarsens any grain).
const HOTTER_K: [f64; 2] = [50.0, 100.0];
const HOTTEST_CELSIUS: f64 = 1000.0;

/// A compound is stronger if at its weakest it offers this share of what the one in the pack does at best (judgement).
const STRONGER: f64 = 0.85;

impl Remedy {
    /// As it stands in a sentence.
    pub(super) fn words(&self) -> String {
        match self {
            Self::Hotter(heat) => format!("{:.0} °C", heat.celsius()),
            Self::Slimmer(inside) => format!("a container {:.0} mm inside", inside.millimetres()),
            Self::Compound(name) => format!("fresh charcoal, {name}"),
            Self::Together(all) => all.iter().map(Self::words).collect::<Vec<_>>().join(" with "),
        }
    }

    /// The same soak with it.
    fn applied(&self, intent: &Intent, tables: &Tables) -> Intent {
        let mut changed = intent.clone();
        match self {
            Self::Hotter(heat) => changed.temperature = *heat,
            Self::Slimmer(inside) => {
                let slimmer = |told: Container| Container { inside: Some(*inside), ..told };
                changed.pack.container = intent.pack.container.map(slimmer);
            }
            Self::Compound(name) => {
                if let Some(compound) = tables.compounds.iter().find(|c| c.name == *name) {
                    changed.pack.compound = compound.clone();
                }
            }
            Self::Together(all) => {
                for one in all {
                    changed = one.applied(&changed, tables);
                }
            }
        }
        changed
    }

    /// All that can be changed here.
    fn all(intent: &Intent, tables: &Tables) -> Vec<Self> {
        let hotter = HOTTER_K.iter().filter_map(|step| {
            let celsius = intent.temperature.celsius() + step;
            Temperature::from_celsius(celsius).ok().filter(|_| celsius <= HOTTEST_CELSIUS).map(Self::Hotter)
        });
        let slimmer = across(intent).and_then(|mm| {
            let inside = Depth::from_millimetres(mm + 2.0 * tables.rules.sides.value.millimetres()).ok()?;
            (inside < intent.pack.container?.inside?).then_some(Self::Slimmer(inside))
        });
        let has = intent.pack.compound.share_of_acm.value.best();
        let stronger = |c: &&Compound| c.share_of_acm.value.low() > STRONGER * has;
        let compounds = tables.compounds.iter().filter(stronger).map(|c| Self::Compound(c.name.clone()));
        hotter.chain(slimmer).chain(compounds).collect()
    }
}

/// Tries what helps where the longest hold is not enough; other errors stay as they are.
pub(super) fn with_remedies(error: PlanError, intent: &Intent, start: Start, tables: &Tables) -> PlanError {
    let PlanError::TooLong { hours, celsius, target, .. } = error else { return error };
    let hold = |remedy: &Remedy| -> Option<Time> {
        let changed = remedy.applied(intent, tables);
        Some(Course::new(&changed, start, tables, changed.temperature).needed().ok()?.best())
    };
    let each = Remedy::all(intent, tables);
    let mut helps: Vec<_> = each.iter().filter_map(|remedy| Some((remedy.clone(), hold(remedy)?))).collect();
    helps.sort_by(|a, b| a.1.seconds().total_cmp(&b.1.seconds()));
    if helps.is_empty() {
        // one of each kind: the hottest, the slimmest, the strongest
        let hottest = each.iter().rfind(|remedy| matches!(remedy, Remedy::Hotter(_)));
        let slimmest = each.iter().find(|remedy| matches!(remedy, Remedy::Slimmer(_)));
        let mut together: Vec<Remedy> = hottest.into_iter().chain(slimmest).cloned().collect();
        let compounds = each.into_iter().filter(|remedy| matches!(remedy, Remedy::Compound(_)));
        let strongest = compounds.max_by(|a, b| offers(a, tables).total_cmp(&offers(b, tables)));
        together.extend(strongest);
        let together = Remedy::Together(together.into());
        helps.extend(hold(&together).map(|time| (together, time)));
    }
    PlanError::TooLong { hours, celsius, target, helps }
}

/// Share of Acm that a compound offers.
fn offers(remedy: &Remedy, tables: &Tables) -> f64 {
    let Remedy::Compound(name) = remedy else { return 0.0 };
    let named = tables.compounds.iter().find(|c| c.name == *name);
    named.map_or(0.0, |c| c.share_of_acm.value.best())
}
