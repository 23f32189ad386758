/// One answer about a spark stream.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Told<N, W> {
    /// Counted, measured or estimated as a number.
    Number(N),
    /// In a plain word.
    Word(W),
    /// Compared with the stream of the untreated stock.
    AgainstStock(Compared),
}

/// Coupon compared with untreated stock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Compared {
    /// Fewer, less, shorter.
    Less,
    /// No difference seen.
    Same,
    /// Some more, a little longer.
    SomeMore,
    /// Many more, much longer.
    ManyMore,
    /// So many that the stream looks like a bush.
    Bushy,
}

/// How many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Amount {
    /// None seen.
    None,
    /// A few.
    Few,
    /// Some.
    Some,
    /// Many.
    Many,
    /// Too many to count.
    VeryMany,
}

/// What part of the carriers burst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartOf {
    /// None of them.
    None,
    /// A few of them.
    Few,
    /// About half.
    Half,
    /// Most of them.
    Most,
    /// Nearly all or all.
    All,
}

/// How long.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reach {
    /// Short.
    Short,
    /// Middling.
    Medium,
    /// Long.
    Long,
}

/// How often bursts burst again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Forking {
    /// No bursts at all.
    None,
    /// Bursts with plain rays.
    Single,
    /// Rays that fork or burst again.
    Forked,
    /// Three tiers or more.
    Bushy,
}

/// Where bursts begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Onset {
    /// Right at the wheel.
    AtWheel,
    /// In the first third of the stream.
    FirstThird,
    /// Around the middle.
    Middle,
    /// In the last third, near the tip.
    LastThird,
    /// Nowhere: no bursts.
    Nowhere,
}

/// Fine sparking between the bursts, like dust.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FineSparking {
    /// None.
    None,
    /// Some.
    Some,
    /// Much.
    Much,
}

/// Colour of a stream, from the palest to the reddest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StreamColour {
    /// White.
    White,
    /// Yellow.
    Yellow,
    /// Straw.
    Straw,
    /// Orange.
    Orange,
    /// Red, bright or dull.
    Red,
}
