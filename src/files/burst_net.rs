//! The network that tells bursts on photos, as it ships.

use super::u_net::{NetError, read_u_net};
use crate::net::UNet;
use crate::spark::Sight;

const FILE: &str = "burst-net.toml";
const SHIPPED: &str = include_str!("../../models/burst-net.toml");

/// The network that ships.
pub fn burst_net() -> Result<UNet, NetError> {
    read_u_net(FILE, SHIPPED, Sight::TOLD, Sight::ANSWERS)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_network_loads() {
        let net = burst_net().unwrap();
        assert_eq!(net.first[0].stride, Sight::STRIDE);
    }
}
