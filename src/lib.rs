//! Routine composer and performance timing sheet for jugglers and their technicians.
//!
//! One pipeline, one folder each:
//!
//! 1. [`read`] takes the text of a routine file into a [`routine::Routine`], every value with its
//!    place, and says everything that is wrong with it.
//! 2. [`lineup`] makes the choices that the routine leaves open, so that the colours are as asked.
//! 3. [`timeline::compile`] lays the routine out as a [`timeline::Timeline`] of labelled throws.
//! 4. [`act`] keeps routine, timeline and calls together: the [`act::Act`] that all that follows
//!    reads.
//! 5. [`measure`] takes from the act what sheets and checks ask of it: counts, heights, limits.
//! 6. [`check`] says what a juggler or a technician must know before the sheets are used.
//! 7. [`difference`] says what has moved between two acts; [`offer`] tries on the file what a message
//!    offers, and tells by the difference what it does.
//! 8. [`sheet`] composes the sheets, in no format; [`strip`](mod@strip) lays out and draws the strip.
//! 9. [`issue`] holds the cues of a sheet against those that were handed out before.
//! 10. [`export`] translates the sheets: text, JSON, CSV, and pages, which [`paper`] lays out and
//!     writes as HTML and PDF.
//!
//! Below it stand the [`notation`], the mathematics of [`patterns`] and of [`transition`]s, which
//! know nothing of routines, [`time`], the [`appearance`] of colours, [`sound`], which listens to
//! music files, and the [`diagnostic`]s that every stage speaks through.
//! What each code of a message means is in [`explain`](mod@explain).
//! The library never prints, reads the clock or exits: that is the program's side.
//!
//! # From another program
//!
//! Open the text of a routine file, take the act, compose a sheet and write it as text:
//!
//! ```
//! let text = r##"Routine(
//!     title: "Quay",
//!     tempo: PerMinute(200),
//!     colours: { "coral": "#ec6a5c" },
//!     sets: { "one": Set(kind: Ball, length: 0.07, colours: ["coral", "coral", "coral"]) },
//!     score: [Juggle(name: "tide", set: "one", pattern: "3", lasts: Beats(20))],
//! )"##;
//! let opened = throwbook::open(text); // reads, lines up, compiles and checks
//! for fault in &opened.diagnostics {
//!     eprintln!("{fault}"); // each has a code, a place in the text and a way out
//! }
//! let act = opened.finished().ok_or("the routine has errors")?; // None: it is a draft
//! let sheet = throwbook::sheet::timing::compose(act); // plain contents, exact times
//! let page = throwbook::export::timing_text::of_sheet(&sheet, 80); // 80 columns
//! assert!(page.starts_with("Quay · timing sheet · issue 1"));
//! # Ok::<(), &str>(())
//! ```

pub mod act;
pub mod appearance;
pub mod check;
pub mod diagnostic;
pub mod difference;
pub mod explain;
pub mod export;
pub mod hand;
pub mod issue;
pub mod lineup;
pub mod measure;
pub mod notation;
pub mod offer;
pub mod paper;
pub mod patterns;
pub mod read;
pub mod routine;
pub mod sheet;
pub mod sound;
pub mod strip;
pub mod time;
pub mod timeline;
pub mod transition;

use act::Act;
use diagnostic::{Diagnostic, Severity};
use lineup::Colours;
use routine::Routine;
use sound::Tracks;

/// A routine file, as far as it could be taken.
#[derive(Clone, Debug, Default)]
#[non_exhaustive]
pub struct Opened {
    /// The act; `None` where the text gives no routine. Where anything is an error it is a draft
    /// ([`Act::errors`]): after what could not be compiled it goes on as if that were mended.
    pub act: Option<Act>,
    /// What the line-up chose, and which colour requests are met.
    pub colours: Option<Colours>,
    /// Every error and warning, by place in the file.
    pub diagnostics: Vec<Diagnostic>,
    /// What is wrong with the record of what was handed out, by place in that record.
    pub in_record: Vec<Diagnostic>,
}

impl Opened {
    /// The act, where nothing is an error.
    #[must_use]
    pub fn finished(&self) -> Option<&Act> {
        self.act.as_ref().filter(|act| act.errors == 0)
    }

    /// The same with faults of the file, where its bytes are no text.
    #[must_use]
    pub fn with_faults(mut self, faults: Vec<Diagnostic>) -> Opened {
        self.diagnostics.extend(faults);
        self
    }

    /// The same with faults of the record, where its bytes are no text.
    #[must_use]
    pub fn with_record_faults(mut self, faults: Vec<Diagnostic>) -> Opened {
        self.in_record = faults;
        let errors = self.errors();
        self.act.iter_mut().for_each(|act| act.set_errors(errors));
        self
    }

    /// Whether fire or blades may be in the dark: then nobody gets a cue sheet. Where an error
    /// leaves times unknown, nobody knows that they are not.
    #[must_use]
    pub fn is_unsafe(&self) -> bool {
        let in_dark = |one: &Diagnostic| {
            one.severity == Severity::Error && check::STOPS_CUE_SHEET.contains(&one.code)
        };
        let mut acts = self.act.iter().flat_map(Act::with_encore);
        self.diagnostics.iter().any(in_dark) || acts.any(Act::hides_danger)
    }

    /// How many errors there are.
    #[must_use]
    pub fn errors(&self) -> usize {
        let all = self.diagnostics.iter().chain(&self.in_record);
        all.filter(|one| one.severity == Severity::Error).count()
    }
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
    open_by(text, record, look, timeline::compile, Told::Whole)
}

/// The same for a sheet that is not about colours: it is told which colour requests are not met,
/// and not what stands in their way or what would help, which takes longer.
#[must_use]
pub fn open_for_sheet(
    text: &str,
    record: Option<&str>,
    look: impl FnOnce(&Routine) -> Tracks,
) -> Opened {
    open_by(text, record, look, timeline::compile, Told::Briefly)
}

/// As [`open_for_sheet`], compiled to see what fits: a section that lands on none of its beats is no
/// error, and the timeline has the fixed ends.
#[must_use]
pub fn open_to_fit(text: &str, record: Option<&str>) -> Opened {
    open_by(text, record, |_| Tracks::new(), timeline::compile_to_fit, Told::Briefly)
}

/// As [`open_for_sheet`], without trying what its messages offer: to hold acts against each other.
#[must_use]
pub fn open_to_compare(
    text: &str,
    record: Option<&str>,
    look: impl FnOnce(&Routine) -> Tracks,
) -> Opened {
    open_once(text, record, look, timeline::compile, (Told::Briefly, None)).0
}

/// How much is told of colour requests that are not met.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Told {
    /// What stands in their way, and what would help.
    Whole,
    /// That they are not.
    Briefly,
}

fn open_by(
    text: &str,
    record: Option<&str>,
    look: impl FnOnce(&Routine) -> Tracks,
    compile: impl Fn(&Routine) -> timeline::Compiled,
    told: Told,
) -> Opened {
    let (opened, written) = open_once(text, record, look, &compile, (told, None));
    let heard = opened.act.as_ref().map(|act| act.heard.clone()).unwrap_or_default();
    let choices = opened.colours.as_ref().map(Colours::choices_of_all);
    offer::tried(opened, written.as_ref(), text, told == Told::Whole, |changed, line_up_stays| {
        let known = choices.as_deref().filter(|_| line_up_stays);
        open_once(changed, record, |_| heard.clone(), &compile, (Told::Briefly, known)).0
    })
}

/// Opens a file and tries nothing of what its messages offer; with the routine as it is written.
/// `known` is what came of its line-up, where that is known: of the act, and of its encore.
fn open_once(
    text: &str,
    record: Option<&str>,
    look: impl FnOnce(&Routine) -> Tracks,
    compile: impl Fn(&Routine) -> timeline::Compiled,
    (told, known): (Told, Option<&[lineup::Outcome]>),
) -> (Opened, Option<Routine>) {
    let mut reading = read::read(text);
    let mut opened = Opened::default();
    if let (Some(routine), Some(record)) = (&mut reading.routine, record)
        && !routine.title.value.is_empty()
    {
        match read::issued(record, &routine.title.value) {
            Ok(issued) => routine.issued = Some(issued),
            Err(faults) => opened.in_record = faults,
        }
    }
    if let Some(written) = &reading.routine {
        let lineup::LineUp { routine, choices } = lineup::line_up_knowing(written, known);
        let heard = look(&routine);
        let compiled = compile(&routine);
        let mut act = Act::new(routine, compiled, heard);
        let read = reading.has_all_sections();
        let seen = Colours::of(written, choices, &act, read, told == Told::Whole);
        let mut found = check::check(&act, &seen);
        found.retain(|diagnostic| !reading.explains(diagnostic));
        opened.diagnostics = std::mem::take(&mut reading.diagnostics);
        opened.diagnostics.append(&mut found);
        let has_record = act.routine.issued.is_some() || record.is_some();
        act.set_unissued(if has_record { None } else { Some(false) });
        if opened.errors() == 0 {
            let found = issue::check(&act.routine, || sheet::cues::papers(&act));
            let not_raised = found.iter().any(|one| one.code == issue::NOT_RAISED.code);
            opened.diagnostics.extend(found);
            act.set_unissued(Some(not_raised));
        }
        diagnostic::sort(&mut opened.diagnostics);
        check::say_that_colours_wait(&act, &seen, &mut opened.diagnostics);
        act.set_errors(opened.errors());
        opened.act = Some(act);
        opened.colours = Some(seen);
    } else {
        opened.diagnostics = std::mem::take(&mut reading.diagnostics);
        diagnostic::sort(&mut opened.diagnostics);
    }
    (opened, reading.routine)
}
