//! Networks that look at photos, as they ship.

use crate::net::{Convolution, UNet};
use serde::Deserialize;
use thiserror::Error;

const FORMAT: &str = "snapspark u-net";
const VERSION: i64 = 1;
/// Steps down that a network may have, and planes of a layer: what a small one could need (judgements).
const STEPS: [usize; 2] = [1, 6];
const PLANES: [usize; 2] = [1, 128];

/// Why there is no network.
#[derive(Debug, Error)]
pub enum NetError {
    /// Not the TOML that it must be.
    #[error("{file}: {why}")]
    Form {
        /// The file.
        file: &'static str,
        /// What is wrong with it.
        #[source]
        why: Box<toml::de::Error>,
    },
    /// Something in it.
    #[error("{file}: {place} is `{got}`; allowed: {allowed}")]
    Value {
        /// The file.
        file: &'static str,
        /// Where in the file.
        place: String,
        /// What is there.
        got: String,
        /// What may be there.
        allowed: String,
    },
}

/// The network that a file holds, which sees so many planes and gives so many answers for each place.
pub(super) fn read_u_net(
    file: &'static str,
    text: &str,
    seen: usize,
    answers: usize,
) -> Result<UNet, NetError> {
    let twin: NetTwin = toml::from_str(text).map_err(|e| NetError::Form { file, why: Box::new(e) })?;
    let wrong = |place: &str, got: &dyn ToString, allowed: &dyn ToString| NetError::Value {
        file,
        place: place.to_owned(),
        got: got.to_string(),
        allowed: allowed.to_string(),
    };
    if twin.format != FORMAT {
        return Err(wrong("format", &twin.format, &FORMAT));
    }
    if twin.version != VERSION {
        return Err(wrong("version", &twin.version, &VERSION));
    }
    if !(1..=2).contains(&twin.stride) {
        return Err(wrong("stride", &twin.stride, &"1 or 2"));
    }
    let planes = &twin.planes;
    let steps = planes.len().saturating_sub(1);
    if !(STEPS[0]..=STEPS[1]).contains(&steps) {
        let allowed = format!("{} to {} numbers", STEPS[0] + 1, STEPS[1] + 1);
        return Err(wrong("planes", &format!("{} numbers", planes.len()), &allowed));
    }
    if let Some(n) = planes.iter().find(|n| !(PLANES[0]..=PLANES[1]).contains(*n)) {
        return Err(wrong("planes", n, &format!("{} to {}", PLANES[0], PLANES[1])));
    }
    // first two, two for each step down, one for each step up, the answer
    let count = 3 + 3 * steps;
    if twin.layer.len() != count {
        return Err(wrong("layer", &format!("{} layers", twin.layer.len()), &format!("{count} layers")));
    }
    let mut layers = twin.layer.into_iter().enumerate();
    let mut next = |inputs: usize, outputs: usize, kernel: usize, stride: usize| {
        let (i, LayerTwin { bias, weights }) = layers.next().unwrap_or_default();
        let count = Convolution::weights_of(inputs, outputs, kernel);
        for (what, values, count) in [("bias", &bias, outputs), ("weights", &weights, count)] {
            let place = format!("layer {}, {what}", i + 1);
            if values.len() != count {
                return Err(wrong(&place, &format!("{} numbers", values.len()), &format!("{count} numbers")));
            }
            if let Some(v) = values.iter().find(|v| !v.is_finite()) {
                return Err(wrong(&place, v, &"finite numbers"));
            }
        }
        Ok(Convolution { inputs, kernel, stride, bias, weights })
    };
    let first = [next(seen, planes[0], 3, twin.stride)?, next(planes[0], planes[0], 3, 1)?];
    let (mut down, mut up) = (Vec::with_capacity(steps), Vec::with_capacity(steps));
    for pair in planes.windows(2) {
        down.push([next(pair[0], pair[1], 3, 1)?, next(pair[1], pair[1], 3, 1)?]);
    }
    for pair in planes.windows(2).rev() {
        up.push(next(pair[1] + pair[0], pair[0], 3, 1)?);
    }
    Ok(UNet { first, down, up, answer: next(planes[0], answers, 1, 1)? })
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NetTwin {
    format: String,
    version: i64,
    /// Places from one sum of the first layer to the next.
    stride: usize,
    /// That the first layers give, then each step down.
    planes: Vec<usize>,
    layer: Vec<LayerTwin>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct LayerTwin {
    bias: Vec<f32>,
    weights: Vec<f32>,
}
