//! From the text of a routine file to a [`Routine`], and everything that is wrong with the text.
//!
//! ron reads the text once; from there every value is taken apart one level at a time with its
//! place kept (`raw`), a fault is noted and reading goes on (`reader`, `record`), so that one run
//! finds them all. One file for each part of a routine: `staging`, `bars`, `hold`, `colour`,
//! `score`, `juggle`, `seen`, `arms`, `pattern`, `moment`, `limit`, `penalty`, `crew`, `cue`, `venue`,
//! `encore`; the record of what was handed out is read by `issued`. What the names in a file say of
//! each other is asked last (`names`). What is written otherwise in two files is found by `edits`.
//! Places are bytes of the text as it came, a byte-order mark included.

mod arms;
mod bars;
mod between;
mod colour;
mod crew;
mod cue;
#[cfg(test)]
mod cut_by_ron;
mod edit;
mod edit_words;
mod edits;
mod encore;
mod hold;
mod issued;
mod juggle;
#[cfg(test)]
pub(crate) mod known;
mod lands;
mod limit;
mod lone_moment;
mod moment;
mod music_tempo;
mod names;
pub(crate) mod nearest;
mod number;
mod old_names;
mod pattern;
mod penalty;
mod raw;
mod reader;
mod record;
mod score;
mod seen;
mod staging;
mod syntax;
mod text;
mod token;
mod tracks;
mod tree;
mod venue;

pub use edits::Edits;
pub use issued::issued;

use num_rational::Ratio;
use ron::extensions::Extensions;

use crate::diagnostic::{Diagnostic, Place, Placed, Severity};
use crate::hand::Hand;
use crate::routine::{CrewDefaults, Cue, Hidden, Moment, Routine, Tempo};
use crate::transition::Bounds;

pub use lone_moment::read_moment;

use number::{Between, whole};
use raw::Raw;
use reader::Reader;
use record::Record;

/// The largest routine file that is read, in bytes.
pub const LARGEST_FILE: usize = 4 * 1024 * 1024;

/// The largest record of what was handed out that is read, in bytes: it grows with every issue.
pub const LARGEST_RECORD: usize = 4 * LARGEST_FILE;

/// The dwell ratio where none is written: two thirds (Kalvan 1997).
const DWELL: (i64, i64) = (2, 3);

/// What was read.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The routine, as far as it could be read; `None` when there is nothing to go on with.
    pub routine: Option<Routine>,
    /// Errors and warnings of the file's text, in the order of their places.
    pub diagnostics: Vec<Diagnostic>,
    /// What later stages would only find because something could not be read: a code, and the
    /// byte after which it is a mere consequence.
    consequences: Vec<(&'static str, usize)>,
}

impl Reading {
    /// Whether everything that is written of sections, sets and colours could be read, so that what
    /// is juggled is what its user means.
    #[must_use]
    pub fn has_all_sections(&self) -> bool {
        let Some(routine) = &self.routine else { return false };
        // What is wrong with a cue, a limit or a venue that could be read moves no prop.
        let encore = routine.encore.iter().map(|encore| &encore.routine);
        let routines: Vec<&Routine> = [routine].into_iter().chain(encore).collect();
        let holds = |at: &Place, one: &Diagnostic| (at.start..at.end).contains(&one.at.start);
        let elsewhere = |one: &Diagnostic| {
            routines.iter().any(|routine| {
                routine.cues.iter().any(|cue| holds(&cue.at, one))
                    || routine.limits.iter().any(|limit| holds(&limit.at, one))
                    || routine.venue.iter().any(|venue| holds(&venue.at, one))
            })
        };
        let errors = self.diagnostics.iter().filter(|one| one.severity == Severity::Error);
        errors.into_iter().all(elsewhere)
    }

    /// Whether a later finding only follows from what could not be read, and is not worth saying.
    #[must_use]
    pub fn explains(&self, found: &Diagnostic) -> bool {
        let from = |&(code, from): &(&str, usize)| code == found.code && found.at.start >= from;
        self.consequences.iter().any(from)
    }
}

/// Reads a routine file.
#[must_use]
pub fn read(text: &str) -> Reading {
    let mut reader = Reader::default();
    let routine = file(&mut reader, text);
    let unknown = reader.names.faults();
    for fault in &unknown {
        match fault.code {
            "unknown-set" => reader.consequence("no-set", fault.at.start),
            "unknown-section" | "unknown-mark" | "unknown-track" | "unknown-hold"
            | "which-track" => reader.consequence("times-contradict", 0),
            _ => {}
        }
    }
    let Reader { mut diagnostics, consequences, .. } = reader;
    diagnostics.extend(unknown);
    crate::diagnostic::sort(&mut diagnostics);
    Reading { routine, diagnostics, consequences }
}

fn file(reader: &mut Reader, text: &str) -> Option<Routine> {
    let root = root_of(reader, text, LARGEST_FILE)?;
    routine(reader, root)
}

/// The one value of a text; reports a text that is none.
fn root_of<'a>(reader: &mut Reader, text: &'a str, largest: usize) -> Option<Raw<'a>> {
    if text.len() > largest {
        let message = format!(
            "The file is larger than {} megabytes, more than is ever needed; it was not read.",
            largest / (1024 * 1024)
        );
        reader.error("too-large", Place { start: 0, end: 0 }, message);
        return None;
    }
    let mark = text.len() - text.trim_start_matches('\u{feff}').len();
    let body = text.get(mark..).unwrap_or_default();
    let root = match Raw::root(body) {
        Ok(root) => root,
        Err(error) => {
            let mut fault = syntax::fault(&error, body);
            fault.at = Place { start: fault.at.start + mark, end: fault.at.end + mark };
            reader.report(fault);
            return None;
        }
    };
    if root.extensions.contains(Extensions::UNWRAP_VARIANT_NEWTYPES) {
        let word = "unwrap_variant_newtypes";
        let start = text.find(word).unwrap_or(0);
        let at = Place { start, end: if start == 0 { 0 } else { start + word.len() } };
        let message = format!(
            "The extension `{word}` cannot be used here: it makes the brackets of a moment or a \
             length ambiguous."
        );
        let fault = Diagnostic::error("extension", at, message).label("not in a routine file");
        reader.report(fault.help("Leave the extension out."));
        return None;
    }
    Some(Raw { text: root.value.text, start: root.value.start + mark })
}

fn routine<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Routine> {
    let mut record = Record::open(reader, raw, "Routine")?;
    let title = record.need(reader, "title", text::text);
    let issue = record.may(reader, "issue", |reader, raw| {
        whole(reader, raw, Between::from("the issue", 1.0, 1_000_000.0, ""))
    });
    let lead = record.may(reader, "lead", juggle::hand);
    let tempo = record.may(reader, "tempo", |reader, raw| {
        let tempo = juggle::tempo(reader, raw)?;
        if let Tempo::Ramp { .. } = tempo.value {
            let message = "A ramp spans a section, so it stands in a section; the routine begins \
                           with a steady tempo.";
            reader.error("ramp-without-section", raw.place(), message);
            return None;
        }
        Some(tempo)
    });
    let dwell = record.may(reader, "dwell", number::ratio);
    let room = record.may(reader, "room", staging::room);
    let transitions = record.may(reader, "transitions", bounds);
    let colours = record.may(reader, "colours", colour::colours);
    let before = reader.errors();
    let sets = record.may(reader, "sets", staging::sets);
    let sets_hidden = reader.errors() > before;
    let backdrop = record.may(reader, "backdrop", |reader, raw| {
        colour::backdrop(reader, raw, colours.as_deref().unwrap_or_default())
    });
    let before_music = reader.errors();
    let music = tracks::music(reader, &mut record);
    // A hold may bring cues.
    let music_hidden = reader.errors() > before_music;
    let zero = record.may(reader, "zero", moment::moment);
    let score = record.need(reader, "score", score::score);
    let before_limits = reader.errors();
    let limits = record
        .may(reader, "limits", |reader, raw| Some(reader.short_list(raw, "limits", limit::limit)));
    let limits_hidden = reader.errors() > before_limits;
    let crews = record.may(reader, "crews", crew::crews).unwrap_or_default();
    let before_cues = reader.errors();
    let cues = record.may(reader, "cues", |reader, raw| cues(reader, raw, &crews));
    let cues_hidden = music_hidden || reader.errors() > before_cues;
    let set_up = record.may(reader, "set_up", number::length_of_time);
    let strike = record.may(reader, "strike", number::length_of_time);
    let venue = record.may(reader, "venue", venue::venue);
    let encore = record.may(reader, "encore", |reader, raw| encore::encore(reader, raw, &crews));
    let lost = |field, is_none: bool| is_none && record.place_of(field).is_some();
    if lost("tempo", tempo.is_none()) {
        reader.consequence("no-tempo", 0);
    }
    if music.is_lost {
        reader.consequence("tempo-without-bars", 0);
    }
    if lost("zero", zero.is_none()) || music.is_lost {
        reader.consequence("times-contradict", 0);
        reader.consequence("moment-never-comes", 0);
    }
    let hidden = Hidden {
        zero: lost("zero", zero.is_none()),
        lead: lost("lead", lead.is_none()),
        dwell: lost("dwell", dwell.is_none()),
        sets: sets_hidden,
        cues: cues_hidden,
        music: music_hidden,
        limits: limits_hidden,
        encore: false,
    };
    let has_encore = record.place_of("encore").is_some();
    let head = record.head();
    let has_music = record.place_of("music").is_some();
    let mut named = music.tracks.iter().map(|(name, _)| name.clone());
    let first_track = named.next();
    let has_several = named.next().is_some();
    record.close(reader);
    let placed = |value| Placed { value, at: head.clone() };
    // With several tracks nothing says which one begins the clock.
    let first = match first_track {
        Some(name) if !has_several => Moment::OfTrack(name, Box::new(Moment::TrackStart)),
        _ if has_music => Moment::TrackStart,
        _ => Moment::FirstThrow,
    };
    let issue = issue.unwrap_or_else(|| Placed { value: 1, at: head.clone() });
    let mut routine = Routine {
        title: title.unwrap_or_else(|| Placed { value: String::new(), at: head.clone() }),
        issue: issue.value,
        issue_at: issue.at,
        lead: lead.unwrap_or(Hand::Right),
        tempo,
        dwell: dwell.unwrap_or(Ratio::new(DWELL.0, DWELL.1)),
        room,
        transitions: transitions.unwrap_or_default(),
        colours: colours.unwrap_or_default(),
        sets: sets.unwrap_or_default(),
        backdrop,
        music: music.music,
        tracks: music.tracks,
        zero: zero.unwrap_or_else(|| placed(first)),
        score: score?,
        limits: limits.unwrap_or_default(),
        crews,
        cues: cues.unwrap_or_default().into_iter().chain(music.cues).collect(),
        set_up,
        strike,
        venue: venue.map(Box::new),
        encore: None,
        is_encore: false,
        issued: None,
        hidden,
    };
    routine.encore = encore.and_then(|encore| Some(Box::new(encore.of(&routine)?)));
    routine.hidden.encore = has_encore && routine.encore.is_none();
    Some(routine)
}

/// The cues of the act or of its encore.
fn cues<'a>(reader: &mut Reader, raw: Raw<'a>, crews: &[CrewDefaults]) -> Option<Vec<Cue>> {
    Some(reader.list(raw, |reader, raw| cue::cue(reader, raw, crews)))
}

/// Bounds of the transitions that are looked for.
fn bounds<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Bounds> {
    let usual = Bounds::default();
    let mut record = Record::open(reader, raw, "Within")?;
    let mut bound = |record: &mut Record<'a>, name, what, most| {
        record.may(reader, name, |reader, raw| {
            whole(reader, raw, Between::from(what, 1.0, most, "")).map(|bound| bound.value)
        })
    };
    let highest = bound(&mut record, "highest", "the highest throw of a transition", 35.0);
    let at_once = bound(&mut record, "at_once", "the props that one hand throws at once", 12.0);
    let beats = bound(&mut record, "beats", "the number of beats of a transition", 40.0);
    record.close(reader);
    let small =
        |bound: Option<u32>, usual| bound.and_then(|b| u8::try_from(b).ok()).unwrap_or(usual);
    Some(Bounds {
        highest: small(highest, usual.highest),
        at_once: small(at_once, usual.at_once),
        beats: beats.unwrap_or(usual.beats),
    })
}

#[cfg(test)]
mod tests;
