//! The shortest ways between two patterns for a terminal.

use crate::diagnostic::words::{counted, either};
use crate::hand::Hand;
use crate::notation::Throw;
use crate::sheet::transition::{MOST_WAYS, Outcome, Refusal, Side, TransitionSheet, WayLine};
use crate::sheet::words::plain;
use crate::transition::Bounds;

use super::fault_text::fault;
use super::table::{Column, NONE, paragraph, table};

/// Longer patterns are cut in sentences.
const LONGEST_PATTERN: usize = 32;

/// The sheet for a terminal `width` columns wide.
#[must_use]
pub fn text(sheet: &TransitionSheet, width: u16) -> String {
    let (from, to) = (&short(&sheet.from), &short(&sheet.to));
    match &sheet.outcome {
        Outcome::Refused(refusals) => {
            let refusals: Vec<String> =
                refusals.iter().map(|refusal| refused(refusal, sheet, width)).collect();
            refusals.join("\n")
        }
        Outcome::NoWay { props, beats } => {
            let mut sentence = format!(
                "There is no way from `{from}` to `{to}`{} {}.",
                led(sheet.lead),
                within(sheet.bounds)
            );
            if let Some(beats) = beats {
                sentence += &format!(" The shortest takes {}.", counted(*beats, "beat"));
            }
            heading(from, to, *props, width) + &paragraph(width, 0, &sentence)
        }
        Outcome::Ways { props, ways, entries } => {
            let mut text = heading(from, to, *props, width);
            text += &paragraph(width, 0, &first_in_words(from, to, &ways[0]));
            // One way without a throw is told in full by its sentence.
            if ways.len() > 1 || !ways[0].throws.is_empty() {
                text += "\n";
                text += &paragraph(width, 0, &how_many(ways, sheet));
                text += "\n";
                text += &all(ways, width);
            }
            if !entries.is_empty() {
                let entries: Vec<String> =
                    entries.iter().map(|entry| format!("`{}`", short(entry))).collect();
                let sentence = format!(
                    "Written from another of its throws it joins directly: {}.",
                    either(&entries)
                );
                text += "\n";
                text += &paragraph(width, 0, &sentence);
            }
            text
        }
    }
}

fn heading(from: &str, to: &str, props: u32, width: u16) -> String {
    paragraph(width, 0, &format!("{from} → {to} · {}", counted(props, "prop"))) + "\n"
}

/// A user's pattern, cut where it is long.
fn short(text: &str) -> String {
    let text = plain(text);
    match text.char_indices().nth(LONGEST_PATTERN) {
        Some((end, _)) => text[..end].to_owned() + "…",
        None => text,
    }
}

fn led(lead: Option<Hand>) -> String {
    lead.map_or_else(String::new, |hand| format!(" with the {hand} hand leading"))
}

/// The bounds in words.
fn within(bounds: Bounds) -> String {
    let at_once = match bounds.at_once {
        0 | 1 => "one prop at once".to_owned(),
        most => format!("{most} props at once"),
    };
    format!(
        "within {}, with no throw above {} and no more than {at_once}, or what the patterns use \
         themselves",
        counted(bounds.beats, "beat"),
        Throw::digit(bounds.highest.min(crate::notation::HIGHEST_VALUE)),
    )
}

/// The first way as one sentence.
fn first_in_words(from: &str, to: &str, way: &WayLine) -> String {
    let next = match (way.lead, way.flips_lead) {
        (Some(hand), true) => format!("the {hand} hand leads `{to}`: the lead flips"),
        (Some(hand), false) => format!("the {hand} hand leads `{to}`"),
        (None, _) => format!("`{to}` begins"),
    };
    let wait = match (way.waits, way.lead) {
        // Before pairs the wait is a beat of its own, after pairs it falls beside a throw.
        (Some(hand), None) => Some(format!("the {hand} hand waits one beat")),
        (Some(hand), Some(_)) => Some(format!("the {hand} hand waits where the pairs end")),
        (None, _) => None,
    };
    let throws = match (way.throws.as_str(), way.begins) {
        ("", _) => None,
        (throws, Some(hand)) if throws.chars().count() == 1 => {
            Some(format!("throw `{throws}` from the {hand} hand"))
        }
        (throws, Some(hand)) => Some(format!("throw `{throws}`, {hand} hand first")),
        (throws, None) => Some(format!("throw `{throws}`")),
    };
    match (throws, wait) {
        (None, None) => format!("`{from}` joins `{to}` directly; {next}."),
        (None, Some(wait)) => {
            format!("`{from}` joins `{to}` without a throw between: {wait}, then {next}.")
        }
        (Some(throws), None) => format!("After `{from}` {throws}; then {next}."),
        (Some(throws), Some(wait)) => format!("After `{from}` {throws}, and {wait}; then {next}."),
    }
}

fn how_many(ways: &[WayLine], sheet: &TransitionSheet) -> String {
    let each = counted(ways[0].beats, "beat");
    match ways.len() {
        1 => format!("1 way of {each}{}:", led(sheet.lead)),
        MOST_WAYS => format!("The first {MOST_WAYS} ways of {each}{}:", led(sheet.lead)),
        several => format!("{several} ways of {each}{}:", led(sheet.lead)),
    }
}

fn all(ways: &[WayLine], width: u16) -> String {
    let columns = [
        (Column::Words, "throws"),
        (Column::Figure, "beats"),
        (Column::Label, "first hand"),
        (Column::Label, "waits"),
        (Column::Label, "then leads"),
        (Column::Label, "lead"),
    ];
    let hand = |hand: Option<Hand>| hand.map_or(NONE, Hand::word).to_owned();
    let rows = ways.iter().map(|way| {
        let lead = match (way.lead, way.flips_lead) {
            (_, true) => "flips",
            // Beside pairs there is no lead that could stay.
            (Some(_), false) if way.waits.is_none() => "stays",
            _ => NONE,
        };
        vec![
            if way.throws.is_empty() { "(none)".to_owned() } else { way.throws.clone() },
            way.beats.to_string(),
            if way.throws.is_empty() { NONE.to_owned() } else { first_hand(way) },
            hand(way.waits),
            hand(way.lead),
            lead.to_owned(),
        ]
    });
    table(width, &columns, rows)
}

fn first_hand(way: &WayLine) -> String {
    way.begins.map_or("both", Hand::word).to_owned()
}

/// A fault with the pattern that it is in, its characters marked below.
fn refused(refusal: &Refusal, sheet: &TransitionSheet, width: u16) -> String {
    let pattern = match refusal.side {
        Some(Side::From) => &sheet.from,
        Some(Side::To) => &sheet.to,
        None => "",
    };
    fault(pattern, &refusal.fault, width)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::transition::compose;

    fn told(from: &str, to: &str, lead: Option<Hand>) -> String {
        text(&compose(from, to, Bounds::default(), lead), 80)
    }

    #[test]
    fn one_way_is_told_in_words_and_in_a_table() {
        insta::assert_snapshot!(told("3", "414", None), @r#"
        3 → 414 · 3 props

        After `3` throw `4` from the right hand; then the left hand leads `414`: the
        lead flips.

        1 way of 1 beat:

        throws  beats  first hand  waits  then leads  lead
        ───────────────────────────────────────────────────
        4           1  right       –      left        flips

        Written from another of its throws it joins directly: `441`.
        "#);
    }

    #[test]
    fn a_join_without_throws_needs_no_table() {
        insta::assert_snapshot!(told("3", "531", None), @r#"
        3 → 531 · 3 props

        `3` joins `531` directly; the right hand leads `531`.
        "#);
        insta::assert_snapshot!(told("4", "(4,4)", None), @r#"
        4 → (4,4) · 4 props

        `4` joins `(4,4)` without a throw between: the right hand waits one beat, then
        `(4,4)` begins.
        "#);
        insta::assert_snapshot!(told("(4,2x)(2x,4)", "3", None), @r#"
        (4,2x)(2x,4) → 3 · 3 props

        `(4,2x)(2x,4)` joins `3` without a throw between: the left hand waits where the
        pairs end, then the right hand leads `3`.
        "#);
    }

    #[test]
    fn several_ways_stand_in_their_order() {
        insta::assert_snapshot!(told("5", "91", None), @r#"
        5 → 91 · 5 props

        After `5` throw `678`, right hand first; then the left hand leads `91`: the lead
        flips.

        4 ways of 3 beats:

        throws  beats  first hand  waits  then leads  lead
        ───────────────────────────────────────────────────
        678         3  right       –      left        flips
        858         3  right       –      left        flips
        696         3  right       –      left        flips
        894         3  right       –      left        flips
        "#);
        insta::assert_snapshot!(told("(4,4)", "71", Some(Hand::Left)), @r#"
        (4,4) → 71 · 4 props

        After `(4,4)` throw `(4x,6)`, and the right hand waits where the pairs end; then
        the left hand leads `71`.

        4 ways of 2 beats with the left hand leading:

        throws  beats  first hand  waits  then leads  lead
        ──────────────────────────────────────────────────
        (4x,6)      2  both        right  left        –
        56          2  left        right  left        –
        (6x,4)      2  both        right  left        –
        74          2  left        right  left        –
        "#);
    }

    #[test]
    fn bounds_that_are_too_narrow_are_told() {
        let bounds = Bounds { highest: 7, at_once: 2, beats: 2 };
        insta::assert_snapshot!(text(&compose("5", "91", bounds, None), 80), @r#"
        5 → 91 · 5 props

        There is no way from `5` to `91` within 2 beats, with no throw above 7 and no
        more than 2 props at once, or what the patterns use themselves. The shortest
        takes 3 beats.
        "#);
    }

    #[test]
    fn faults_are_marked_in_their_pattern() {
        insta::assert_snapshot!(told("3", "432", None), @r#"
        Error: The 4 (throw 1), the 3 (throw 2) and the 2 (throw 3) all land in the
        right hand on beat 5, where that hand throws only one prop.
            432
              ━
          Fix: Write 342, 423, 333 or 522 instead.
        throwbook explain landing-clash
        "#);
        insta::assert_snapshot!(told("3", "5", None), @r#"
        Error: The first pattern has 3 props and the second 5; a transition neither adds
        nor takes one.
        throwbook explain prop-count
        "#);
        insta::assert_snapshot!(told("3", "", None), @r#"
        Error: There are no throws here; a pattern has at least one, such as 3.
        throwbook explain empty-pattern
        "#);
    }

    #[test]
    fn no_line_is_wider_than_the_terminal() {
        let long = "97531".repeat(40);
        for (from, to) in [("5", long.as_str()), (&long, "[54]24"), (&long, "3"), ("54", &long)] {
            for width in [72, 80] {
                let told = text(&compose(from, to, Bounds::default(), None), width);
                assert!(
                    told.lines().all(|line| line.chars().count() <= usize::from(width)),
                    "{told}"
                );
            }
        }
    }

    #[test]
    fn control_characters_are_not_printed() {
        assert!(!told("3\u{1b}[31m", "5\u{7}", None).contains(['\u{1b}', '\u{7}']));
    }
}
