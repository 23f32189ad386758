use super::*;

fn planes(width: usize, values: Vec<f32>, count: usize) -> Planes {
    Planes { width, height: values.len() / width / count, values }
}

/// Sums by hand: a kernel that is 1, 2, 3 / 4, 5, 6 / 7, 8, 9 over 1 to 6 in two rows of three.
#[test]
fn a_kernel_adds_what_lies_under_it() {
    let seen = planes(3, vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0], 1);
    let weights: Vec<f32> = (1..=9_u8).map(f32::from).collect();
    let one = Convolution { inputs: 1, kernel: 3, stride: 1, bias: vec![0.5], weights };
    // top left: 5*1 + 6*2 + 8*4 + 9*5; bottom middle: 1*1 + 2*2 + 3*3 + 4*4 + 5*5 + 6*6; and so on
    assert_eq!(one.over(&seen).values, [94.5, 154.5, 106.5, 58.5, 91.5, 58.5]);
    let other = Convolution { stride: 2, ..one };
    let wide = other.over(&seen);
    assert_eq!((wide.width, wide.height), (2, 1));
    assert_eq!(wide.values, [94.5, 106.5]);
}

#[test]
fn planes_are_added_up_and_told_apart() {
    let seen = planes(2, vec![1.0, 2.0, 10.0, 20.0], 2);
    let both = Convolution {
        inputs: 2,
        kernel: 1,
        stride: 1,
        bias: vec![0.0, 1.0],
        weights: vec![1.0, 1.0, 2.0, 0.0],
    };
    assert_eq!(both.over(&seen).values, [11.0, 22.0, 3.0, 5.0]);
}

#[test]
fn halves_are_the_largest_and_doubles_repeat() {
    let seen = planes(4, vec![1.0, 5.0, 2.0, 0.0, 3.0, 4.0, -1.0, -2.0], 1);
    let half = seen.halved();
    assert_eq!((half.width, half.height, half.values.as_slice()), (2, 1, [5.0, 2.0].as_slice()));
    let double = half.doubled();
    assert_eq!((double.width, double.height), (4, 2));
    assert_eq!(double.values, [5.0, 5.0, 2.0, 2.0, 5.0, 5.0, 2.0, 2.0]);
    let odd = planes(3, vec![1.0, 2.0, 9.0, 3.0, 4.0, 9.0, 9.0, 9.0, 9.0], 1).halved();
    assert_eq!((odd.width, odd.height, odd.values), (1, 1, vec![4.0]));
}

#[test]
fn any_size_is_answered_and_nothing_is_read_of_nothing() {
    let conv = |inputs, outputs, kernel, stride| Convolution {
        inputs,
        kernel,
        stride,
        bias: vec![0.1; outputs],
        weights: vec![0.01; Convolution::weights_of(inputs, outputs, kernel)],
    };
    let net = UNet {
        first: [conv(2, 3, 3, 2), conv(3, 3, 3, 1)],
        down: vec![[conv(3, 4, 3, 1), conv(4, 4, 3, 1)]],
        up: vec![conv(7, 3, 3, 1)],
        answer: conv(3, 1, 1, 1),
    };
    for (width, height) in [(1, 1), (7, 3), (16, 16), (33, 10)] {
        let said = net.over(&Planes::new(2, width, height));
        assert_eq!((said.count(), said.width, said.height), (1, width.div_ceil(2), height.div_ceil(2)));
        assert!(said.values.iter().all(|v| v.is_finite()));
    }
    assert!(net.over(&Planes::new(2, 0, 0)).values.is_empty());
}

#[test]
fn a_mirror_turns_each_row_of_each_plane() {
    let planes = Planes { width: 3, height: 1, values: vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0] };
    assert_eq!(planes.mirrored().values, [3.0, 2.0, 1.0, 6.0, 5.0, 4.0]);
    assert_eq!(planes.mirrored().mirrored(), planes);
}

#[test]
fn upside_down_exchanges_rows_of_each_plane() {
    let planes = planes(2, vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0], 2);
    assert_eq!(planes.upside_down().values, [3.0, 4.0, 1.0, 2.0, 7.0, 8.0, 5.0, 6.0]);
}

/// Longer than a run, and no whole number of them; more rows than a band; planes that fill no four: each sum by itself.
#[test]
fn runs_end_where_the_planes_end() {
    let (width, height, inputs, outputs) = (19, 11, 2, 6);
    let some = |count: usize| (0..count).map(|i| (i * 37 % 11) as f32 - 5.0).collect::<Vec<_>>();
    let seen = planes(width, some(inputs * width * height), inputs);
    let one = Convolution { inputs, kernel: 3, stride: 1, bias: some(6), weights: some(108) };
    for stride in [1, 2] {
        let out = Convolution { stride, ..one.clone() }.over(&seen);
        for (at, sum) in out.values.iter().enumerate() {
            let (o, x, y) = (
                at / (out.width * out.height),
                at % out.width * stride,
                at / out.width % out.height * stride,
            );
            let mut expected = one.bias[o];
            for (i, ky, kx) in
                (0..inputs).flat_map(|i| (0..3).flat_map(move |ky| (0..3).map(move |kx| (i, ky, kx))))
            {
                if (1..=width).contains(&(x + kx)) && (1..=height).contains(&(y + ky)) {
                    let v = seen.plane(i)[(y + ky - 1) * width + x + kx - 1];
                    expected += v * one.weights[((o * inputs + i) * 3 + ky) * 3 + kx];
                }
            }
            assert_eq!(*sum, expected, "plane {o}, place {x}, {y}");
        }
        assert_eq!(out.values.len(), outputs * out.width * out.height);
    }
}
