use super::any_run::{check, sheet};
use crate::support::models;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, ..ProptestConfig::default() })]

    /// Whatever words somebody finds for a run: no crash, shares that are shares, places that are places.
    #[test]
    fn any_words_for_a_run_get_a_sound_answer(choices in proptest::collection::vec(any::<u16>(), 80)) {
        let mut rest = choices.iter();
        let text = sheet(|n| usize::from(*rest.next().unwrap_or(&u16::MAX)) % n, || None);
        check(&text, models());
    }
}

/// Most of such sheets can be read: else the test above would hold of nothing.
#[test]
fn most_words_for_a_run_can_be_read() {
    let mut state = 7_usize;
    let mut next = |n: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % n
    };
    let read = (0..4).filter(|_| check(&sheet(&mut next, || None), models())).count();
    assert!(read > 0, "{read}");
}
