//! A pattern explained for a terminal.

use crate::diagnostic::words::counted;
use crate::hand::Hand;
use crate::notation::{Fault, Kind};
use crate::patterns::hands::HandCount;
use crate::sheet::pattern::{PatternSheet, compose};

use super::fault_text::fault;
use super::multiplex_orders_text::multiplex_orders;
use super::table::{Column, NONE, labelled, paragraph, table};

/// Explains a written pattern for a terminal `width` columns wide, the reader's questions below, or
/// says what is wrong with it; and whether it is a pattern.
#[must_use]
pub fn explain(written: &str, width: u16) -> (String, bool) {
    let told = |faults: &[Fault]| -> Vec<String> {
        faults.iter().map(|one| fault(written, one, width)).collect()
    };
    match compose(written) {
        Ok((sheet, questions)) => {
            let mut parts = vec![text(&sheet, width)];
            parts.extend(told(&questions));
            (parts.join("\n"), true)
        }
        Err(faults) => (told(&faults).join("\n"), false),
    }
}

/// A pattern explained for a terminal `width` columns wide.
#[must_use]
pub fn text(sheet: &PatternSheet, width: u16) -> String {
    let mut text =
        paragraph(width, 0, &format!("{} · {}", sheet.pattern, counted(sheet.props, "prop")));
    text.push('\n');
    for (label, words) in [
        ("hands", notation(sheet)),
        ("period", period(sheet)),
        ("schedule", schedule(sheet)),
        ("start", start(sheet)),
    ] {
        text += &labelled(width, 8, label, &words);
    }
    text.push('\n');
    text += &multiplex_orders(sheet, width);
    text += &hands(sheet, width);
    text
}

fn notation(sheet: &PatternSheet) -> String {
    match sheet.kind {
        Kind::Async => "alternating".to_owned(),
        Kind::Sync => "together, in pairs of two beats".to_owned(),
    }
}

fn period(sheet: &PatternSheet) -> String {
    let period = counted(sheet.period, "beat");
    if sheet.beats_to_repeat == sheet.period {
        return format!("{period}, then hands and throws repeat");
    }
    format!(
        "{period}; the other hand leads the next cycle, so hands and throws repeat after {}",
        sheet.beats_to_repeat
    )
}

fn schedule(sheet: &PatternSheet) -> String {
    if sheet.schedule.is_empty() {
        return "no prop is due".to_owned();
    }
    let due: Vec<String> = match sheet.kind {
        Kind::Async => sheet.schedule.iter().map(|due| figures(due)).collect(),
        Kind::Sync => sheet.schedule.iter().map(|due| format!("({})", figures(due))).collect(),
    };
    let due = due.join(" ");
    let state = if sheet.ground { "ground" } else { "excited" };
    let each = match sheet.kind {
        Kind::Async => "props due on each coming beat, the leading hand's first",
        Kind::Sync => "props due in each coming pair, left hand first",
    };
    format!("{due}, {state}; {each}")
}

fn figures(due: &[u8]) -> String {
    due.iter().map(u8::to_string).collect::<Vec<_>>().join(",")
}

fn start(sheet: &PatternSheet) -> String {
    let [left, right] = sheet.start;
    let led_by_right = format!("right {right}, left {left}");
    match sheet.start_led_by_left {
        None => led_by_right,
        Some(other) if other == sheet.start => {
            format!("{led_by_right}, whichever hand leads")
        }
        Some([left, right]) => format!(
            "{led_by_right} when the right hand leads; left {left}, right {right} when the left \
             hand leads"
        ),
    }
}

fn hands(sheet: &PatternSheet, width: u16) -> String {
    let row = |hand: Hand| {
        let count = &sheet.hands[hand.index()];
        vec![
            hand.word().to_owned(),
            count.thrown.to_string(),
            count.handed_across.to_string(),
            count.held.to_string(),
            count.empty.to_string(),
            count.releases.to_string(),
            split(count),
        ]
    };
    let columns = [
        (Column::Label, "hand"),
        (Column::Figure, "thrown"),
        (Column::Figure, "handed\nacross"),
        (Column::Figure, "held"),
        (Column::Figure, "empty"),
        (Column::Figure, "releases"),
        (Column::Words, "each throw"),
    ];
    let lead = if sheet.kind == Kind::Async { ", led by the right" } else { "" };
    let heading = format!("HANDS · counts over {}{lead}", counted(sheet.beats_to_repeat, "beat"));
    paragraph(width, 0, &heading) + &table(width, &columns, Hand::BOTH.map(row))
}

/// How often a hand makes each throw, lowest first.
fn split(count: &HandCount) -> String {
    let each: Vec<String> =
        count.by_value.iter().map(|(throw, times)| format!("{throw} ×{times}")).collect();
    if each.is_empty() { NONE.to_owned() } else { each.join("  ") }
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;

    fn explained(written: &str, width: u16) -> String {
        let sheet = compose(written).unwrap_or_else(|faults| panic!("{written}: {faults:?}")).0;
        text(&sheet, width)
    }

    #[test]
    fn a_multiplex_pattern_explained() {
        insta::assert_snapshot!(explained("[54]24", 80));
    }

    #[test]
    fn pairs_explained() {
        insta::assert_snapshot!(explained("(4,2x)*", 80));
    }

    #[test]
    fn a_text_that_is_no_pattern_is_told_fault_by_fault() {
        insta::assert_snapshot!(explain("[50](4,3)", 80).0, @r"
        Error: A 0 is an empty hand, so it cannot be one of several throws that a hand
        makes at once.
            [50](4,3)
              ━
          Fix: Leave the 0 out.
        throwbook explain empty-hand-in-multiplex

        Error: In a pair every throw fills an even number of beats, so 3 cannot stand
        here.
            [50](4,3)
                   ━
          Fix: Write 2.
          Fix: Write 4.
        throwbook explain odd-value-in-pair
        ");
        assert!(!explain("54", 80).1);
        let (text, valid) = explain("[4x2]", 80);
        assert!(valid && text.ends_with("throwbook explain x-outside-pair\n"), "{text}");
    }

    #[test]
    fn every_line_keeps_to_the_width() {
        for written in ["0", "531", "[54]24", "(4,2x)(2x,4)", "zzz", "b97531", "[2345]01234"] {
            let Ok((sheet, _)) = compose(written) else { continue };
            for width in [72, 80, 120] {
                let text = text(&sheet, width);
                let widest = text.lines().map(UnicodeWidthStr::width).max().unwrap_or(0);
                assert!(widest <= usize::from(width), "{widest} {width}\n{text}");
            }
        }
    }
}
