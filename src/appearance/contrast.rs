//! The contrast of two colours: the ratio of their luminances.
//!
//! WCAG 2.2, contrast ratio (L₁ + 0.05) / (L₂ + 0.05), L the relative luminance, L₁ the greater:
//! from 1 to 21. Worked: #333333 on white is 12.6. It is shown beside the difference from the
//! backdrop, because what moves fast is seen by its lightness first (common practice, no source).

use palette::color_difference::Wcag21RelativeContrast;

use super::Rgb;

/// The contrast ratio of two colours, in either order.
#[must_use]
pub fn contrast(a: Rgb, b: Rgb) -> f64 {
    a.encoded().relative_contrast(b.encoded())
}
