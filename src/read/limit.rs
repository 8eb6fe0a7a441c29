//! Limits.

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{AddsUp, Limit, OnTheLine, StartEvent, TimeSignal};
use crate::time::Seconds;

use super::moment::moment;
use super::number::{Between, LONGEST_S, length_of_time, seconds, whole};
use super::penalty::penalty;
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::{sentences, text};

const ON_THE_LINE: [(&str, OnTheLine); 2] =
    [("Inside", OnTheLine::Inside), ("Outside", OnTheLine::Outside)];
const ADDS_UP: [(&str, AddsUp); 3] = [
    ("Everything", AddsUp::Everything),
    ("Juggling", AddsUp::Juggling),
    ("SetUpAndStrike", AddsUp::SetUpAndStrike),
];
const START_EVENTS: [(&str, StartEvent); 2] =
    [("TrackStart", StartEvent::TrackStart), ("FirstThrow", StartEvent::FirstThrow)];

/// One limit.
pub(super) fn limit<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Limit> {
    let before = reader.errors();
    let mut record = Record::open(reader, raw, "Limit")?;
    let rule = record.need(reader, "rule", text);
    let starts = record.need(reader, "starts", moment);
    let stops = record.need(reader, "stops", moment);
    let passes_over = record.may(reader, "passes_over", |reader, raw| {
        let event = |reader: &mut Reader, raw: Raw<'a>| {
            reader.choice(raw, "event that starts a contest's time", &START_EVENTS)
        };
        Some(reader.list(raw, event))
    });
    let (adds_up, encore) = counted(reader, &mut record);
    let at_least = record.may(reader, "at_least", length_of_time);
    let at_most = record.may(reader, "at_most", length_of_time);
    let moves = record.may(reader, "moves", at_least_moves);
    let time_signals = record.may(reader, "time_signals", |reader, raw| {
        Some(reader.short_list(raw, "`time_signals` of a limit", time_signal))
    });
    if let (true, Some(at)) = (adds_up != AddsUp::Everything, record.place_of("time_signals")) {
        let message = "The timekeeper's watch runs on where this limit counts nothing, so its \
                       signals would not be the limit's.";
        let fault = Diagnostic::error("misplaced-field", at, message).label("another clock");
        reader.report(fault.help("Write them beside a limit that adds up `Everything`."));
    }
    let bounded = ["at_least", "at_most"].iter().any(|edge| record.place_of(edge).is_some());
    if !bounded && record.place_of("moves").is_none() {
        let message = "This limit allows everything: it has no `at_least`, `at_most` or `moves`.";
        let fault = Diagnostic::error("missing-field", record.head(), message);
        reader.report(fault.label("`at_least` or `at_most` is missing"));
    }
    if let (Some(least), Some(most)) = (&at_least, &at_most)
        && least.value > most.value
    {
        let message = "Nothing is inside this limit: `at_least` is longer than `at_most`.";
        let fault = Diagnostic::error("limit-crossed", least.at.clone(), message)
            .label("longer than `at_most`")
            .note_at(most.at.clone(), "`at_most` is this.");
        reader.report(fault);
    }
    let margin = record.may(reader, "margin", |reader, raw| {
        seconds(reader, raw, Between::from("a margin", 0.0, LONGEST_S, " seconds"))
    });
    let grace = grace(reader, &mut record, "grace", "at_most");
    let grace_under = self::grace(reader, &mut record, "grace_under", "at_least");
    let side = |reader: &mut Reader, raw| reader.choice(raw, "side of the line", &ON_THE_LINE);
    let on_the_line = match bounded {
        true => record.need(reader, "on_the_line", side),
        // A rule for moves alone has no line.
        false => record.may(reader, "on_the_line", side).or(Some(OnTheLine::Inside)),
    };
    let is_some = |grace: &Seconds| *grace > Seconds::zero();
    let has_grace = is_some(&grace) || is_some(&grace_under);
    let penalty = record.may(reader, "penalty", |reader, raw| penalty(reader, raw, has_grace));
    if !bounded && record.place_of("moves").is_some() {
        for name in ["margin", "penalty"] {
            let Some(at) = record.place_of(name) else { continue };
            let message = format!(
                "`{name}` is about a length of time, and this limit has no `at_least` and no \
                 `at_most`."
            );
            let fault = Diagnostic::error("misplaced-field", at, message).label("no edge");
            reader.report(
                fault.help(format!(
                    "Leave `{name}` out; what too few moves cost can stand in `rule`."
                )),
            );
        }
    }
    record.close(reader);
    if reader.errors() > before {
        return None;
    }
    Some(Limit {
        at: raw.place(),
        rule: rule?.value,
        starts: starts?,
        stops: stops?,
        passes_over: passes_over.unwrap_or_default(),
        adds_up,
        encore,
        at_least,
        at_most,
        moves,
        time_signals: time_signals.unwrap_or_default(),
        margin: margin.map_or_else(Seconds::zero, |margin| margin.value),
        grace,
        grace_under,
        on_the_line: on_the_line?,
        penalty,
    })
}

/// A signal of the timekeeper: what is shown or called, and how long after the start.
fn time_signal<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<TimeSignal> {
    const EXAMPLE: &str = "(\"amber\", \"8:00\")";
    let Some(&[says, after]) = raw.arguments().as_deref() else {
        return reader.shape(raw, &format!("a signal and its time, {EXAMPLE},"));
    };
    let (says, after) = (sentences(reader, says), length_of_time(reader, after));
    Some(TimeSignal { says: says?.value, after: after?.value })
}

/// The least moves that a rule asks for.
fn at_least_moves<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<u32>> {
    const WHAT: &str = "number of moves";
    const FORMS: [Form; 1] = [("AtLeast", "AtLeast(20)")];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    if word.value != FORMS[0].0 {
        reader.unknown_word(WHAT, &word, &FORMS);
        return None;
    }
    let number = reader.argument(&word, rest, FORMS[0].1)?;
    whole(reader, number, Between::from("the number of moves", 1.0, 10_000.0, ""))
}

/// What is added up, and whether the encore is.
fn counted(reader: &mut Reader, record: &mut Record<'_>) -> (AddsUp, Option<Placed<bool>>) {
    let adds_up = record.may(reader, "adds_up", |reader, raw| {
        reader.choice(raw, "choice of what is added up", &ADDS_UP)
    });
    let encore = record
        .may(reader, "encore", |reader, raw| truth(reader, raw).map(|encore| raw.placed(encore)));
    if let (Some(AddsUp::SetUpAndStrike), Some(at)) = (adds_up, record.place_of("encore")) {
        let message = "The encore is no set-up and no strike, so this limit never counts it.";
        let fault = Diagnostic::error("misplaced-field", at, message);
        reader.report(fault.label("nothing to count").help("Leave `encore` out."));
    }
    (adds_up.unwrap_or(AddsUp::Everything), encore)
}

/// How far beyond an edge is forgiven; the edge must be there. That a limit allows everything is
/// told once.
fn grace(
    reader: &mut Reader,
    record: &mut Record<'_>,
    name: &'static str,
    edge: &'static str,
) -> Seconds {
    let grace = record.may(reader, name, |reader, raw| {
        seconds(reader, raw, Between::from("a grace", 0.0, LONGEST_S, " seconds"))
    });
    let allows = ["at_least", "at_most", "moves"].iter().find_map(|field| record.place_of(field));
    if let (Some(at), None, Some(_)) = (record.place_of(name), record.place_of(edge), allows) {
        let message = format!("`{name}` forgives what is beyond `{edge}`, which is not written.");
        let fault = Diagnostic::error("misplaced-field", at, message).label("forgives nothing");
        reader.report(fault.help(format!("Write `{edge}`, or leave `{name}` out.")));
    }
    grace.map_or_else(Seconds::zero, |grace| grace.value)
}

/// `true` or `false`.
pub(super) fn truth<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<bool> {
    raw.plain().or_else(|| reader.shape(raw, "`true` or `false`"))
}
