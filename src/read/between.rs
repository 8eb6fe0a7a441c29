//! A length that is left open: `Between("0:04", "0:12")`, the shortest and the longest.

use crate::diagnostic::{Diagnostic, Placed};
use crate::time::{Seconds, clock};

use super::number::length_of_time;
use super::raw::Raw;
use super::reader::{Form, Reader};

/// How it is written.
pub(super) const FORM: Form = ("Between", "Between(\"0:04\", \"0:12\")");

/// What stands in brackets after `Between`.
pub(super) fn between<'a>(
    reader: &mut Reader,
    word: &Placed<&str>,
    rest: Raw<'a>,
) -> Option<(Seconds, Seconds)> {
    let arguments = reader.arguments(word, rest, 2..=2, FORM.1)?;
    let &[least, most] = &arguments[..] else { return None };
    let (shortest, longest) = (length_of_time(reader, least), length_of_time(reader, most));
    let (shortest, longest) = (shortest?, longest?);
    if longest.value < shortest.value {
        let message = format!(
            "`Between` goes from the shortest to the longest, but {} is longer than {}.",
            clock(&shortest.value),
            clock(&longest.value)
        );
        let fault = Diagnostic::error("range-reversed", rest.place(), message)
            .label("the longer one first")
            .help_edit(
                "Exchange the two.",
                rest.place(),
                format!("({}, {})", most.text, least.text),
            );
        reader.report(fault);
        return None;
    }
    Some((shortest.value, longest.value))
}

/// A length that is all there is to say, as in the `lasts` of a hold.
pub(super) fn open_length<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
) -> Option<Placed<(Seconds, Seconds)>> {
    let (word, rest) = reader.word(raw, "length of a hold", &[FORM])?;
    if word.value != FORM.0 {
        reader.unknown_word("length of a hold", &word, &[FORM]);
        return None;
    }
    between(reader, &word, rest).map(|lasts| raw.placed(lasts))
}
