//! One change tried: the file with it is opened and held against the file without.

use crate::Opened;
use crate::act::Act;
use crate::check::{CHECKS, Finds};
use crate::diagnostic::words::all_of;
use crate::diagnostic::{Edit, Place, Severity, changed};
use crate::difference::{About, ActDifference, CueChange, CueDifference, Difference, Fault, Later};
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
    /// Whether nothing else is different after it, as far as everything is known: no time, hand,
    /// colour, height, limit or other cue.
    pub(super) fn is_safe(&self) -> bool {
        let moves = |act: &ActDifference| {
            let sections = || act.sections.iter();
            let cue_text = |cue: &CueDifference| {
                matches!(cue.what, CueChange::Changed(Some(_))) && !cue.moves()
            };

            sections().any(|one| one.is_changed() || one.is_unsure())
                || act.ends.is_none()
                || act.lasts.as_ref().is_none_or(Later::is_moved)
                || !act.added.is_empty()
                || !act.gone.is_empty()
                || !act.limits.is_empty()
                || !act.cues.iter().all(cue_text)
        };
        let difference = &self.difference;
        difference.act.is_some()
            && difference.encore_only_in.is_none()
            && !difference.acts().any(moves)
            && !self.brings_a_fault()
    }

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
