//! A prop under coloured light.
//!
//! An approximation: each channel of the light and of the prop multiplied in linear RGB,
//! seen = light · prop. Real lamps and dyes have spectra that three numbers do not hold, and an
//! eye gets used to a coloured light; the light on stage decides. Worked: a prop of #ff7f7f (1,
//! 0.2122, 0.2122) under blue #0000ff (0, 0, 1) is seen as (0, 0, 0.2122), #00007f.

use super::Linear;

/// The light that comes back from a prop of this colour.
#[must_use]
pub fn lit(prop: Linear, light: Linear) -> Linear {
    prop * light
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appearance::Rgb;

    #[test]
    fn a_prop_gives_back_what_light_and_prop_share() {
        let rgb = |red, green, blue| Rgb { red, green, blue };
        let white = rgb(255, 255, 255);
        let pink = rgb(255, 127, 127);
        for (light, seen) in [
            (white, pink),
            (rgb(0, 0, 255), rgb(0, 0, 127)),
            (rgb(0, 255, 255), rgb(0, 127, 127)),
            (rgb(0, 0, 0), rgb(0, 0, 0)),
        ] {
            assert_eq!(Rgb::nearest_to(lit(pink.linear(), light.linear())), seen, "{light}");
        }
    }
}
