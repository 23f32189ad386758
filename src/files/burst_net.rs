//! The network that tells bursts on photos, as it ships.

use super::u_net::NetError;
use crate::spark::{BurstNet, Layer};
use serde::Deserialize;

const FILE: &str = "burst-net.toml";
const SHIPPED: &str = include_str!("../../models/burst-net.toml");
const FORMAT: &str = "snapspark burst net";
const VERSION: i64 = 1;

/// The network that ships.
pub fn burst_net() -> Result<BurstNet, NetError> {
    read(SHIPPED)
}

fn read(text: &str) -> Result<BurstNet, NetError> {
    let twin: NetTwin = toml::from_str(text).map_err(|e| NetError::Form { file: FILE, why: Box::new(e) })?;
    if twin.format != FORMAT {
        return Err(wrong("format", &twin.format, FORMAT));
    }
    if twin.version != VERSION {
        return Err(wrong("version", &twin.version.to_string(), &VERSION.to_string()));
    }
    let usual = twin.usual;
    if usual.len() != BurstNet::features() {
        let allowed = format!("{} pairs", BurstNet::features());
        return Err(wrong("usual", &format!("{} pairs", usual.len()), &allowed));
    }
    if let Some([mean, spread]) = usual.iter().find(|[m, s]| !(m.is_finite() && s.is_finite() && *s > 0.0)) {
        return Err(wrong("usual", &format!("[{mean}, {spread}]"), "a mean and a spread above 0"));
    }
    let [first, second, third, hidden, answer] = BurstNet::shape();
    let tower = |name: &str, [a, b, c]: [LayerTwin; 3]| {
        Ok([
            a.layer(&format!("{name}, layer 1"), first)?,
            b.layer(&format!("{name}, layer 2"), second)?,
            c.layer(&format!("{name}, layer 3"), third)?,
        ])
    };
    Ok(BurstNet {
        towers: [tower("fine", twin.fine)?, tower("coarse", twin.coarse)?],
        usual,
        hidden: twin.hidden.layer("hidden", hidden)?,
        answer: twin.answer.layer("answer", answer)?,
    })
}

fn wrong(place: &str, got: &str, allowed: &str) -> NetError {
    NetError::Value { file: FILE, place: place.to_owned(), got: got.to_owned(), allowed: allowed.to_owned() }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NetTwin {
    format: String,
    version: i64,
    usual: Vec<[f32; 2]>,
    fine: [LayerTwin; 3],
    coarse: [LayerTwin; 3],
    hidden: LayerTwin,
    answer: LayerTwin,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LayerTwin {
    bias: Vec<f32>,
    weights: Vec<f32>,
}

impl LayerTwin {
    /// As a layer of so many biases and weights, all of them numbers.
    fn layer(self, name: &str, (biases, weights): (usize, usize)) -> Result<Layer, NetError> {
        for (what, values, count) in [("bias", &self.bias, biases), ("weights", &self.weights, weights)] {
            let place = format!("{name}, {what}");
            if values.len() != count {
                return Err(wrong(&place, &format!("{} numbers", values.len()), &format!("{count} numbers")));
            }
            if let Some(v) = values.iter().find(|v| !v.is_finite()) {
                return Err(wrong(&place, &v.to_string(), "finite numbers"));
            }
        }
        Ok(Layer { bias: self.bias, weights: self.weights })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_network_loads() {
        let net = burst_net().unwrap();
        assert_eq!(net.usual.len(), BurstNet::features());
    }

    #[test]
    fn a_bad_network_says_where_and_what() {
        let cases = [
            ("version = 1", "version = 2", "version is `2`; allowed: 1"),
            ("format = \"snapspark burst net\"", "format = \"net\"", "format is `net`"),
            ("usual = [", "usual = [[0.0, -1.0], ", "usual is `11 pairs`; allowed: 10 pairs"),
            (
                "[answer]\nbias = [",
                "[answer]\nbias = [nan, ",
                "answer, bias is `3 numbers`; allowed: 2 numbers",
            ),
            ("[hidden]", "[hiden]", "unknown field `hiden`"),
        ];
        for (from, to, told) in cases {
            assert!(SHIPPED.contains(from), "{from}");
            let error = read(&SHIPPED.replacen(from, to, 1)).unwrap_err().to_string();
            assert!(error.contains(told), "{error}");
        }
    }
}
