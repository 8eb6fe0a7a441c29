//! A colour as files write it, and the linear light that figures are taken from.

use palette::{LinSrgb, Srgb};

/// Red, green and blue in linear light, 0 to 1 (outside of it where a simulation leads there).
pub type Linear = LinSrgb<f64>;

/// A colour in eight bits a channel, sRGB.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rgb {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

impl Rgb {
    /// Its linear light: the sRGB transform of IEC 61966-2-1. #7f7f7f is 0.2122 of each.
    #[must_use]
    pub fn linear(self) -> Linear {
        self.encoded().into_linear()
    }

    /// The nearest colour in eight bits to a linear light; what lies outside is cut off.
    #[must_use]
    pub fn nearest_to(linear: Linear) -> Rgb {
        let Srgb { red, green, blue, .. } = Srgb::<f64>::from_linear(linear).into_format::<u8>();
        Rgb { red, green, blue }
    }

    /// Its channels from 0 to 1, as they are written.
    pub(super) fn encoded(self) -> Srgb<f64> {
        Srgb::new(self.red, self.green, self.blue).into_format()
    }
}

impl std::fmt::Display for Rgb {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }
}
