//! Offers of a file for a terminal: each with its fault and the lines that it changes.

use crate::diagnostic::words::visible;
use crate::diagnostic::{Diagnostic, Lines, Severity, lines_changed};
use crate::offer::Offer;
use crate::sheet::words::plain;

use super::table::{GAP, NARROWEST, labelled, paragraph};

/// A longer line is cut, for only a part of it is changed.
const LONGEST_LINE: usize = 1000;

/// What an offer does stands so far in, behind its number.
const INDENT: u16 = 4;

/// Offers of a file's text, `width` columns wide, the changed lines apart: those stand as they are.
#[must_use]
pub fn of_offers(
    offers: &[&Offer<'_>],
    diagnostics: &[Diagnostic],
    text: &str,
    width: u16,
) -> String {
    let width = width.max(NARROWEST);
    let of_one_message = |offers: &[&Offer<'_>]| {
        let fault = offers.first().and_then(|offer| diagnostics.get(offer.diagnostic));
        let mut block = fault.map_or_else(String::new, |fault| {
            let severity = match fault.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
            };
            let message = plain(&fault.message);
            paragraph(width, 0, &format!("{severity} {}: {message}", fault.code))
        });
        for offer in offers {
            let what = format!("{}{}", plain(&offer.help.said()), beside(offer));
            block += &labelled(width, INDENT - GAP, &format!("{:>2}", offer.number), &what);
            for lines in lines_changed(text, &offer.help.edits).unwrap_or_default() {
                block += &changed(&lines);
            }
        }
        block
    };
    let messages = offers.chunk_by(|one, next| one.diagnostic == next.diagnostic);
    messages.map(of_one_message).collect::<Vec<_>>().join("\n")
}

/// What is said of an offer beside what it does: that it moves nothing, or what is not known of it.
fn beside(offer: &Offer<'_>) -> String {
    if offer.is_safe() {
        return " No time, hand, colour, verdict or other cue changes.".to_owned();
    }
    let effects = offer.help.effects.as_ref();
    let unknown = [
        (effects.is_none_or(|one| one.adds_s.is_none()), "how long the act is then"),
        (effects.is_none_or(|one| one.flips_lead.is_none()), "whether leading hands change"),
        (effects.is_none_or(|one| one.moves_colours.is_none()), "whether colours move"),
    ];
    let unknown: Vec<String> =
        unknown.into_iter().filter(|(holds, _)| *holds).map(|(_, what)| what.to_owned()).collect();
    match unknown.is_empty() {
        true => String::new(),
        false => format!(" Not known: {}.", unknown.join(", ")),
    }
}

fn changed(lines: &Lines) -> String {
    let Lines { line, old, new } = lines;
    let indent = " ".repeat(usize::from(INDENT));
    let shown = |mark: char| {
        let indent = indent.clone();
        move |line: &String| format!("{indent}{mark} {}\n", in_part(line))
    };
    let mut text = format!("{indent}line {line}\n");
    text.extend(old.iter().map(shown('-')));
    text.extend(new.iter().map(shown('+')));
    text
}

fn in_part(line: &str) -> String {
    let cut = line.char_indices().nth(LONGEST_LINE).and_then(|(end, _)| line.get(..end));
    cut.map_or_else(|| visible(line), |cut| visible(cut) + "…")
}
