//! The network that tells bursts on photos, as it ships.

use super::u_net::{NetError, read_u_net};
use crate::net::UNet;
use crate::spark::Sight;

const FILE: &str = "burst-net.toml";
const SHIPPED: &str = include_str!("../../models/burst-net.toml");

/// The network that ships.
pub fn burst_net() -> Result<UNet, NetError> {
    read(SHIPPED)
}

fn read(text: &str) -> Result<UNet, NetError> {
    read_u_net(FILE, text, Sight::TOLD, Sight::ANSWERS)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_network_loads() {
        let net = burst_net().unwrap();
        assert_eq!(net.first[0].stride, Sight::STRIDE);
    }

    #[test]
    fn a_bad_network_says_where_and_what() {
        let cases = [
            ("version = 1", "version = 2", "version is `2`; allowed: 1"),
            ("format = \"snapspark u-net\"", "format = \"net\"", "format is `net`"),
            ("bias = [", "bias = [nan, ", "layer 1, bias is `13 numbers`; allowed: 12 numbers"),
            ("[[layer]]", "[[layre]]", "unknown field `layre`"),
        ];
        for (from, to, told) in cases {
            assert!(SHIPPED.contains(from), "{from}");
            let error = read(&SHIPPED.replacen(from, to, 1)).unwrap_err().to_string();
            assert!(error.contains(told), "{error}");
        }
    }
}
