//! Limits and their penalties.

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{Grade, Limit, OnTheLine, Penalty, StepsFrom};
use crate::time::Seconds;

use super::moment::moment;
use super::number::{Between, LONGEST_S, length_of_time, number, seconds};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::text;

const FROM: [(&str, StepsFrom); 2] = [("Limit", StepsFrom::Limit), ("Grace", StepsFrom::Grace)];
const ON_THE_LINE: [(&str, OnTheLine); 2] =
    [("Inside", OnTheLine::Inside), ("Outside", OnTheLine::Outside)];

/// One limit.
pub(super) fn limit<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Limit> {
    let before = reader.errors();
    let mut record = Record::open(reader, raw, "Limit")?;
    let rule = record.need(reader, "rule", text);
    let starts = record.need(reader, "starts", moment);
    let stops = record.need(reader, "stops", moment);
    let at_least = record.may(reader, "at_least", length_of_time);
    let at_most = record.may(reader, "at_most", length_of_time);
    let bounded = ["at_least", "at_most"].iter().any(|edge| record.place_of(edge).is_some());
    if !bounded {
        let message = "This limit allows everything: it has neither `at_least` nor `at_most`.";
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
    let grace = record.may(reader, "grace", |reader, raw| {
        seconds(reader, raw, Between::from("a grace", 0.0, LONGEST_S, " seconds"))
    });
    let on_the_line = record.need(reader, "on_the_line", |reader, raw| {
        reader.choice(raw, "side of the line", &ON_THE_LINE)
    });
    let has_grace = grace.as_ref().is_some_and(|grace| grace.value > Seconds::zero());
    let penalty = record.may(reader, "penalty", |reader, raw| penalty(reader, raw, has_grace));
    record.close(reader);
    if reader.errors() > before {
        return None;
    }
    let value = |seconds: Option<Placed<Seconds>>| {
        seconds.map_or_else(Seconds::zero, |seconds| seconds.value)
    };
    Some(Limit {
        at: raw.place(),
        rule: rule?.value,
        starts: starts?,
        stops: stops?,
        at_least,
        at_most,
        margin: value(margin),
        grace: value(grace),
        on_the_line: on_the_line?,
        penalty,
    })
}

fn penalty<'a>(reader: &mut Reader, raw: Raw<'a>, has_grace: bool) -> Option<Penalty> {
    const WHAT: &str = "penalty";
    const FORMS: [Form; 3] = [
        ("Steps", "Steps(every: 8.0, or_part: true, from: Limit, points: 1.0)"),
        ("Flat", "Flat(2.0)"),
        ("Graded", "Graded([(over: 5.0, points: 4.0)])"),
    ];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    match word.value {
        "Steps" => {
            let mut record = Record::after(reader, "Steps", word.at, rest)?;
            let every = record.need(reader, "every", |reader, raw| {
                seconds(reader, raw, Between::above("a step", 0.0, LONGEST_S, " seconds"))
            });
            let or_part = record.need(reader, "or_part", truth);
            let from = match record.take("from") {
                Some(raw) => reader.choice(raw, "start of the steps", &FROM),
                None if has_grace => {
                    let message = "Beside a grace, `Steps` must say where the first step starts.";
                    let fault = Diagnostic::error("missing-field", record.head(), message)
                        .label("`from` is missing")
                        .help("Write `from: Limit` or `from: Grace`, as the rule says.");
                    reader.report(fault);
                    None
                }
                None => Some(StepsFrom::Limit),
            };
            let points = record.need(reader, "points", points);
            record.close(reader);
            let (every, or_part, from) = (every?.value, or_part?, from?);
            Some(Penalty::Steps { every, or_part, from, points: points? })
        }
        "Flat" => {
            let flat = reader.argument(&word, rest, FORMS[1].1)?;
            points(reader, flat).map(Penalty::Flat)
        }
        "Graded" => {
            let rows = reader.argument(&word, rest, FORMS[2].1)?;
            graded(reader, rows)
        }
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            None
        }
    }
}

/// The rows of a graded penalty, each further beyond the limit than the one before it.
fn graded<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Penalty> {
    let rows = reader.list(raw, |reader, raw| {
        let mut record = Record::open(reader, raw, "Grade")?;
        let over = record.need(reader, "over", |reader, raw| {
            seconds(reader, raw, Between::from("how far over", 0.0, LONGEST_S, " seconds"))
        });
        let points = record.need(reader, "points", points);
        record.close(reader);
        Some((over?, points?))
    });
    for pair in rows.windows(2) {
        if let [(first, _), (second, _)] = pair
            && second.value <= first.value
        {
            let message = "The rows of a graded penalty go up: this one does not.";
            let fault = Diagnostic::error("grades-out-of-order", second.at.clone(), message)
                .label("not further over")
                .note_at(first.at.clone(), "The row before it begins here.");
            reader.report(fault);
        }
    }
    if raw.items().is_some_and(|rows| rows.is_empty()) {
        reader.error("empty-list", raw.place(), "A graded penalty has at least one row.");
    }
    let grade = |(over, points): (Placed<Seconds>, f64)| Grade { over: over.value, points };
    Some(Penalty::Graded(rows.into_iter().map(grade).collect()))
}

fn points<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<f64> {
    let bounds = Between::from("a penalty", 0.0, 1_000_000.0, " points");
    number(reader, raw, bounds).map(|points| points.value)
}

/// `true` or `false`.
pub(super) fn truth<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<bool> {
    raw.plain().or_else(|| reader.shape(raw, "`true` or `false`"))
}
