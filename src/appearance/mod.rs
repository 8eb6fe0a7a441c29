//! How colours look: how far apart two of them are, to whom, and under which light.
//!
//! Knows colours and nothing of routines. A colour is [`Rgb`]; figures are taken from it in linear
//! light ([`Rgb::linear`]) so that nothing is rounded on the way. [`difference`] is CIEDE2000,
//! [`vision`] how people with another colour vision see, [`light`] a prop under coloured light,
//! [`contrast`] the ratio of two luminances, [`reading`] what a figure means from a seat,
//! [`named`] a small palette of colours that read beside each other. Everything here is an
//! estimate: dyes, lamps and eyes differ, and the real light decides.

pub mod contrast;
pub mod difference;
pub mod light;
pub mod named;
#[cfg(test)]
mod published;
pub mod reading;
mod rgb;
pub mod vision;

pub use rgb::{Linear, Rgb};
