//! A moment that stands alone, outside any file, and speaks of a routine that was read.

use crate::diagnostic::{Diagnostic, Place, Placed, Severity};
use crate::routine::{Moment, Routine};

use super::names::Kind;
use super::raw::Raw;
use super::reader::Reader;
use super::{moment, syntax};

/// Reads a moment, written as in a routine file, of a routine.
///
/// # Errors
/// What is wrong with it; places are bytes of `text`.
pub fn read_moment(routine: &Routine, text: &str) -> Result<Moment, Vec<Diagnostic>> {
    if text.trim().is_empty() {
        let at = Place { start: 0, end: text.len() };
        let fault = Diagnostic::error("syntax", at, "This is not a moment.");
        return Err(vec![fault.help("Write one as in a routine file, such as TrackStart.")]);
    }
    let mut reader = Reader::default();
    for part in routine.with_encore() {
        reader.names.in_encore = part.is_encore;
        for section in &part.score {
            reader.names.give(Kind::Section, &section.name);
        }
        for (name, track) in part.all_tracks() {
            reader.names.tracks().give(name, track);
        }
    }
    reader.names.in_encore = routine.is_encore;
    let read = match Raw::root(text) {
        Ok(root) => moment::moment(&mut reader, root.value),
        Err(error) => return Err(vec![syntax::fault(&error, text)]),
    };
    let names = reader.names.faults();
    reader.diagnostics.extend(names);
    crate::diagnostic::sort(&mut reader.diagnostics);
    let wrong = reader.diagnostics.iter().any(|one| one.severity == Severity::Error);
    match read {
        Some(Placed { value, .. }) if !wrong => Ok(value),
        _ => Err(reader.diagnostics),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::lantern_quay;

    #[test]
    fn a_lone_moment_is_read_as_in_a_file() {
        let quay = lantern_quay();
        for (text, expected) in [
            ("TrackStart", Moment::TrackStart),
            (" LastCatch ", Moment::LastCatch(None)),
            ("At(\"0:07.5\")", Moment::At(crate::time::Seconds::fraction(15, 2))),
        ] {
            assert_eq!(read_moment(&quay, text), Ok(expected), "{text}");
        }
        assert!(matches!(read_moment(&quay, "Start(\"tide\")"), Ok(Moment::Start(_))));
        assert!(matches!(read_moment(&quay, "Mark(\"drum\")"), Ok(Moment::Mark(_))));
    }

    #[test]
    fn what_is_no_moment_of_the_routine_says_why() {
        let quay = lantern_quay();
        for (text, code) in [
            ("", "syntax"),
            (" ", "syntax"),
            ("Start(\"tide\"", "syntax"),
            ("Start(tide)", "wrong-shape"),
            ("Start(\"tied\")", "unknown-section"),
            ("Mark(\"bell\")", "unknown-mark"),
            ("tide", "unknown-word"),
            ("At(\"7.5\")", "bad-time"),
            ("FirstThrow FirstThrow", "syntax"),
        ] {
            let said = read_moment(&quay, text).unwrap_err();
            let codes: Vec<_> = said.iter().map(|one| one.code).collect();
            assert_eq!(codes, [code], "{text}");
            assert!(said.iter().all(|one| one.at.end <= text.len().max(1)), "{text}");
        }
    }
}
