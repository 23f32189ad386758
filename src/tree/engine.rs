use super::FitError;
use linfa::DatasetBase;
use linfa::traits::Fit;
use linfa_trees::DecisionTree;
use ndarray::{Array1, ArrayView2};

/// Of the impurity of a two-class question, the least decrease that is a gain: a few times what `f32`
/// rounding makes of none.
const LEAST_GAIN: f64 = 1e-6;

/// A cut between two codes of one column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Cut {
    /// Number of the column.
    pub(super) column: usize,
    /// The last code below the cut.
    pub(super) last: usize,
}

/// Asks linfa-trees for the one cut that best parts yes from no (Gini), `None` if no cut gains.
///
/// What may go in: codes that are whole numbers from 0, and whole weights from 1 whose sum is under 2^24.
/// Then every sum of weights is exact in `f32`, and with two classes the sum of squares is the same in
/// either order: what comes out hangs on no hash order. Equal scores go to the first column, then to the
/// lowest cut.
pub(super) fn best_cut(
    codes: ArrayView2<'_, f64>,
    answers: &[bool],
    weights: &[f32],
) -> Result<Option<Cut>, FitError> {
    let data =
        DatasetBase::new(codes, Array1::from(answers.to_vec())).with_weights(Array1::from(weights.to_vec()));
    let tree = DecisionTree::params()
        .max_depth(Some(1))
        .min_weight_split(2.0)
        .min_weight_leaf(1.0)
        .min_impurity_decrease(LEAST_GAIN)
        .fit(&data)
        .map_err(|e| FitError::Engine { problem: e.to_string() })?;
    // Two sides with the same majority are merged after the fit, but the node keeps its cut; a node that
    // was never cut has a gain of zero.
    let (column, place, gain) = tree.root_node().split();
    Ok((gain > 0.0).then_some(Cut { column, last: place.floor() as usize }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ndarray::Array2;

    fn cut(columns: &[&[f64]], answers: &[bool]) -> Option<Cut> {
        let codes =
            Array2::from_shape_fn((answers.len(), columns.len()), |(row, column)| columns[column][row]);
        best_cut(codes.view(), answers, &vec![1.0; answers.len()]).unwrap()
    }

    const N: bool = false;
    const Y: bool = true;

    #[test]
    fn finds_the_only_cut_that_parts_the_answers() {
        assert_eq!(
            cut(&[&[0.0, 1.0, 0.0, 1.0], &[0.0, 1.0, 2.0, 3.0]], &[N, N, Y, Y]),
            Some(Cut { column: 1, last: 1 })
        );
    }

    #[test]
    fn a_tie_goes_to_the_first_column_and_the_lowest_cut() {
        let column: &[f64] = &[0.0, 1.0, 2.0, 3.0];
        // N Y Y N: after the first and before the last are mirror images
        assert_eq!(cut(&[column, column], &[N, Y, Y, N]), Some(Cut { column: 0, last: 0 }));
    }

    /// The engine merges such leaves; votes on the two sides differ, so the cut is wanted.
    #[test]
    fn a_cut_between_sides_with_the_same_majority_is_kept() {
        assert_eq!(
            cut(&[&[0.0, 0.0, 0.0, 1.0, 1.0, 1.0]], &[N, N, N, N, N, Y]),
            Some(Cut { column: 0, last: 0 })
        );
    }

    #[test]
    fn no_cut_where_nothing_gains() {
        assert_eq!(cut(&[&[0.0, 0.0, 0.0, 0.0]], &[N, Y, N, Y]), None);
        assert_eq!(cut(&[&[0.0, 0.0, 1.0, 1.0]], &[N, Y, N, Y]), None);
        assert_eq!(cut(&[], &[N, Y]), None);
    }
}
