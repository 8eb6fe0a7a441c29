//! The entries of the score as rows of the cue sheet, between the cues: whoever has lost the place
//! finds it again by what is on stage.

use crate::act::Act;
use crate::diagnostic::words::counted_as;
use crate::measure::moves::of_section;
use crate::notation::{Sequence, spoken};
use crate::routine::{Part, Section};
use crate::timeline::{Joining, SectionSpan};

use super::seen;
use super::stamp::{Stamp, StampClocks};
use super::words::{plain, quoted};

/// An entry of the score.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionRow {
    /// Its name.
    pub name: String,
    /// When it starts.
    pub starts: Stamp,
    /// What is juggled; `None` for a pause, and where it could not be read.
    pub juggled: Option<SeenProps>,
    /// What a stranger sees change where it starts, as in `throws go higher`; `None` for nothing.
    pub looks: Option<String>,
    /// Where on stage, as its user wrote it.
    pub place: Option<String>,
    /// Whether it could be read.
    pub is_read: bool,
    /// Whether the props do not come as it needs them: from here on the sheet goes on as if the hands
    /// had been put right.
    pub is_torn: bool,
}

/// What stands at a section to which the props do not come as it needs them.
const TORN: &str = "TORN, it does not join; from here on as if the hands had been put right";

/// The props that a stranger can count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeenProps {
    /// How many.
    pub props: u32,
    /// What they are, as in `clubs`; `None` where an error leaves that unknown.
    pub kind: Option<String>,
    /// How many of what, as in `3 clubs`.
    pub words: String,
    /// The pattern as written.
    pub pattern: String,
}

impl SectionRow {
    /// What it is and looks like, as in `"beam": 3 balls, pattern 531; throws go higher; centre`.
    #[must_use]
    pub fn words(&self) -> String {
        self.told(in_short)
    }

    /// The same as it is said aloud, the throws in words.
    #[must_use]
    pub fn spoken(&self) -> String {
        self.told(|pattern| match Sequence::read(pattern) {
            Ok((sequence, _)) => spoken::sequence(&sequence),
            Err(_) => in_short(pattern),
        })
    }

    fn told(&self, pattern: impl Fn(&str) -> String) -> String {
        let juggled = self.juggled.as_ref();
        let props =
            juggled.map(|seen| format!("{}, pattern {}", seen.words, pattern(&seen.pattern)));
        let unread = (!self.is_read).then(|| "could not be read".to_owned());
        let torn = self.is_torn.then(|| TORN.to_owned());
        let parts = [torn, props, unread, self.looks.clone(), self.place.clone()];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        match parts.is_empty() {
            true => quoted(&self.name),
            false => format!("{}: {}", quoted(&self.name), parts.join("; ")),
        }
    }
}

impl SectionRow {
    /// Its name and what is juggled, as in `"beam" 531`.
    #[must_use]
    pub fn short_words(&self) -> String {
        let pattern = self.juggled.as_ref().map(|seen| format!(" {}", in_short(&seen.pattern)));
        let torn = if self.is_torn { " TORN" } else { "" };
        quoted(&self.name) + &pattern.unwrap_or_default() + torn
    }
}

/// The beginning of a pattern: nobody in a booth reads more of it.
fn in_short(pattern: &str) -> String {
    const LONGEST: usize = 60;
    match pattern.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", pattern.get(..end).unwrap_or(pattern)),
        None => pattern.to_owned(),
    }
}

/// The entries of an act's score, or of its encore's, in order.
#[must_use]
pub fn section_rows(act: &Act) -> Vec<SectionRow> {
    let clocks = StampClocks::of(act);
    let row = |(index, entry, span): (usize, &Section, &SectionSpan)| {
        let place = match &entry.part {
            Part::Juggle(juggle) => juggle.place.as_deref(),
            Part::Pause(pause) => pause.place.as_deref(),
            Part::Unread(_) => None,
        };
        let juggled = of_section(act, index).map(|one| {
            let (single, many) =
                one.kind.as_ref().map_or(("prop", "props"), |kind| (kind.one(), kind.word()));
            SeenProps {
                props: one.props,
                words: plain(&counted_as(one.props, single, many)),
                kind: one.kind.as_ref().map(|kind| plain(kind.word())),
                pattern: plain(&one.pattern),
            }
        });
        SectionRow {
            name: plain(&entry.name.value),
            starts: clocks.stamp(&span.starts),
            juggled,
            looks: seen::look_of(act, index),
            place: place.map(plain),
            is_read: entry.unread().is_none(),
            is_torn: span.juggle.as_ref().is_some_and(|juggle| juggle.joining == Joining::Torn),
        }
    };
    act.sections().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_that_does_not_join_says_so() {
        let text = "Routine(title: \"T\", tempo: PerMinute(200), colours: { \"a\": \"red\" }, sets: \
                    { \"b\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) }, score: \
                    [Juggle(name: \"tide\", set: \"b\", pattern: \"3\", lasts: Beats(6)), \
                    Juggle(name: \"wheel\", pattern: \"51\", lasts: Cycles(6))])";
        let rows = section_rows(crate::open(text).act.as_ref().unwrap());
        let torn: Vec<bool> = rows.iter().map(|row| row.words().contains("TORN")).collect();
        assert_eq!(torn, [false, true], "{rows:?}");
        assert!(rows[1].short_words().ends_with(" TORN") && rows[1].spoken().contains("TORN"));
    }

    #[test]
    fn a_long_pattern_is_told_by_its_beginning() {
        assert_eq!(in_short("531"), "531");
        assert_eq!(in_short(&"3".repeat(60)), "3".repeat(60));
        assert_eq!(in_short(&"3".repeat(61)), format!("{}…", "3".repeat(60)));
    }
}
