//! What every picture maker draws with: dice, a picture in linear light, a sensor, a file.

pub(crate) mod dice;
pub(crate) mod exif;
pub(crate) mod frame;
pub(crate) mod sensor;
pub(crate) mod store;
