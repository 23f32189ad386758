//! Pixels without opacity.

/// A sample that may be seen through.
pub(super) trait Sample: Copy + PartialEq {
    /// The top of the scale.
    const TOP: Self;
    /// What is left of a sample under this opacity, rounded.
    fn under(self, opacity: Self) -> Self;
}

impl Sample for u8 {
    const TOP: Self = u8::MAX;
    fn under(self, opacity: Self) -> Self {
        ((u16::from(self) * u16::from(opacity) + 127) / 255) as u8
    }
}

impl Sample for u16 {
    const TOP: Self = u16::MAX;
    fn under(self, opacity: Self) -> Self {
        ((u32::from(self) * u32::from(opacity) + 32767) / 65535) as u16
    }
}

/// Lays pixels of `N` samples, the last of them opacity, over black, and drops the opacity: the same vector,
/// shorter. Sets `see_through` if anything was.
pub(super) fn over_black<T: Sample, const N: usize>(mut samples: Vec<T>, see_through: &mut bool) -> Vec<T> {
    let mut to = 0;
    for from in (0..samples.len()).step_by(N) {
        let Some(&pixel) = samples.get(from..).and_then(<[T]>::first_chunk::<N>) else { break };
        let opacity = pixel[N - 1];
        *see_through |= opacity != T::TOP;
        for (into, sample) in samples[to..].iter_mut().zip(&pixel[..N - 1]) {
            *into = sample.under(opacity);
        }
        to += N - 1;
    }
    samples.truncate(to);
    samples.shrink_to_fit();
    samples
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drops_opacity_over_black() {
        let mut seen = false;
        let colour = vec![10_u8, 20, 30, 255, 100, 200, 255, 128, 9, 9, 9, 0];
        // 100 · 128 / 255 = 50.2, 200 · 128 / 255 = 100.4
        assert_eq!(over_black::<_, 4>(colour, &mut seen), [10, 20, 30, 50, 100, 128, 0, 0, 0]);
        assert!(seen);
        assert_eq!(over_black::<_, 2>(vec![1000_u16, 65535, 40000, 32768], &mut seen), [1000, 20000]);
        let mut seen = false;
        assert_eq!(over_black::<_, 2>(vec![7_u8, 255], &mut seen), [7]);
        assert!(!seen);
    }
}
