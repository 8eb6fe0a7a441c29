//! Patterns and transition throws: what the notation says of them, placed in the file.

use std::ops::Range;

use crate::diagnostic::{Diagnostic, Place};
use crate::notation::{Fault, Sequence};
use crate::patterns::Pattern;
use crate::routine::{WrittenPattern, WrittenThrows, place_of};

use super::raw::Raw;
use super::reader::Reader;
use super::text::{any_text, characters};

/// A pattern, with its text.
pub(super) fn pattern<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<WrittenPattern> {
    let text = any_text(reader, raw)?.value;
    let characters = characters(raw, &text);
    let read = Pattern::read(&text);
    let pattern = after_faults(reader, read, &characters, raw.place())?;
    Some(WrittenPattern { pattern, text, at: raw.place(), characters })
}

/// The throws of a written transition.
pub(super) fn throws<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<WrittenThrows> {
    let text = any_text(reader, raw)?.value;
    let characters = characters(raw, &text);
    let read = Sequence::read(&text);
    let throws = after_faults(reader, read, &characters, raw.place())?;
    if throws.steps.is_empty() {
        let message = "There are no throws here; a join without throws is `Direct`.";
        reader.error("empty-text", raw.place(), message);
        return None;
    }
    Some(WrittenThrows { throws, at: raw.place(), characters })
}

/// What was read, once its faults are reported.
fn after_faults<T>(
    reader: &mut Reader,
    read: Result<(T, Vec<Fault>), Vec<Fault>>,
    characters: &[Place],
    whole: Place,
) -> Option<T> {
    let (value, faults) = match read {
        Ok((value, faults)) => (Some(value), faults),
        Err(faults) => (None, faults),
    };
    for fault in faults {
        reader.report(Diagnostic::of_fault(&fault, |at| place_in(characters, &whole, &at)));
    }
    value
}

/// The place of some characters; of no characters the point between their neighbours.
fn place_in(characters: &[Place], whole: &Place, range: &Range<usize>) -> Place {
    if range.start < range.end {
        return place_of(characters, whole, range.clone());
    }
    let before = range.start.checked_sub(1).and_then(|before| characters.get(before));
    match (characters.get(range.start), before) {
        (Some(next), _) => Place { start: next.start, end: next.start },
        (None, Some(last)) => Place { start: last.end, end: last.end },
        (None, None) => whole.clone(),
    }
}
