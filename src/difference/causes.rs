//! Which edit of a file moves what: from the old file to the new one, edit by edit.
//!
//! After each edit the act is opened again, and what has moved since the edit before is that edit's
//! doing; so the effects add up to the whole difference. Edits that only hold together, for the act
//! between them would have errors that neither file has, are one cause.

use crate::Opened;
use crate::diagnostic::words::counted;
use crate::read::Edits;

use super::Difference;

/// So many times is an act opened to find the causes; the edits that are left then are one cause.
const MOST_OPENED: usize = 60;
/// A routine file of more bytes is opened less often, so that all openings together take as long.
const OF_USUAL_SIZE: usize = 20_000;

/// So many edits of one cause are named.
const MOST_NAMED: usize = 3;

/// How often an act whose file has so many bytes is opened.
fn most_opened(bytes: usize) -> usize {
    (MOST_OPENED * OF_USUAL_SIZE / bytes.max(OF_USUAL_SIZE)).max(2)
}

/// Two files held against each other, with the edits that make one into the other.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Comparison {
    /// What has moved.
    pub difference: Difference,
    /// The edits, each with what it moves; `None` where one of the files is not so written that its
    /// parts can be told apart.
    pub causes: Option<Vec<Cause>>,
    /// Whether nothing is different, comments and layout apart.
    pub is_same: bool,
}

/// An edit, or several that only hold together.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Cause {
    /// In words.
    pub edit: String,
    /// What it moves.
    pub moves: Difference,
}

/// A routine file: its text, and what came of it.
#[derive(Clone, Copy)]
pub struct Side<'a> {
    /// As it is written.
    pub text: &'a str,
    /// As it was opened.
    pub opened: &'a Opened,
}

impl Comparison {
    /// Between two files; `open` opens the text of those in between.
    #[must_use]
    pub fn between(old: Side<'_>, new: Side<'_>, open: impl Fn(&str) -> Opened) -> Comparison {
        let difference = Difference::between(old.opened, new.opened);
        let causes = Edits::between(old.text, new.text).map(|edits| causes(old, new, edits, open));
        let unedited = causes.as_ref().map_or(old.text == new.text, Vec::is_empty);
        let is_same = unedited && difference.is_empty();
        Comparison { difference, causes, is_same }
    }
}

fn causes(
    old: Side<'_>,
    new: Side<'_>,
    mut edits: Edits,
    open: impl Fn(&str) -> Opened,
) -> Vec<Cause> {
    let errors = old.opened.errors().max(new.opened.errors());
    let mut causes = Vec::new();
    let mut before = old.opened.clone();
    let mut waiting: Vec<String> = Vec::new();
    let mut opened = 0;
    while let Some((words, text)) = edits.next() {
        waiting.push(words);
        let is_last = edits.left() == 0;
        if !is_last && opened >= most_opened(text.len()) {
            continue;
        }
        let after = match is_last {
            true => new.opened.clone(),
            false => {
                opened += 1;
                open(&text)
            }
        };
        let holds = is_last || (after.act.is_some() && after.errors() <= errors);
        if holds {
            let moves = Difference::between(&before, &after);
            causes.push(Cause { edit: together(std::mem::take(&mut waiting)), moves });
            before = after;
        }
    }
    causes
}

/// Edits as one.
fn together(mut edits: Vec<String>) -> String {
    let more = edits.len().saturating_sub(MOST_NAMED);
    if more > 0 {
        edits.truncate(MOST_NAMED);
        edits.push(counted(more, "more edit"));
    }
    edits.join("; ")
}
