//! Routine composer and performance timing sheet for jugglers and their technicians.
//!
//! One pipeline, one folder each:
//!
//! 1. [`read`] turns the text of a routine file into a [`routine::Routine`], every value with its
//!    place, and says everything that is wrong with it.
//! 2. [`timeline::compile`] turns the routine into a [`timeline::Timeline`] of labelled throws.
//! 3. [`measure`] takes from the timeline what sheets and checks ask of it: counts, heights,
//!    limits, the times of cues.
//! 4. [`check`] says what a juggler or a technician must know before the sheets are used.
//! 5. [`sheet`] composes the sheets, in no format; [`strip`](mod@strip) lays out and draws the strip.
//! 6. [`export`] translates the sheets: text, JSON, CSV, plain pages.
//!
//! Below it stand the [`notation`], the mathematics of [`patterns`] and of [`transition`]s, which
//! know nothing of routines, [`sound`], which listens to music files, [`time`], and the
//! [`diagnostic`]s that every stage speaks through.
//! The library never prints, reads the clock or exits: that is the program's side.

pub mod check;
pub mod diagnostic;
pub mod export;
pub mod hand;
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
use routine::Routine;
use sound::Tracks;
use timeline::Timeline;

/// A routine file, as far as it could be taken.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The routine; `None` where its text gives none.
    pub routine: Option<Routine>,
    /// Its timeline; `None` where anything is an error, so that no sheet is ever made of it.
    pub timeline: Option<Timeline>,
    /// Every error and warning, by place in the file.
    pub diagnostics: Vec<Diagnostic>,
    /// What was found of the music files that it names.
    pub tracks: Tracks,
}

/// Reads, compiles and checks the text of a routine file; its music is not listened to.
#[must_use]
pub fn open(text: &str) -> Opened {
    open_with(text, |_| Tracks::new())
}

/// As [`open`], with what `look` finds of the music files that the routine names.
#[must_use]
pub fn open_with(text: &str, look: impl FnOnce(&Routine) -> Tracks) -> Opened {
    let reading = read::read(text);
    let compiled = reading.routine.as_ref().map(timeline::compile);
    let tracks = reading.routine.as_ref().map(look).unwrap_or_default();
    let mut found = Vec::new();
    if let (Some(routine), Some(compiled)) = (&reading.routine, &compiled) {
        found = check::check(routine, compiled, &tracks);
        found.retain(|diagnostic| !reading.explains(diagnostic));
    }
    let read::Reading { routine, mut diagnostics, .. } = reading;
    diagnostics.append(&mut found);
    diagnostic::sort(&mut diagnostics);
    let wrong = diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Error);
    let timeline = compiled.filter(|_| !wrong).map(|compiled| compiled.timeline);
    Opened { routine, timeline, diagnostics, tracks }
}
