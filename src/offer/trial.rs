//! One change tried: the file with it is opened and held against the file without.

use crate::Opened;
use crate::act::Act;
use crate::check::{CHECKS, Finds};
use crate::diagnostic::words::all_of;
use crate::diagnostic::{Edit, Place, Severity};
use crate::difference::{About, Difference, Fault};
use crate::issue::NOT_RAISED;
use crate::routine::Routine;

/// Where changes of a file are tried.
pub(super) struct Bench<'a> {
    /// The file as it is.
    pub(super) before: &'a Opened,
    text: &'a str,
    reopen: &'a dyn Fn(&str, bool) -> Opened,
    /// How many may still be tried.
    left: usize,
}

/// What came of a trial.
pub(super) enum Outcome {
    /// There were too many to try.
    NotTried,
    /// It does not mend its fault.
    Fails,
    /// It mends it.
    Mends(Box<Mends>),
}

/// A change that mends its fault.
pub(super) struct Mends {
    /// Between the file as it is and the file with the change.
    pub(super) difference: Difference,
    /// The codes of faults that it brings.
    brings: Vec<&'static str>,
    /// The codes of faults that may have been there unseen, for an error kept them from being
    /// looked for.
    uncovers: Vec<&'static str>,
}

impl<'a> Bench<'a> {
    pub(super) fn new(
        before: &'a Opened,
        text: &'a str,
        reopen: &'a dyn Fn(&str, bool) -> Opened,
        left: usize,
    ) -> Bench<'a> {
        Bench { before, text, reopen, left }
    }

    /// Tries a change that is to mend the diagnostic of that index.
    pub(super) fn trial(&mut self, diagnostic: usize, edits: &[Edit]) -> Outcome {
        if self.left == 0 {
            return Outcome::NotTried;
        }
        let Some(changed) = changed(self.text, edits) else { return Outcome::Fails };
        self.left -= 1;
        let after = (self.reopen)(&changed, self.keeps_line_up(edits));
        let difference = Difference::between(self.before, &after);
        let diagnostic = &self.before.diagnostics[diagnostic];
        let fault = Fault::of(self.before, diagnostic);
        if !difference.faults.gone.contains(&fault) {
            return Outcome::Fails;
        }
        let (mut brings, mut uncovers) = (Vec::new(), Vec::new());
        // That its sheet is another one than what was handed out is said of every change.
        let come = difference.faults.come.iter().filter(|come| come.code != NOT_RAISED.code);
        for come in come {
            let was_looked_for = self.was_looked_for(come);
            // What only warned is not mended by an error.
            if was_looked_for
                && come.severity == Severity::Error
                && diagnostic.severity == Severity::Warning
            {
                return Outcome::Fails;
            }
            let codes = if was_looked_for { &mut brings } else { &mut uncovers };
            if !codes.contains(&come.code) {
                codes.push(come.code);
            }
        }
        uncovers.retain(|code| !brings.contains(code));
        Outcome::Mends(Box::new(Mends { difference, brings, uncovers }))
    }

    /// Whether changes are to cues, limits and the looks of colours only, which the line-up does not
    /// read.
    fn keeps_line_up(&self, edits: &[Edit]) -> bool {
        let acts = || self.before.act.iter().flat_map(Act::with_encore);
        edits.iter().all(|edit| {
            let within = |at: &Place| at.start < edit.at.start && edit.at.end < at.end;
            let is = |at: &Place| at.start == edit.at.start && at.end == edit.at.end;
            acts().any(|act| {
                let Routine { colours, cues, limits, .. } = &act.routine;
                colours.iter().any(|colour| within(&colour.at) || is(&colour.at))
                    || cues.iter().any(|cue| within(&cue.at))
                    || limits.iter().any(|limit| within(&limit.at))
            })
        })
    }

    /// Whether a fault would have been found in the file as it is, if it were there.
    fn was_looked_for(&self, fault: &Fault) -> bool {
        let Some(act) = &self.before.act else { return false };
        if self.before.errors() == 0 {
            return true;
        }
        let mut sections = act.with_encore().flat_map(|act| &act.routine.score);
        let unread = match &fault.about {
            About::Section(name) => {
                sections.any(|section| section.name.value == *name && section.lasts().is_none())
            }
            About::Cue(..) | About::Limit(_) | About::File => false,
        };
        let judged = self.before.colours.as_ref().is_some_and(|one| one.verdict.judged);
        let Some((_, check)) = CHECKS.iter().find(|(_, check)| check.code == fault.code) else {
            return false;
        };
        !unread
            && match check.finds {
                Finds::Timed(_) => act.times_known,
                Finds::Compiled(_) => judged || !fault.code.starts_with("colour"),
                Finds::Elsewhere => false,
            }
    }
}

impl Mends {
    pub(super) fn brings_a_fault(&self) -> bool {
        !self.brings.is_empty() || !self.uncovers.is_empty()
    }

    /// Which faults it brings, as a sentence goes on; nothing where it brings none.
    pub(super) fn brings(&self) -> String {
        let listed = |verb: &str, codes: &[&str]| {
            let codes: Vec<String> = codes.iter().map(|code| format!("`{code}`")).collect();
            (!codes.is_empty()).then(|| format!("; it {verb} {}", all_of(&codes)))
        };
        let said = [listed("brings", &self.brings), listed("uncovers or brings", &self.uncovers)];
        said.into_iter().flatten().collect()
    }
}

/// A text with changes made; `None` where they do not fit it.
fn changed(text: &str, edits: &[Edit]) -> Option<String> {
    let mut edits: Vec<&Edit> = edits.iter().collect();
    edits.sort_by_key(|edit| (edit.at.start, edit.at.end));
    let mut changed = String::with_capacity(text.len());
    let mut done = 0;
    for edit in edits {
        changed.push_str(text.get(done..edit.at.start)?);
        changed.push_str(&edit.insert);
        done = edit.at.end.max(edit.at.start);
    }
    changed.push_str(text.get(done..)?);
    Some(changed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_are_made_in_the_order_of_their_places() {
        let edit = |start: usize, end: usize, insert: &str| Edit {
            at: (start..end).into(),
            insert: insert.to_owned(),
        };
        let text = "a: 1, é: 2";
        assert_eq!(changed(text, &[edit(9, 11, "3"), edit(0, 1, "b")]), Some("b: 1, é:3".into()));
        assert_eq!(changed(text, &[edit(4, 4, "x"), edit(4, 4, "y")]), Some("a: 1xy, é: 2".into()));
        assert_eq!(changed(text, &[edit(0, 3, ""), edit(2, 4, "")]), None, "they overlap");
        assert_eq!(changed(text, &[edit(7, 8, "")]), None, "within a character");
        assert_eq!(changed(text, &[edit(0, 99, "")]), None, "beyond the end");
    }
}
