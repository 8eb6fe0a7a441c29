//! The entries of the score as rows of the cue sheet, between the cues: whoever has lost the place
//! finds it again by what is on stage.

use crate::act::Act;
use crate::diagnostic::words::counted_as;
use crate::measure::moves::of_section;
use crate::routine::{Part, Section};
use crate::timeline::SectionSpan;

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
}

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
        let juggled = self.juggled.as_ref();
        let props =
            juggled.map(|seen| format!("{}, pattern {}", seen.words, in_short(&seen.pattern)));
        let unread = (!self.is_read).then(|| "could not be read".to_owned());
        let parts = [props, unread, self.looks.clone(), self.place.clone()];
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
        quoted(&self.name) + &pattern.unwrap_or_default()
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
        }
    };
    act.sections().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_pattern_is_told_by_its_beginning() {
        assert_eq!(in_short("531"), "531");
        assert_eq!(in_short(&"3".repeat(60)), "3".repeat(60));
        assert_eq!(in_short(&"3".repeat(61)), format!("{}…", "3".repeat(60)));
    }
}
