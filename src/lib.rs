//! Routine composer and performance timing sheet for jugglers and their technicians.
//!
//! One pipeline, one folder each:
//!
//! 1. [`read`] turns the text of a routine file into a [`routine::Routine`], every value with its
//!    place, and says everything that is wrong with it.
//! 2. [`lineup`] makes the choices that the routine leaves open, so that the colours asked for come
//!    about.
//! 3. [`timeline::compile`] turns the routine into a [`timeline::Timeline`] of labelled throws.
//! 4. [`measure`] takes from the timeline what sheets and checks ask of it: counts, heights,
//!    limits, the times of cues.
//! 5. [`check`] says what a juggler or a technician must know before the sheets are used.
//! 6. [`sheet`] composes the sheets, in no format; [`strip`](mod@strip) lays out and draws the strip.
//! 7. [`export`] translates the sheets: text, JSON, CSV, plain pages.
//! 5. [`issue`] holds the cues against those that were handed out before.
//! 6. [`sheet`] composes the sheets, in no format; [`strip`](mod@strip) lays out and draws the strip.
//! 7. [`export`] translates the sheets: text, JSON, CSV, plain pages.
//!
//! Below it stand the [`notation`], the mathematics of [`patterns`] and of [`transition`]s, which
//! know nothing of routines, [`time`], the [`appearance`] of colours, and the [`diagnostic`]s that every stage speaks through.
//! know nothing of routines, [`sound`], which listens to music files, [`time`], and the
//! [`diagnostic`]s that every stage speaks through.
//! The library never prints, reads the clock or exits: that is the program's side.

pub mod appearance;
pub mod check;
pub mod diagnostic;
pub mod export;
pub mod hand;
pub mod issue;
pub mod lineup;
pub mod measure;
pub mod notation;
pub mod patterns;
pub mod read;
pub mod routine;
pub mod sheet;
pub mod sound;
pub mod strip;
pub mod time;
pub mod timeline;
pub mod transition;

use diagnostic::{Diagnostic, Severity};
use lineup::Colours;
use routine::Routine;
use sound::Tracks;
use timeline::Timeline;

/// A routine file, as far as it could be taken.
#[derive(Clone, Debug, Default)]
pub struct Opened {
    /// The routine; `None` where its text gives none.
    pub routine: Option<Routine>,
    /// What the line-up chose, written out in the routine, and what of the colours comes about.
    pub colours: Option<Colours>,
    /// Its timeline; `None` where anything is an error, so that no sheet is ever made of it.
    pub timeline: Option<Timeline>,
    /// Every error and warning, by place in the file.
    pub diagnostics: Vec<Diagnostic>,
    /// What is wrong with the record of what was handed out, by place in that record.
    pub in_record: Vec<Diagnostic>,
    /// What was found of the music files that it names.
    pub tracks: Tracks,
}

/// Reads, compiles and checks the text of a routine file; its music is not listened to.
#[must_use]
pub fn open(text: &str) -> Opened {
    open_issued(text, None)
}

/// The same, with the record of what was handed out before, as [`issue::written`] writes it. A
/// record that cannot be read is an error: no sheet is made that would forget a number.
#[must_use]
pub fn open_issued(text: &str, record: Option<&str>) -> Opened {
    open_with(text, record, |_| Tracks::new())
}

/// The same, with what `look` finds of the music files that the routine names.
#[must_use]
pub fn open_with(
    text: &str,
    record: Option<&str>,
    look: impl FnOnce(&Routine) -> Tracks,
) -> Opened {
    open_by(text, record, look, timeline::compile)
}

/// As [`open`], compiled to see what fits: a section that lands on none of its beats is no error,
/// and the timeline has the fixed ends.
#[must_use]
pub fn open_to_fit(text: &str) -> Opened {
    open_by(text, None, |_| Tracks::new(), timeline::compile_to_fit)
}

fn open_by(
    text: &str,
    record: Option<&str>,
    look: impl FnOnce(&Routine) -> Tracks,
    compile: impl Fn(&Routine) -> timeline::Compiled,
) -> Opened {
    let mut reading = read::read(text);
    let mut in_record = Vec::new();
    if let (Some(routine), Some(record)) = (&mut reading.routine, record)
        && !routine.title.value.is_empty()
    {
        match read::issued(record, &routine.title.value) {
            Ok(issued) => routine.issued = Some(issued),
            Err(faults) => in_record = faults,
        }
    }
    let lined_up = reading.routine.as_ref().map(lineup::line_up);
    let (routine, choices) = lined_up.map(|lined_up| (lined_up.routine, lined_up.choices)).unzip();
    let compiled = routine.as_ref().map(compile);
    let tracks = routine.as_ref().map(look).unwrap_or_default();
    let mut found = Vec::new();
    let mut colours = None;
    if let (Some(written), Some(routine), Some(choices), Some(compiled)) =
        (&reading.routine, &routine, choices, &compiled)
    {
        let seen = Colours::of(written, choices, routine, compiled);
        found = check::check(routine, compiled, &seen, &tracks);
        found.retain(|diagnostic| !reading.explains(diagnostic));
        colours = Some(seen);
    }
    let read::Reading { mut diagnostics, .. } = reading;
    diagnostics.append(&mut found);
    let wrong = diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Error);
    let timeline = compiled.filter(|_| !wrong).map(|compiled| compiled.timeline);
    if let (Some(routine), Some(timeline)) = (&routine, &timeline) {
        diagnostics.extend(issue::check(routine, &sheet::cues::papers(routine, timeline)));
    }
    diagnostic::sort(&mut diagnostics);
    let timeline = timeline.filter(|_| in_record.is_empty());
    Opened { routine, colours, timeline, diagnostics, in_record, tracks }
}
