/// A node with the training rows that reached it, as votes: the sum of their weights for each class.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// An answer.
    Leaf {
        /// One sum per class; not all zero.
        votes: Vec<f64>,
    },
    /// A question: is the feature less than the threshold?
    Split {
        /// Number of the feature in [`Tree::features`](super::Tree::features).
        feature: usize,
        /// In the unit of the feature.
        threshold: f64,
        /// Where values less than the threshold go.
        below: Box<Node>,
        /// Where all others go.
        above: Box<Node>,
        /// One sum per class: those of the two nodes under it together.
        votes: Vec<f64>,
    },
}

impl Node {
    /// The votes of the rows that reached this node, one sum per class.
    pub fn votes(&self) -> &[f64] {
        match self {
            Self::Leaf { votes } | Self::Split { votes, .. } => votes,
        }
    }

    /// All votes together.
    pub fn weight(&self) -> f64 {
        self.votes().iter().sum()
    }

    /// Questions on the longest way from here to a leaf.
    pub fn depth(&self) -> usize {
        match self {
            Self::Leaf { .. } => 0,
            Self::Split { below, above, .. } => 1 + below.depth().max(above.depth()),
        }
    }

    /// This node and all under it, each before those under it, `below` before `above`.
    pub fn all(&self) -> Vec<&Self> {
        let mut found = vec![self];
        if let Self::Split { below, above, .. } = self {
            found.extend(below.all());
            found.extend(above.all());
        }
        found
    }
}

/// The class with most votes. A tie goes to the lower class; sums that differ by rounding alone tie.
pub(super) fn most(votes: &[f64]) -> usize {
    const ROUNDING: f64 = 1e-12;
    let margin = ROUNDING * votes.iter().sum::<f64>();
    let most = votes.iter().copied().fold(0.0, f64::max);
    votes.iter().position(|v| *v >= most - margin).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tie_goes_to_the_lower_class() {
        assert_eq!(most(&[1.0, 3.0, 2.0]), 1);
        assert_eq!(most(&[0.0, 2.0, 2.0]), 1);
        assert_eq!(most(&[2.0, 0.0, 2.0]), 0);
        // 0.1 + 0.2 is a little more than 0.3
        assert_eq!(most(&[0.3, 0.1 + 0.2]), 0);
        assert_eq!(most(&[0.3, 0.300_001]), 1);
    }
}
