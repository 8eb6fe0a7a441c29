//! How the colour of a prop is told on paper: its hue, a letter, a line of its own, an edge.
//!
//! All hue in a drawing belongs to the props; everything else is ink and grey. No hue stands
//! alone: the letter is written on the bead at the top of each flight and on the bar in a hand, and
//! the line of the flight, and along the bar, is unbroken or broken in its own way, so that a print
//! in grey tells the same. Light hues get a
//! dark edge.

use palette::Srgb;
use palette::color_difference::Wcag21RelativeContrast;

use crate::routine::{NamedColour, Rgb};

use super::text;

/// The colour of everything that is no prop.
pub(super) const INK: Rgb = Rgb { red: 0x1b, green: 0x21, blue: 0x2c };
const PAPER: Rgb = Rgb { red: 0xff, green: 0xff, blue: 0xff };

/// Below this contrast with the paper a line gets an edge [published: WCAG 2.2 SC 1.4.11], by day and
/// in the red or the blue light of a booth.
const SEEN_AGAINST_PAPER: f32 = 3.0;

/// Lengths in millimetres of a flight's line and its gaps, by the order in which colours come.
const DASHES: [&str; 6] = ["", "2.6 .7", "1 .6", "4 .6 .8 .6", "1.8 .5 .5 .5", ".5 .5"];

/// How one colour is drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct PropMark {
    /// Its name, as it may stand in a drawing.
    pub(super) name: String,
    /// The letter on its beads, or two, no other colour's.
    pub(super) letter: String,
    /// Its hue.
    pub(super) fill: Rgb,
    /// A hue of its kind that is seen against the paper.
    pub(super) edge: Rgb,
    /// The hue of a line along it.
    pub(super) line_on_it: Rgb,
    /// Its flights' line and gaps; empty for an unbroken line.
    pub(super) dash: &'static str,
}

impl PropMark {
    /// Whether it needs an edge to be seen.
    pub(super) fn is_light(&self) -> bool {
        self.fill != self.edge
    }
}

/// The marks of the routine's colours, in the routine's order; `used` says which are in play, and
/// those choose their letters first.
pub(super) fn marks(colours: &[NamedColour], used: &[bool]) -> Vec<PropMark> {
    let mut letters: Vec<Option<String>> = vec![None; colours.len()];
    let is_used = |index: usize| used.get(index).copied().unwrap_or(false);
    for wanted in [true, false] {
        for index in (0..colours.len()).filter(|&index| is_used(index) == wanted) {
            let letter = free_letter(&colours[index].name.value, &letters);
            letters[index] = Some(letter);
        }
    }
    let mut order = 0;
    colours
        .iter()
        .zip(letters)
        .enumerate()
        .map(|(index, (colour, letter))| {
            let dash = DASHES[order % DASHES.len()];
            order += usize::from(is_used(index));
            PropMark {
                name: text::clean(&colour.name.value),
                letter: letter.unwrap_or_default(),
                fill: colour.rgb,
                edge: edge_of(colour.rgb),
                line_on_it: if seen(colour.rgb, PAPER) >= seen(colour.rgb, INK) {
                    PAPER
                } else {
                    INK
                },
                dash,
            }
        })
        .collect()
}

/// The mark of props whose colour is not known.
pub(super) fn unknown() -> PropMark {
    PropMark {
        name: "colour not known".to_owned(),
        letter: "?".to_owned(),
        fill: INK,
        edge: INK,
        line_on_it: PAPER,
        dash: "",
    }
}

/// The first letter of the name that no colour has yet, else a free capital, else two or more
/// capitals. R and L are the hands and no colour's.
fn free_letter(name: &str, taken: &[Option<String>]) -> String {
    let is_hand = |letter: &char| matches!(letter, 'R' | 'L');
    let capitals: Vec<char> = ('A'..='Z').filter(|letter| !is_hand(letter)).collect();
    let of_name = name.chars().filter(|character| character.is_alphabetic());
    let of_name = of_name.flat_map(char::to_uppercase).filter(|letter| !is_hand(letter));
    of_name
        .map(String::from)
        .chain((0..).map(|number| counted_in(&capitals, number)))
        .find(|letter| !taken.iter().flatten().any(|other| other == letter))
        .unwrap_or_else(|| unreachable!("there are more capitals in a row than colours"))
}

/// The capitals one by one, then two together, then three.
fn counted_in(capitals: &[char], number: usize) -> String {
    let last = String::from(capitals[number % capitals.len()]);
    match number / capitals.len() {
        0 => last,
        before => counted_in(capitals, before - 1) + &last,
    }
}

/// The colour itself where it is seen against the paper, else mixed with ink until it is.
fn edge_of(colour: Rgb) -> Rgb {
    (0..=20)
        .map(|twentieths| mixed(colour, INK, twentieths))
        .find(|&mixed| seen(mixed, PAPER) >= SEEN_AGAINST_PAPER)
        .unwrap_or(INK)
}

fn mixed(colour: Rgb, other: Rgb, twentieths: u32) -> Rgb {
    let channel = |a: u8, b: u8| {
        let sum = u32::from(a) * (20 - twentieths) + u32::from(b) * twentieths;
        u8::try_from(sum / 20)
            .unwrap_or_else(|_| unreachable!("a mean of two bytes is no greater than the larger"))
    };
    Rgb {
        red: channel(colour.red, other.red),
        green: channel(colour.green, other.green),
        blue: channel(colour.blue, other.blue),
    }
}

/// The least contrast of two colours by day, in red light alone and in blue light alone, where only
/// that part of each counts.
fn seen(a: Rgb, b: Rgb) -> f32 {
    let red = |rgb: Rgb| Rgb { green: rgb.red, blue: rgb.red, ..rgb };
    let blue = |rgb: Rgb| Rgb { red: rgb.blue, green: rgb.blue, ..rgb };
    contrast(a, b).min(contrast(red(a), red(b))).min(contrast(blue(a), blue(b)))
}

fn contrast(a: Rgb, b: Rgb) -> f32 {
    let linear = |rgb: Rgb| Srgb::new(rgb.red, rgb.green, rgb.blue).into_format::<f32>();
    linear(a).relative_contrast(linear(b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Place, Placed};

    fn colour(name: &str, rgb: (u8, u8, u8)) -> NamedColour {
        let name = Placed { value: name.to_owned(), at: Place::default() };
        let at = name.at.clone();
        NamedColour { name, rgb: Rgb { red: rgb.0, green: rgb.1, blue: rgb.2 }, at }
    }

    #[test]
    fn no_two_colours_share_a_letter() {
        let names = ["pearl", "pink", "plum", "pip", "p", "", "珊瑚"];
        let colours: Vec<_> = names.iter().map(|name| colour(name, (9, 9, 9))).collect();
        let marks = marks(&colours, &[true; 7]);
        let letters: Vec<_> = marks.iter().map(|mark| mark.letter.as_str()).collect();
        assert_eq!(letters, ["P", "I", "U", "A", "B", "C", "珊"]);
    }

    #[test]
    fn a_colour_in_play_has_its_first_letter_before_one_that_is_not() {
        let colours = [colour("plum", (9, 9, 9)), colour("pearl", (9, 9, 9))];
        let marks = marks(&colours, &[false, true]);
        assert_eq!((marks[0].letter.as_str(), marks[1].letter.as_str()), ("U", "P"));
    }

    #[test]
    fn no_letter_is_that_of_a_hand_and_past_24_colours_there_are_two() {
        let colours: Vec<_> = (0..30).map(|_| colour("rrllr", (9, 9, 9))).collect();
        let marks = marks(&colours, &[true; 30]);
        let letters: Vec<&str> = marks.iter().map(|mark| mark.letter.as_str()).collect();
        let different: std::collections::BTreeSet<&&str> = letters.iter().collect();
        assert_eq!(different.len(), 30, "{letters:?}");
        assert!(letters.iter().all(|letter| !letter.contains(['R', 'L'])), "{letters:?}");
        assert_eq!(letters[..3], ["A", "B", "C"]);
        assert_eq!(letters[23..27], ["Z", "AA", "AB", "AC"]);
        assert_eq!(counted_in(&['A', 'B'], 6), "AAA");
    }

    #[test]
    fn a_colour_gets_an_edge_that_is_seen_against_the_paper_in_every_light() {
        let of = [
            ("pearl", (0xf4, 0xf1, 0xe6)),
            ("scarlet", (0xff, 0x20, 0x10)),
            ("blue", (0x10, 0x20, 0xff)),
            ("moss", (0x50, 0x60, 0x40)),
        ];
        let marks = marks(&of.map(|(name, rgb)| colour(name, rgb)), &[]);
        assert_eq!(
            marks.iter().map(PropMark::is_light).collect::<Vec<_>>(),
            [true, true, true, false]
        );
        for mark in marks {
            assert!(seen(mark.edge, PAPER) >= SEEN_AGAINST_PAPER, "{mark:?}");
        }
        // In red light alone scarlet on white is white on white.
        assert!(seen(Rgb { red: 255, green: 0, blue: 0 }, PAPER) < 1.01);
    }
}
