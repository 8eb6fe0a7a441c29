//! What rests in the two hands, drawn small in plain text: a cup for each hand, the left at the
//! left, the prop that leaves first on top and marked.

use unicode_width::UnicodeWidthStr;

use crate::hand::Hand;
use crate::sheet::loading::AtRest;

use super::table::{NARROWEST, shortened};

/// Before the left cup, and between the cups.
const GAP: usize = 3;

/// Beside a prop's name in its cup: the walls, its place, the letter and the spaces around them.
const BESIDE_NAME: usize = 13;

/// The drawing, `width` columns wide at most; `letters` are those of the routine's colours.
pub(super) fn drawing(at_rest: &AtRest, letters: &[String], width: u16) -> String {
    let room = usize::from(width.max(NARROWEST)).saturating_sub(2 * (GAP + BESIDE_NAME)) / 2;
    let cups = Hand::BOTH.map(|hand| contents(at_rest, hand, letters, room));
    let inside = |cup: &[String]| cup.iter().map(|line| line.width()).max().unwrap_or(0);
    let widths = [inside(&cups[0]), inside(&cups[1])].map(|width| width.max(BESIDE_NAME));
    let deep = cups[0].len().max(cups[1].len());
    let mut lines = vec![String::new(); deep + 2];
    for (hand, (cup, inside)) in Hand::BOTH.iter().zip(cups.iter().zip(widths)) {
        let mut add = |line: usize, text: &str| {
            let empty = inside + 2 - text.width();
            lines[line] += &(" ".repeat(GAP) + text + &" ".repeat(empty));
        };
        add(0, &format!(" {} HAND", hand.word().to_uppercase()));
        for place in 0..deep {
            let text = cup.get(place).map_or("", String::as_str);
            let rest = " ".repeat(inside - text.width());
            add(place + 1, &format!("│{text}{rest}│"));
        }
        add(deep + 1, &format!("╰{}╯", "─".repeat(inside)));
    }
    lines.iter().fold(String::new(), |all, line| all + line.trim_end() + "\n")
}

/// One line for each prop in a hand; one for an empty hand.
fn contents(at_rest: &AtRest, hand: Hand, letters: &[String], room: usize) -> Vec<String> {
    let props = at_rest.in_hand(hand);
    if props.is_empty() {
        return vec![" empty".to_owned()];
    }
    let line = |(place, prop): (usize, &crate::sheet::loading::PropName)| {
        let mark = if place == 0 { '▲' } else { ' ' };
        let letter = letters.get(prop.colour).map_or("", String::as_str);
        format!(" {mark} {}  {letter}  {} ", place + 1, shortened(&prop.in_full(), room))
    };
    props.iter().enumerate().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::loading::PropName;

    fn prop(colour: usize, name: &str, number: Option<usize>) -> PropName {
        PropName { colour, colour_name: name.to_owned(), behind: None, number }
    }

    #[test]
    fn each_hand_is_a_cup_with_the_first_to_leave_on_top() {
        let letters = ["C", "P", "T"].map(str::to_owned);
        let right = vec![prop(0, "coral", None), prop(1, "pearl", Some(2))];
        let at_rest = AtRest { hands: [vec![prop(2, "teal", None)], right] };
        let expected = "
    LEFT HAND          RIGHT HAND
   │ ▲ 1  T  teal │   │ ▲ 1  C  coral   │
   │              │   │   2  P  pearl 2 │
   ╰──────────────╯   ╰─────────────────╯
";
        assert_eq!(format!("\n{}", drawing(&at_rest, &letters, 80)), expected);
    }

    #[test]
    fn long_names_are_cut_and_an_empty_hand_says_so() {
        let long = prop(0, &"a very long name of a colour ".repeat(4), None);
        let at_rest = AtRest { hands: [Vec::new(), vec![long]] };
        let drawn = drawing(&at_rest, &["A".to_owned()], 60);
        assert!(drawn.contains("empty") && drawn.contains('…'), "{drawn}");
        assert!(drawn.lines().all(|line| line.width() <= 60), "{drawn}");
    }
}
