//! The orbits of a pattern and what colours they can show, for a terminal: a table of the orbits,
//! order by order; then what they can show, in sentences for one multiplex order, in a table for
//! several.

use crate::diagnostic::words::{all_of, counted, sentence};
use crate::patterns::effect::HandOfThrow;
use crate::patterns::orbit::Orbit;
use crate::sheet::pattern::{MultiplexOrder, PatternSheet, Shown};

use super::table::{Column, NONE, paragraph, table};

/// A reader wants no more of them; as many as a multiplex of three different values has.
const MOST_SHOWN: usize = 6;

/// The orbits of the first multiplex orders, and what they can show. Nothing for a pattern without props.
pub(super) fn multiplex_orders(sheet: &PatternSheet, width: u16) -> String {
    if sheet.orbits.is_empty() {
        return String::new();
    }
    let several = sheet.multiplex_orders_in_all != Some(1);
    let shown = &sheet.multiplex_orders[..sheet.multiplex_orders.len().min(MOST_SHOWN)];
    let heading = "ORBITS · the throws that one prop goes through, numbered as written from 1, and \
                   the cycles in which it makes them";
    let mut text = paragraph(width, 0, heading);
    if several {
        text += &paragraph(width, 0, &in_all(sheet, shown.len()));
    }
    text += &orbits(shown.iter().map(|order| (order, &order.held)), several, width);
    text.push('\n');
    text += &colours(shown, several, width);
    text.push('\n');
    let mut thrown =
        shown.iter().filter_map(|order| Some((order, order.thrown.as_ref()?))).peekable();
    if thrown.peek().is_some() {
        let heading = "2S THROWN · above, 2s are held; where they are thrown the orbits are";
        text += &paragraph(width, 0, heading);
        text += &orbits(thrown, several, width);
        text.push('\n');
    }
    text
}

/// How many multiplex orders there are, in words.
fn in_all(sheet: &PatternSheet, shown: usize) -> String {
    let all = match sheet.multiplex_orders_in_all {
        Some(all) => all.to_string(),
        None => "more than a million".to_owned(),
    };
    let part = match shown {
        shown if sheet.multiplex_orders_in_all.is_some_and(|all| all as usize <= shown) => {
            String::new()
        }
        1 => ", the first shown".to_owned(),
        shown => format!(", the first {shown} shown"),
    };
    sentence(&format!(
        "{all} multiplex orders{part}: the values of a multiplex in other orders; throws keep their \
         numbers"
    ))
}

/// The orbits of each multiplex order, one in a row.
fn orbits<'a>(
    multiplex_orders: impl Iterator<Item = (&'a MultiplexOrder, &'a Shown)>,
    several: bool,
    width: u16,
) -> String {
    let mut columns = vec![
        (Column::Words, "throws"),
        (Column::Words, "their\nnumbers"),
        (Column::Words, "in\ncycles"),
        (Column::Figure, "props"),
        (Column::Words, "each throw shows"),
    ];
    if several {
        columns.insert(0, (Column::Words, "order"));
    }
    let rows = multiplex_orders.flat_map(|(order, shown)| {
        shown.orbits.iter().enumerate().map(move |(place, (orbit, hand))| {
            let throws: Vec<String> = orbit.throws.iter().map(ToString::to_string).collect();
            let mut row = vec![
                throws.join(" "),
                figures(orbit.numbers.iter().copied()),
                figures(orbit.cycles.iter().map(|cycle| cycle + 1)),
                orbit.props.to_string(),
                in_turn(orbit, *hand),
            ];
            if several {
                let first = if place == 0 { order.pattern.as_str() } else { "" };
                row.insert(0, first.to_owned());
            }
            row
        })
    });
    table(width, &columns, rows)
}

/// What each throw of an orbit shows, cycle after cycle.
fn in_turn(orbit: &Orbit, hand: HandOfThrow) -> String {
    match (orbit.props, hand) {
        (1, HandOfThrow::Alternates) => "1 colour, from alternate hands".to_owned(),
        (1, _) => "1 colour".to_owned(),
        (props, HandOfThrow::EachItsOwn) => {
            format!("{props} colours in turn, {} from each hand", props / 2)
        }
        (props, _) => format!("{props} colours in turn"),
    }
}

/// What the props can show.
fn colours(shown: &[MultiplexOrder], several: bool, width: u16) -> String {
    let mut text = paragraph(width, 0, "COLOURS · what the props can show, cycle after cycle");
    if several {
        text += &table_of_colours(shown, width);
        let legend = "A colour can stay with the throws of an orbit whose props are alike. With \
                      all props different the colours repeat every so many cycles as the last \
                      column says.";
        return text + &paragraph(width, 0, legend);
    }
    for sentence in shown.iter().flat_map(|order| sentences(&order.held)) {
        text += &paragraph(width, 0, &sentence);
    }
    text
}

fn table_of_colours(shown: &[MultiplexOrder], width: u16) -> String {
    let columns = [
        (Column::Words, "order"),
        (Column::Words, "one prop\ncan keep"),
        (Column::Figure, "colours\nthat can stay"),
        (Column::Words, "on props"),
        (Column::Label, "props come\nround after"),
    ];
    let rows = shown.iter().map(|order| {
        let effects = &order.held.effects;
        let solid: Vec<String> = effects.solid.iter().map(u32::to_string).collect();
        let keeps = match effects.keeps.as_slice() {
            [] => NONE.to_owned(),
            keeps => throws(keeps),
        };
        vec![
            order.pattern.clone(),
            keeps,
            solid.len().to_string(),
            solid.join(" + "),
            counted(effects.comes_round, "cycle"),
        ]
    });
    table(width, &columns, rows)
}

/// What one multiplex order can show, a sentence for each effect.
fn sentences(shown: &Shown) -> Vec<String> {
    let effects = &shown.effects;
    let mut sentences = Vec::new();
    match (effects.keeps.as_slice(), effects.solid.as_slice()) {
        ([], _) => sentences.push("No throw can be kept by one prop.".to_owned()),
        (_, [1]) => sentences.push("One prop makes every throw.".to_owned()),
        _ => {
            for (orbit, _) in shown.orbits.iter().filter(|(orbit, _)| orbit.props == 1) {
                sentences.push(format!("One prop can keep {}.", throws(&orbit.numbers)));
            }
        }
    }
    if let [all] = effects.solid[..] {
        if all > 1 {
            let props = if all == 2 { "both props".to_owned() } else { format!("all {all} props") };
            sentences.push(format!("A throw keeps its colour only if {props} are alike."));
        }
    } else {
        for (orbit, _) in shown.orbits.iter().filter(|(orbit, _)| orbit.props > 1) {
            let (its, keep) =
                if orbit.numbers.len() == 1 { ("its", "keeps") } else { ("their", "keep") };
            let throws = throws(&orbit.numbers);
            let props = counted(orbit.props, "prop");
            sentences.push(format!("{throws} {keep} one colour if {its} {props} are alike."));
        }
        let solid: Vec<String> = effects.solid.iter().map(u32::to_string).collect();
        sentences.push(format!(
            "{} at most can stay with their throws, on {} props.",
            counted(solid.len(), "colour"),
            all_of(&solid)
        ));
    }
    if effects.comes_round > 1 {
        sentences.push(format!(
            "With all props different the colours repeat every {}.",
            counted(effects.comes_round, "cycle")
        ));
    }
    sentences.iter().map(|one| sentence(one)).collect()
}

/// Throws by their numbers, lowest first: `throw 2`, `throws 1 and 3`.
fn throws(numbers: &[u32]) -> String {
    let mut numbers = numbers.to_vec();
    numbers.sort_unstable();
    let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
    let noun = if numbers.len() == 1 { "throw" } else { "throws" };
    format!("{noun} {}", all_of(&numbers))
}

/// Figures in a row.
fn figures(numbers: impl Iterator<Item = u32>) -> String {
    numbers.map(|number| number.to_string()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use crate::sheet::pattern::compose;

    use super::*;

    fn told(written: &str, width: u16) -> String {
        let sheet = compose(written).unwrap_or_else(|faults| panic!("{written}: {faults:?}")).0;
        multiplex_orders(&sheet, width)
    }

    #[test]
    fn one_multiplex_order_is_told_in_sentences() {
        insta::assert_snapshot!(told("423", 80));
    }

    #[test]
    fn several_multiplex_orders_are_told_in_tables() {
        insta::assert_snapshot!(told("[54]24", 80));
    }

    #[test]
    fn many_multiplex_orders_are_counted_and_the_first_of_them_told() {
        let text = told("[3456]", 80);
        assert!(text.contains("24 multiplex orders, the first 6 shown"), "{text}");
        assert!(!text.contains("[5634]"), "{text}");
        let text = told(&"[987654321]".repeat(9), 80);
        assert!(text.contains("More than a million multiplex orders, the first 6 shown"), "{text}");
        let Ok((mut sheet, _)) = compose("[3456]") else { panic!("[3456] is a pattern") };
        sheet.multiplex_orders.truncate(1);
        let text = multiplex_orders(&sheet, 80);
        assert!(text.contains("24 multiplex orders, the first shown"), "{text}");
    }

    #[test]
    fn every_effect_has_its_sentence() {
        for (written, sentence) in [
            ("441", "No throw can be kept by one prop."),
            ("441", "A throw keeps its colour only if all 3 props are alike."),
            ("40", "A throw keeps its colour only if both props are alike."),
            ("20", "One prop makes every throw."),
            ("(4,2x)*", "One prop can keep throws 2 and 4."),
            ("531", "Throws 1 and 3 keep one colour if their 2 props are alike."),
            ("531", "2 colours at most can stay with their throws, on 2 and 1 props."),
            ("531", "With all props different the colours repeat every 2 cycles."),
        ] {
            let text = told(written, 80);
            assert!(text.contains(sentence), "{text}");
        }
        assert_eq!(told("0", 80), "");
    }

    #[test]
    fn every_line_keeps_to_the_width() {
        for written in ["531", "[54]24", "[3456]", "b97531", "([2x4],2x)*", "[456789ab][9876543]"] {
            let Ok((sheet, _)) = compose(written) else { panic!("{written} is a pattern") };
            for width in [72, 80, 120] {
                let text = multiplex_orders(&sheet, width);
                let widest = text.lines().map(UnicodeWidthStr::width).max().unwrap_or(0);
                assert!(widest <= usize::from(width), "{widest} {width}\n{text}");
            }
        }
    }
}
