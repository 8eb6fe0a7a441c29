//! Where a track is held: `"arms down": Hold(at: Mark("stop"), lasts: Between(…), resumes: See(…))`.
//!
//! Each hold gives the Sound crew two cues, so that they stand on every sheet: the one that holds
//! the track, and the one that resumes it.

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Crew, Cue, CueNumber, Does, Hold, Moment, Trigger};
use crate::time::{Seconds, clock};

use super::between::open_length;
use super::cue::trigger;
use super::moment::shift;
use super::number::{cue_number, length_of_time};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::text;

/// The most holds of a track.
const MOST_HOLDS: usize = 100;

/// What is known of a track when its holds are read.
pub(super) struct OfTrack<'t> {
    /// Its name, if it has one.
    pub(super) name: Option<&'t Placed<String>>,
    /// Its length, if that could be read.
    pub(super) length: Option<&'t Seconds>,
    /// Its marks, by name, on its own clock.
    pub(super) marks: &'t [(Placed<String>, Placed<Seconds>)],
}

/// A hold, and how the operator takes it.
struct Taken {
    hold: Hold,
    stops: Placed<Trigger>,
    resumes: Placed<Trigger>,
    numbers: Option<(Placed<CueNumber>, Placed<CueNumber>)>,
}

/// The holds of a track in order of time, with their cues.
pub(super) fn holds<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    track: &OfTrack<'_>,
) -> (Vec<Hold>, Vec<Cue>) {
    let entries = reader.entries(raw);
    if entries.len() > MOST_HOLDS {
        let message = format!("A track has at most {MOST_HOLDS} holds.");
        reader.error("out-of-range", raw.place(), message);
        return (Vec::new(), Vec::new());
    }
    let mut holds = Vec::new();
    for (key, value) in entries {
        let name = text(reader, key);
        if let Some(name) = &name {
            reader.names.tracks().give_hold(track.name, name);
        }
        match hold(reader, name, value, track) {
            Some(taken) => holds.push(taken),
            None => {
                reader.consequence("times-contradict", 0);
                reader.consequence("moment-never-comes", 0);
            }
        }
    }
    holds.sort_by(|a, b| a.hold.from.value.to_f64().total_cmp(&b.hold.from.value.to_f64()));
    for pair in holds.windows(2) {
        let [first, second] = pair else { continue };
        if first.hold.from.value == second.hold.from.value {
            let message = format!(
                "The holds \"{}\" and \"{}\" both begin {} into the track, where it stands still \
                 already.",
                first.hold.name.value,
                second.hold.name.value,
                clock(&first.hold.from.value)
            );
            let fault = Diagnostic::error("holds-overlap", second.hold.from.at.clone(), message)
                .label("the same point of the track")
                .note_at(first.hold.from.at.clone(), "The other one begins here.")
                .help("Make one hold of the two, or move one of them.");
            reader.report(fault);
        }
    }
    let cues = holds.iter().flat_map(|taken| cues(taken, track)).collect();
    (holds.into_iter().map(|taken| taken.hold).collect(), cues)
}

fn hold<'a>(
    reader: &mut Reader,
    name: Option<Placed<String>>,
    raw: Raw<'a>,
    track: &OfTrack<'_>,
) -> Option<Taken> {
    let before = reader.errors();
    let mut record = Record::open(reader, raw, "Hold")?;
    let from = record.need(reader, "at", |reader, raw| point(reader, raw, track));
    let lasts = record.need(reader, "lasts", open_length);
    let resumes = record.need(reader, "resumes", |reader, raw| by_sense(reader, raw));
    let stops = record.may(reader, "stops", |reader, raw| by_sense(reader, raw));
    let numbers = record.may(reader, "numbers", |reader, raw| {
        let written = raw.items().filter(|items| items.len() == 2);
        let Some(&[stop, resume]) = written.as_deref() else {
            return reader.shape(raw, "the numbers of its two Sound cues, such as [10, 15],");
        };
        let numbers = (cue_number(reader, stop), cue_number(reader, resume));
        numbers.0.zip(numbers.1)
    });
    if let Some((stop, resume)) = &numbers {
        reader.names.give_cue(Crew::Sound, stop.value);
        reader.names.give_cue(Crew::Sound, resume.value);
    }
    record.close(reader);
    if reader.errors() > before {
        return None;
    }
    let Point { at: from, mark } = from?;
    // Who is told nothing else goes by the counter.
    let counter = || Trigger::Counter { reads: from.value.clone(), mark };
    let stops = stops.unwrap_or_else(|| Placed { value: counter(), at: from.at.clone() });
    let hold = Hold { at: raw.place(), name: name?, from, lasts: lasts?.value };
    Some(Taken { hold, stops, resumes: resumes?, numbers })
}

/// A point of a track.
struct Point {
    /// On the clock of the track.
    at: Placed<Seconds>,
    /// The mark that is written there, and seconds after it.
    mark: Option<(String, Seconds)>,
}

/// A point of the track within its length.
fn point<'a>(reader: &mut Reader, raw: Raw<'a>, track: &OfTrack<'_>) -> Option<Point> {
    let (time, mark) = on_track(reader, raw, track)?;
    let time = raw.placed(time);
    if time.value.is_negative() {
        let message = "The track has not begun by then: there is nothing to hold.";
        let fault = Diagnostic::error("out-of-range", raw.place(), message)
            .label("before the track begins")
            .help("Hold it at a later point.");
        reader.report(fault);
        return None;
    }
    if track.length.is_some_and(|length| time.value >= *length) {
        let message = "The track is over by then: there is nothing to hold.";
        let fault = Diagnostic::error("out-of-range", raw.place(), message)
            .label("not before the end of the track")
            .help("Hold it at an earlier point, or correct the `length` of the track.");
        reader.report(fault);
        return None;
    }
    Some(Point { at: time, mark })
}

/// A mark of the track, a time on its own clock, or a shift from one of them; with the mark, if it is
/// from one.
fn on_track<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    track: &OfTrack<'_>,
) -> Option<(Seconds, Option<(String, Seconds)>)> {
    const FORMS: [Form; 2] = [("Mark", "Mark(\"stop\")"), ("Shift", "Shift(Mark(\"stop\"), 0.5)")];
    let Some((word, rest)) = raw.word() else {
        return Some((length_of_time(reader, raw)?.value, None));
    };
    match word.value {
        "Mark" => {
            let name = reader.argument(&word, rest, FORMS[0].1)?;
            let name = text(reader, name)?;
            reader.names.tracks().refer_own_mark(track.name, &name);
            let mark = track.marks.iter().find(|(mark, _)| mark.value == name.value);
            let (_, time) = mark?;
            Some((time.value.clone(), Some((name.value, Seconds::zero()))))
        }
        "Shift" => {
            let arguments = reader.arguments(&word, rest, 2..=2, FORMS[1].1)?;
            let &[from, by] = &arguments[..] else { return None };
            let (from, by) = (on_track(reader, from, track), shift(reader, by));
            let ((from, mark), by) = (from?, by?);
            let mark = mark.map(|(mark, after)| (mark, &after + &by));
            Some((&from + &by, mark))
        }
        _ => {
            reader.unknown_word("point of a track", &word, &FORMS);
            None
        }
    }
}

/// How the operator knows: by eye or by ear.
fn by_sense<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Trigger>> {
    let trigger = trigger(reader, raw, None)?;
    if matches!(&trigger.value, Trigger::See(Some(_)) | Trigger::Hear(_)) {
        return Some(trigger);
    }
    let message = "A hold is taken on something seen or heard: nobody knows its time.";
    let fault = Diagnostic::error("wrong-shape", raw.place(), message)
        .label("neither seen nor heard")
        .help("Write what the operator sees or hears, such as See(\"arms down\").");
    reader.report(fault);
    None
}

/// The two cues of a hold.
fn cues(taken: &Taken, track: &OfTrack<'_>) -> [Cue; 2] {
    let Taken { hold, stops, resumes, numbers } = taken;
    let of_track = |moment: Moment| match track.name {
        Some(name) => Moment::OfTrack(name.clone(), Box::new(moment)),
        None => moment,
    };
    let name = track.name.map(|name| name.value.clone());
    let (first, second) = numbers.clone().unzip();
    let (stop, resume) = (Moment::HoldStart(hold.name.clone()), Moment::HoldEnd(hold.name.clone()));
    [
        cue(&hold.at, of_track(stop), stops, Does::HoldTrack(name.clone()), first),
        cue(&hold.at, of_track(resume), resumes, Does::ResumeTrack(name), second),
    ]
}

fn cue(
    at: &Place,
    moment: Moment,
    trigger: &Placed<Trigger>,
    does: Does,
    number: Option<Placed<CueNumber>>,
) -> Cue {
    let crew = Placed { value: Crew::Sound, at: at.clone() };
    let does = Placed { value: does, at: at.clone() };
    let moment = Placed { value: moment, at: at.clone() };
    Cue { number, when: Some(moment), ..Cue::new(at.clone(), crew, trigger.clone(), does) }
}
