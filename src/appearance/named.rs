//! A small palette: CSS names of colours that lie far from each other, to take a way out from.

use palette::named;

use super::Rgb;

/// Their names, those that are easiest to find in a shop first (common practice, no source).
pub const NAMES: [&str; 14] = [
    "white",
    "gold",
    "red",
    "royalblue",
    "limegreen",
    "darkorange",
    "deeppink",
    "turquoise",
    "indigo",
    "maroon",
    "darkgreen",
    "lightskyblue",
    "thistle",
    "black",
];

/// The palette, in order.
pub fn colours() -> impl Iterator<Item = (&'static str, Rgb)> {
    NAMES.iter().filter_map(|name| {
        let colour = named::from_str(name)?;
        Some((*name, Rgb { red: colour.red, green: colour.green, blue: colour.blue }))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appearance::difference::difference;

    #[test]
    fn every_name_is_one_of_css_and_no_two_look_alike() {
        let all: Vec<(&str, Rgb)> = colours().collect();
        assert_eq!(all.len(), NAMES.len());
        for (index, (name, rgb)) in all.iter().enumerate() {
            for (other, beside) in &all[..index] {
                let far = difference(rgb.linear(), beside.linear());
                assert!(far >= 15.0, "{name} and {other} are {far:.1} apart");
            }
        }
    }
}
