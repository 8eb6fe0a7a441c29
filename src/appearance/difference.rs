//! How far apart two colours are to the eye: CIEDE2000.
//!
//! G. Sharma, W. Wu, E. Dalal, "The CIEDE2000 Color-Difference Formula", Color Res. Appl. 30(1)
//! (2005) 21–30. With ΔL′, ΔC′, ΔH′ the differences in lightness, chroma and hue, S their
//! weights at this place of the colour space and R_T the turn in the blues,
//! ΔE₀₀ = √((ΔL′/S_L)² + (ΔC′/S_C)² + (ΔH′/S_H)² + R_T·(ΔC′/S_C)·(ΔH′/S_H)).
//! Lab is taken under D65. Worked: Lab (50, 2.5, 0) and (73, 25, −18) are 27.1492 apart; black
//! and white are 100. It was fitted to small differences; of large ones it tells the order well
//! and the size roughly.

use palette::color_difference::Ciede2000;
use palette::white_point::D65;
use palette::{IntoColor, Lab};

use super::Linear;

/// The difference of two colours: 0 for the same, 100 for black and white.
#[must_use]
pub fn difference(a: Linear, b: Linear) -> f64 {
    of_lab(lab(a), lab(b))
}

/// A linear light in Lab under D65.
pub(super) fn lab(linear: Linear) -> Lab<D65, f64> {
    linear.into_color()
}

/// The difference of two colours in Lab.
pub(super) fn of_lab(a: Lab<D65, f64>, b: Lab<D65, f64>) -> f64 {
    a.difference(b)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appearance::Rgb;

    #[test]
    fn a_colour_does_not_differ_from_itself_and_black_and_white_differ_most() {
        let [black, teal, white] = [(0, 0, 0), (15, 139, 141), (255, 255, 255)]
            .map(|(red, green, blue)| Rgb { red, green, blue }.linear());
        assert_eq!(difference(teal, teal), 0.0);
        assert!((difference(black, white) - 100.0).abs() < 1e-3);
        assert_eq!(difference(teal, white), difference(white, teal));
    }
}
