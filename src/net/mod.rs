//! Small convolutional networks: what they say of planes of numbers. Knows no photo and no steel.

mod convolution;
mod planes;
mod u_net;

pub use convolution::Convolution;
pub use planes::Planes;
pub use u_net::UNet;

#[cfg(test)]
mod tests;
