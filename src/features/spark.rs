use super::feature_name::FeatureName;
use super::settled::{of_photos, settled};
use super::words::{Range, SparkWords};
use crate::spark::{
    Amount, Compared, LooksLike, SparkObservation, SpeedJudged, SteelState, StreamColour, StreamObservation,
    Told,
};
use crate::units::{Interval, Share};

/// Where a feature comes from. A tree never mixes origins unseen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Counted or measured as a number.
    Measured,
    /// Told in words.
    Described,
    /// Measured on photos.
    Photo,
}

/// One feature: its range and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Feature {
    /// Lowest, best, highest.
    pub value: Range,
    /// Origin.
    pub origin: Origin,
}

/// The features of a spark observation; what was not said is `None`, never zero.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SparkFeatures {
    values: [Option<Feature>; FeatureName::ALL.len()],
    speed: Option<SpeedJudged>,
    deeper: Option<bool>,
    disagree: Vec<FeatureName>,
    inward_disagrees: bool,
}

impl SparkFeatures {
    /// From an observation, with what its words mean; `stock_wt` is the carbon of the untreated stock that it is compared
    /// with, wt%. What photos show, in the terms of the published trend, fills what was not told, and is settled with what was.
    pub fn observed(
        told: &SparkObservation,
        words: &SparkWords,
        stock_wt: f64,
        shown: &[(FeatureName, Range)],
    ) -> Self {
        let mut features = Self {
            speed: told.wheel.as_ref().and_then(|wheel| wheel.judged(&words.speeds)),
            deeper: told.deeper_than(words.surface_depth.value),
            inward_disagrees: inward_disagrees(told),
            ..Self::default()
        };
        let coupon = &told.coupon;
        let stock = told.untreated.as_ref();
        features.set(FeatureName::ShareBursting, share(coupon, words));
        features.set(FeatureName::Rays, number(coupon.rays.as_ref(), words, |w| words.rays(w)));
        features.set(FeatureName::Tiers, number(coupon.tiers.as_ref(), words, |w| words.forking(w)));
        features.set(FeatureName::Onset, onset(coupon, words));
        features.set(FeatureName::BurstRatio, burst_ratio(told, words));
        let carriers = |s: &StreamObservation| s.carriers;
        let none = || no_carriers(carriers(coupon), words);
        let carriers = amounts(carriers(coupon), stock.and_then(carriers), words);
        features.set(FeatureName::CarrierRatio, carriers.or_else(none));
        features.set(FeatureName::LengthRatio, length_ratio(coupon, stock, words));
        features
            .set(FeatureName::FineSparking, number(coupon.fine_sparking.as_ref(), words, |w| words.fine(w)));
        if let Some(richer) = words.stock(stock_wt) {
            features.scale(FeatureName::BurstRatio, richer.bursts);
            features.scale(FeatureName::CarrierRatio, richer.carriers);
            features.scale(FeatureName::LengthRatio, richer.length);
        }
        features.settle(shown);
        features.set(FeatureName::LooksLike, looks_like(told.looks_like.as_ref(), words));
        features.set(FeatureName::Harder, harder(coupon.state, stock.and_then(|s| s.state)));
        let colour = |colour: StreamColour| described(Interval::exact(step(colour)));
        features.set(FeatureName::Colour, coupon.colour.map(colour));
        features.set(FeatureName::ColourTip, coupon.colour_tip.map(colour));
        features.set(FeatureName::Redder, redder(coupon.colour, stock.and_then(|s| s.colour)));
        features
    }

    /// Takes in what photos show.
    fn settle(&mut self, shown: &[(FeatureName, Range)]) {
        for (name, value) in shown.iter().map(|(name, value)| (*name, of_photos(*name, *value))) {
            let settled = settled(self.get(name), value);
            if settled.apart {
                self.disagree.push(name);
            }
            self.set(name, Some(settled.feature));
        }
    }

    /// Puts another value in the place of a feature.
    pub fn replace(&mut self, name: FeatureName, feature: Option<Feature>) {
        self.set(name, feature);
    }

    fn set(&mut self, name: FeatureName, feature: Option<Feature>) {
        self.values[name as usize] = feature;
    }

    /// A ratio to the stock becomes one to steel of 0.2 %C.
    fn scale(&mut self, name: FeatureName, factor: f64) {
        if let Some(feature) = &mut self.values[name as usize] {
            let value = feature.value;
            let scaled = Interval::new(value.low() * factor, value.best() * factor, value.high() * factor);
            feature.value = scaled.unwrap_or(value);
        }
    }

    /// One feature.
    pub fn get(&self, name: FeatureName) -> Option<Feature> {
        self.values[name as usize]
    }

    /// How many of [`FeatureName::OF_CARBON`] are known.
    pub fn known(&self) -> usize {
        FeatureName::OF_CARBON.iter().filter(|n| self.get(**n).is_some()).count()
    }

    /// Whether the wheel is known to run slower than any source asks for.
    pub fn wheel_too_slow(&self) -> bool {
        self.speed == Some(SpeedJudged::TooSlow)
    }

    /// Whether the wheel is known to run faster than any source prefers.
    pub fn wheel_fast(&self) -> bool {
        self.speed == Some(SpeedJudged::Fast)
    }

    /// Where photos and what was told exclude each other.
    pub fn disagreeing(&self) -> &[FeatureName] {
        &self.disagree
    }

    /// Whether photos show another change inward than was told.
    pub fn inward_disagrees(&self) -> bool {
        self.inward_disagrees
    }

    /// Whether the sparks are known to come from deeper than one touch.
    pub fn from_deeper(&self) -> bool {
        self.deeper == Some(true)
    }
}

fn inward_disagrees(told: &SparkObservation) -> bool {
    let shown = told.photographed.as_ref().and_then(|p| p.over_time);
    told.over_time.zip(shown).is_some_and(|(told, shown)| told != shown)
}

fn described(value: Range) -> Feature {
    Feature { value, origin: Origin::Described }
}

/// A number as told: with its own range, or with what counting by eye is off by.
fn measured(value: Range, words: &SparkWords) -> Feature {
    let off = words.counting.value;
    let value = if value.is_exact() {
        Interval::new(value.best() / off, value.best(), value.best() * off).unwrap_or(value)
    } else {
        value
    };
    Feature { value, origin: Origin::Measured }
}

/// A number or a word; a comparison says nothing about a number by itself.
fn number<W: Copy>(
    told: Option<&Told<Range, W>>,
    words: &SparkWords,
    meaning: impl Fn(W) -> Range,
) -> Option<Feature> {
    match told? {
        Told::Number(n) => Some(measured(*n, words)),
        Told::Word(w) => Some(described(meaning(*w))),
        Told::AgainstStock(_) => None,
    }
}

fn shares(interval: &Interval<Share>) -> Option<Range> {
    Interval::new(interval.low().fraction(), interval.best().fraction(), interval.high().fraction())
}

fn share(stream: &StreamObservation, words: &SparkWords) -> Option<Feature> {
    match stream.share_bursting? {
        Told::Number(n) => Some(Feature { value: shares(&n)?, origin: Origin::Measured }),
        Told::Word(w) => Some(described(words.part_of(w))),
        Told::AgainstStock(_) => None,
    }
}

fn onset(stream: &StreamObservation, words: &SparkWords) -> Option<Feature> {
    match stream.onset? {
        Told::Number(n) => Some(Feature { value: shares(&n)?, origin: Origin::Measured }),
        Told::Word(w) => Some(described(words.onset(w))),
        Told::AgainstStock(_) => None,
    }
}

/// Coupon over stock of an amount told for both, or told as a comparison.
fn amounts(
    coupon: Option<Told<Range, Amount>>,
    stock: Option<Told<Range, Amount>>,
    words: &SparkWords,
) -> Option<Feature> {
    match (coupon?, stock) {
        (Told::AgainstStock(c), _) => Some(described(words.compared(c))),
        (Told::Number(a), Some(Told::Number(b))) => {
            Some(Feature { value: ratio(a, b, words)?, origin: Origin::Measured })
        }
        (Told::Word(a), Some(Told::Word(b))) => Some(described(over(words.amount(a), words.amount(b))?)),
        _ => None,
    }
}

/// No stream at all is none beside any stock.
fn no_carriers(coupon: Option<Told<Range, Amount>>, words: &SparkWords) -> Option<Feature> {
    match coupon? {
        Told::Number(n) if n.high() <= 0.0 => Some(Feature { value: n, origin: Origin::Measured }),
        Told::Word(Amount::None) => Some(described(words.amount(Amount::None))),
        _ => None,
    }
}

/// Bursts against the stock: counted, in words, or all in all.
fn burst_ratio(told: &SparkObservation, words: &SparkWords) -> Option<Feature> {
    let stock = told.untreated.as_ref();
    amounts(told.coupon.bursts, stock.and_then(|s| s.bursts), words)
        .or_else(|| {
            let per_carrier = |s: &StreamObservation| s.bursts_per_carrier;
            amounts(per_carrier(&told.coupon), stock.and_then(per_carrier), words)
        })
        .or_else(|| told.compared.map(|c: Compared| described(words.compared(c))))
}

fn length_ratio(
    coupon: &StreamObservation,
    stock: Option<&StreamObservation>,
    words: &SparkWords,
) -> Option<Feature> {
    let millimetres = |s: &StreamObservation| match s.stream_length {
        Some(Told::Number(n)) => {
            Interval::new(n.low().millimetres(), n.best().millimetres(), n.high().millimetres())
        }
        _ => None,
    };
    let value = ratio(millimetres(coupon)?, millimetres(stock?)?, words)?;
    Some(Feature { value, origin: Origin::Measured })
}

/// a over b, each as far off as counting is.
fn ratio(a: Range, b: Range, words: &SparkWords) -> Option<Range> {
    over(measured(a, words).value, measured(b, words).value)
}

fn over(a: Range, b: Range) -> Option<Range> {
    // stock without any burst makes no ratio
    if b.best() <= 0.0 {
        return None;
    }
    let low = a.low() / b.high();
    let high = if b.low() > 0.0 { a.high() / b.low() } else { a.high() / b.best() };
    let best = a.best() / b.best();
    Interval::new(low.min(best), best, high.max(best))
}

fn looks_like(told: Option<&LooksLike>, words: &SparkWords) -> Option<Feature> {
    let off = words.likeness.value;
    let (low, high) = match told? {
        LooksLike::One(grade) => {
            let carbon = &grade.carbon.value;
            (carbon.low().wt_percent(), carbon.high().wt_percent())
        }
        LooksLike::Between(a, b) => {
            let middle = |g: &crate::steel::Grade| g.carbon.value.best().wt_percent();
            (middle(a).min(middle(b)), middle(a).max(middle(b)))
        }
    };
    Interval::new((low - off).max(0.0), f64::midpoint(low, high), high + off).map(described)
}

fn harder(coupon: Option<SteelState>, stock: Option<SteelState>) -> Option<Feature> {
    let hard = |s: SteelState| f64::from(u8::from(s == SteelState::Hardened));
    Some(described(Interval::exact(hard(coupon?) - hard(stock?))))
}

fn step(colour: StreamColour) -> f64 {
    f64::from(colour as u8)
}

fn redder(coupon: Option<StreamColour>, stock: Option<StreamColour>) -> Option<Feature> {
    Some(described(Interval::exact(step(coupon?) - step(stock?))))
}
