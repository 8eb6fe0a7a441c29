//! Words that several sheets share: moments, crews, small numbers, and users' text made safe.

use unicode_bidi::{BidiClass, bidi_class};

use std::cmp::Ordering;

use crate::diagnostic::words::all_of;
use crate::notation::Throw;
use crate::routine::{Lands, Moment, Until};
use crate::time::{Seconds, clock, seconds_text};

/// A user's text on one line: line breaks become spaces and other control characters are dropped. What
/// it opens of another direction it also closes (Unicode Standard Annex #9), so that the text behind it
/// is not turned.
#[must_use]
pub fn plain(text: &str) -> String {
    const END_OF_EMBEDDING: char = '\u{202c}';
    const END_OF_ISOLATE: char = '\u{2069}';
    let mut plain = String::with_capacity(text.len());
    let mut open = Vec::new();
    for character in text.chars() {
        match character {
            '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => {
                // A line end of two characters is one space too.
                if !plain.ends_with(' ') {
                    plain.push(' ');
                }
                continue;
            }
            '\u{202a}' | '\u{202b}' | '\u{202d}' | '\u{202e}' => open.push(END_OF_EMBEDDING),
            '\u{2066}'..='\u{2068}' => open.push(END_OF_ISOLATE),
            // One that closes nothing would close what stands around the text.
            END_OF_EMBEDDING if open.pop_if(|end| *end == END_OF_EMBEDDING).is_none() => continue,
            END_OF_ISOLATE => match open.iter().rposition(|end| *end == END_OF_ISOLATE) {
                Some(at) => open.truncate(at),
                None => continue,
            },
            _ => {}
        }
        if !character.is_control() {
            plain.push(character);
        }
    }
    plain.extend(open.into_iter().rev());
    plain
}

/// A user's text that may still carry control characters. It prints through [`Text::plain`] only;
/// what a spreadsheet must not run is judged by how it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text(String);

impl Text {
    /// Takes a text as it came.
    #[must_use]
    pub fn new(text: impl Into<String>) -> Text {
        Text(text.into())
    }

    /// Its control characters dropped.
    #[must_use]
    pub fn plain(&self) -> String {
        plain(&self.0)
    }

    /// As it came.
    #[must_use]
    pub fn as_written(&self) -> &str {
        &self.0
    }
}

/// What stands over what a sheet says of the encore, whose clock reads zero at a moment in words.
#[must_use]
pub fn encore_heading(zero: &str) -> String {
    format!("ENCORE · only if it is called for; 0:00.0 of its own clock is {zero}")
}

/// A name that its user gave, safe to print and in quotation marks, so that it is not read as words
/// of the sentence around it.
#[must_use]
pub fn quoted(name: &str) -> String {
    format!("\"{}\"", isolated(&plain(name)))
}

/// A text that is read from right to left, kept apart, so that it does not turn what stands beside it;
/// any other as it is.
pub(crate) fn isolated(text: &str) -> String {
    let turns = |one: char| matches!(bidi_class(one), BidiClass::R | BidiClass::AL);
    match text.chars().any(turns) {
        true => format!("\u{2068}{text}\u{2069}"),
        false => text.to_owned(),
    }
}

/// A moment in words, as in `last catch of "ebb"` or `20.0 s before track start`.
#[must_use]
pub fn moment(of: &Moment) -> String {
    match of {
        Moment::TrackStart => "track start".to_owned(),
        Moment::TrackEnd => "track end".to_owned(),
        Moment::FirstThrow => "first throw".to_owned(),
        Moment::LastCatch(None) => "last catch".to_owned(),
        Moment::LastCatch(Some(name)) => format!("last catch of {}", quoted(&name.value)),
        Moment::Start(name) => format!("start of {}", quoted(&name.value)),
        Moment::End(name) => format!("end of {}", quoted(&name.value)),
        Moment::Throw(name, number) => {
            format!("throw {} of {}", number.value, quoted(&name.value))
        }
        Moment::Catch(name, number) => {
            format!("catch of throw {} of {}", number.value, quoted(&name.value))
        }
        Moment::Cycle(name, number) => {
            format!("cycle {} of {}", number.value, quoted(&name.value))
        }
        Moment::Mark(name) => format!("mark {}", quoted(&name.value)),
        Moment::HoldStart(name) => format!("hold {}", quoted(&name.value)),
        Moment::HoldEnd(name) => format!("end of hold {}", quoted(&name.value)),
        Moment::OfTrack(track, of) => {
            let track = quoted(&track.value);
            match &**of {
                Moment::TrackStart => format!("start of track {track}"),
                Moment::TrackEnd => format!("end of track {track}"),
                of => format!("{} of {track}", moment(of)),
            }
        }
        Moment::Bar(bar, 1) => format!("bar {bar}"),
        Moment::Bar(bar, beat) => format!("bar {bar}, music beat {beat}"),
        Moment::At(time) => format!("{} on the show clock", clock(time)),
        Moment::Shift(..) => {
            let (from, by) = of.unshifted();
            shifted(&moment(from), &by)
        }
        Moment::First(of) => format!("the first of {}", all(of)),
        Moment::Last(of) => format!("the last of {}", all(of)),
        Moment::SetUpStart => "start of the set-up".to_owned(),
        Moment::SetUpEnd => "end of the set-up".to_owned(),
        Moment::EncoreStart => "start of the encore".to_owned(),
        Moment::EncoreEnd => "end of the encore".to_owned(),
        Moment::StrikeStart => "start of the strike".to_owned(),
        Moment::StrikeEnd => "end of the strike".to_owned(),
    }
}

/// What lands where at the end of a section, as in `ends on mark drum` or `its last 7 is caught on
/// bar 31`.
#[must_use]
pub fn lands(until: &Until) -> String {
    let what = match &until.lands {
        Lands::Next => "ends".to_owned(),
        Lands::Throw(name, number) => {
            format!("throw {} of {} comes", number.value, quoted(&name.value))
        }
        Lands::Catch(name, number) => {
            format!("throw {} of {} is caught", number.value, quoted(&name.value))
        }
        Lands::LastThrow(value) => format!("its last {} is thrown", Throw::digit(value.value)),
        Lands::LastCatch(value) => format!("its last {} is caught", Throw::digit(value.value)),
        Lands::Gather => "its last catch comes".to_owned(),
    };
    let on = if matches!(until.on, Moment::Shift(..)) { "" } else { "on " };
    format!("{what} {on}{}", moment(&until.on))
}

fn all(of: &[Moment]) -> String {
    all_of(&of.iter().map(moment).collect::<Vec<_>>())
}

/// Words for a moment, so much earlier or later.
#[must_use]
pub fn shifted(moment: &str, shift: &Seconds) -> String {
    match shift.partial_cmp(&Seconds::zero()) {
        Some(Ordering::Less) => format!("{} before {moment}", seconds_text(&shift.abs())),
        Some(Ordering::Greater) => format!("{} after {moment}", seconds_text(shift)),
        _ => moment.to_owned(),
    }
}

/// A count as an operator reads it: `5`, `2.5`, in seconds and without needless decimals.
#[must_use]
pub fn count(seconds: &Seconds) -> String {
    format!("{}", seconds.to_f64())
}

/// Which side is which: common practice, no source.
pub const PERFORMERS_SIDES: &str =
    "Right and left are the performer's, facing the house: stage right is the performer's right.";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Place, Placed};

    #[test]
    fn a_moment_and_its_shift_read_as_a_sentence_part() {
        let name = |name: &str| Placed { value: name.to_owned(), at: Place::default() };
        let number = Placed { value: 12, at: Place::default() };
        for (moment, shift, words) in [
            (Moment::TrackStart, -20_000, "20.0 s before track start"),
            (Moment::LastCatch(Some(name("ebb"))), 500, "0.5 s after last catch of \"ebb\""),
            (Moment::Catch(name("beam"), number), 0, "catch of throw 12 of \"beam\""),
            (Moment::Mark(name("dr\u{1b}um")), 0, "mark \"drum\""),
            (Moment::At(Seconds::fraction(-13, 2)), 0, "-0:06.5 on the show clock"),
        ] {
            let shift = Seconds::fraction(shift, 1000);
            assert_eq!(self::moment(&Moment::Shift(Box::new(moment), shift)), words);
        }
    }

    #[test]
    fn control_characters_are_dropped_and_nothing_else() {
        assert_eq!(plain("a\u{1b}[31mb\u{7f}\u{85}é \u{202f}✓"), "a[31mbé \u{202f}✓");
    }

    #[test]
    fn a_text_stays_on_one_line_and_turns_nothing_behind_it() {
        assert_eq!(plain("one\ntwo\tthree"), "one two three");
        assert_eq!(plain("a\u{202e}b"), "a\u{202e}b\u{202c}");
        assert_eq!(plain("a\u{2067}b\u{202a}c"), "a\u{2067}b\u{202a}c\u{202c}\u{2069}");
        assert_eq!(plain("a\u{2068}b\u{202d}c\u{2069}d"), "a\u{2068}b\u{202d}c\u{2069}d");
        assert_eq!(plain("a\u{2069}b\u{202c}c"), "abc", "what it did not open it does not close");
        assert_eq!(plain("שלום"), "שלום");
    }
}
