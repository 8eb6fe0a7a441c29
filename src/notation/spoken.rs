//! Throws as they are said aloud: what a screen reader reads in place of `[54]24`.
//!
//! Every value is a word of its own, so that nobody hears fifty-four.

use super::{Sequence, Step, Throw, WrittenThrow};

/// The values and small numbers in words.
const BELOW_TWENTY: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] =
    ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// A number in words, as in `thirty-five`; in figures from a hundred on.
#[must_use]
pub fn number(number: u32) -> String {
    let word = |words: &[&str], index: u32| {
        let found = usize::try_from(index).ok().and_then(|index| words.get(index).copied());
        found.unwrap_or_default().to_owned()
    };
    match (number / 10, number % 10) {
        (0 | 1, _) => word(&BELOW_TWENTY, number),
        (ten @ 2..=9, 0) => word(&TENS, ten),
        (ten @ 2..=9, one) => format!("{}-{}", word(&TENS, ten), word(&BELOW_TWENTY, one)),
        _ => number.to_string(),
    }
}

/// Throws in words: `multiplex five four, two, four`; of pairs `both hands: four and two crossed`,
/// the left hand first; nothing for no throws.
#[must_use]
pub fn sequence(of: &Sequence) -> String {
    // The second half of a starred one is the first with the hands exchanged.
    let written = if of.starred { of.steps.len() / 2 } else { of.steps.len() };
    let mut parts: Vec<String> = Vec::new();
    let mut steps = of.steps.iter().take(written).peekable();
    while let Some(step) = steps.next() {
        let mut said = vec![step_in_words(step)];
        while let Some(next) = steps.next_if(|next| next.kind() == step.kind()) {
            said.push(step_in_words(next));
        }
        parts.push(match step {
            Step::Pair(_) => format!("both hands: {}", said.join(", then ")),
            Step::Alternating(_) if parts.is_empty() => said.join(", "),
            Step::Alternating(_) => format!("hands in turn: {}", said.join(", ")),
        });
    }
    let again = if of.starred { ", and again with the hands exchanged" } else { "" };
    format!("{}{again}", parts.join("; "))
}

/// How often a pattern goes round, in words: `times eight and two beats`; where not even one cycle is
/// whole, `for two beats`. Of so many beats, so many whole cycles and the beats of a cut one.
#[must_use]
pub fn how_often(beats: u32, (whole, cut): (u32, u32)) -> String {
    let beats_in_words =
        |beats: u32| format!("{} {}", number(beats), if beats == 1 { "beat" } else { "beats" });
    match (whole, cut) {
        (0, _) => format!("for {}", beats_in_words(beats)),
        (whole, 0) if whole == beats => format!("for {}", beats_in_words(whole)),
        (whole, 0) => format!("times {}", number(whole)),
        (whole, cut) => format!("times {} and {}", number(whole), beats_in_words(cut)),
    }
}

fn step_in_words(step: &Step) -> String {
    match step {
        Step::Alternating(throws) => hand(throws),
        Step::Pair([left, right]) => format!("{} and {}", hand(left), hand(right)),
    }
}

/// What one hand throws on a beat.
fn hand(throws: &[WrittenThrow]) -> String {
    let said: Vec<String> = throws.iter().map(|written| throw(written.throw)).collect();
    match said.as_slice() {
        [one] => one.clone(),
        several => format!("multiplex {}", several.join(" ")),
    }
}

fn throw(of: Throw) -> String {
    let crossed = if of.crossing { " crossed" } else { "" };
    format!("{}{crossed}", number(u32::from(of.value)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> String {
        let sequence_of = super::super::Sequence::read(text);
        sequence(&sequence_of.unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0)
    }

    #[test]
    fn throws_are_said_one_by_one() {
        for (text, words) in [
            ("3", "three"),
            ("531", "five, three, one"),
            ("b97531", "eleven, nine, seven, five, three, one"),
            ("z", "thirty-five"),
            ("7770000", "seven, seven, seven, zero, zero, zero, zero"),
            ("[54]24", "multiplex five four, two, four"),
            ("24[54]", "two, four, multiplex five four"),
            ("[333]33", "multiplex three three three, three, three"),
            ("(4,2x)", "both hands: four and two crossed"),
            ("(4,2x)(2x,4)", "both hands: four and two crossed, then two crossed and four"),
            ("(4,2x)*", "both hands: four and two crossed, and again with the hands exchanged"),
            (
                "(4,4)(4x,0)*",
                "both hands: four and four, then four crossed and zero, and again \
              with the hands exchanged",
            ),
            (
                "([6x4],2x)*",
                "both hands: multiplex six crossed four and two crossed, and again \
              with the hands exchanged",
            ),
            ("3(4,4)", "three; both hands: four and four"),
            ("(4,2x)35", "both hands: four and two crossed; hands in turn: three, five"),
        ] {
            assert_eq!(said(text), words, "{text}");
        }
    }

    #[test]
    fn how_often_is_said_as_it_is_written() {
        for (beats, cycles, words) in [
            (24, (8, 0), "times eight"),
            (26, (8, 2), "times eight and two beats"),
            (25, (8, 1), "times eight and one beat"),
            (2, (0, 2), "for two beats"),
            (30, (30, 0), "for thirty beats"),
            (1, (1, 0), "for one beat"),
            (360, (120, 0), "times 120"),
        ] {
            assert_eq!(how_often(beats, cycles), words);
        }
    }

    #[test]
    fn no_throws_are_nothing() {
        assert_eq!(sequence(&Sequence { steps: Vec::new(), starred: false }), "");
    }

    #[test]
    fn numbers_are_words_below_a_hundred() {
        for (of, words) in [
            (0, "zero"),
            (8, "eight"),
            (13, "thirteen"),
            (20, "twenty"),
            (35, "thirty-five"),
            (99, "ninety-nine"),
            (100, "100"),
            (1_200, "1200"),
        ] {
            assert_eq!(number(of), words);
        }
    }
}
