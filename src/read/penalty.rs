//! What it costs to break a limit.

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Grade, Penalty, Price, StepsFrom};
use crate::time::Seconds;

use super::limit::truth;
use super::number::{Between, LONGEST_S, number, seconds};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::text;

const FROM: [(&str, StepsFrom); 2] = [("Limit", StepsFrom::Limit), ("Grace", StepsFrom::Grace)];

/// A penalty; `has_grace` where the limit forgives something.
pub(super) fn penalty<'a>(reader: &mut Reader, raw: Raw<'a>, has_grace: bool) -> Option<Penalty> {
    const WHAT: &str = "penalty";
    const FORMS: [Form; 4] = [
        ("Steps", "Steps(every: 8.0, or_part: true, from: Limit, points: 1.0)"),
        ("Flat", "Flat(points: 2.0)"),
        ("Graded", "Graded([(over: 5.0, points: 4.0)])"),
        ("Out", "Out"),
    ];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    match word.value {
        "Steps" => {
            let mut record = Record::after(reader, "Steps", word.at, rest)?;
            let every = record.need(reader, "every", |reader, raw| {
                seconds(reader, raw, Between::above("a step", 0.0, LONGEST_S, " seconds"))
            });
            let or_part = record.need(reader, "or_part", truth);
            let from = record
                .may(reader, "from", |reader, raw| reader.choice(raw, "start of the steps", &FROM));
            let from = match record.place_of("from") {
                Some(_) => from,
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
            let each = amounts(reader, &mut record, false);
            let most = record.may(reader, "at_most_points", points);
            if let (Some(at), None) = (record.place_of("at_most_points"), record.place_of("points"))
            {
                let message = "`at_most_points` is the most of `points`, which is not written.";
                let fault =
                    Diagnostic::error("misplaced-field", at, message).label("holds nothing");
                reader.report(fault.help("Write `points`, or leave `at_most_points` out."));
            }
            record.close(reader);
            let (every, or_part, from) = (every?.value, or_part?, from?);
            Some(Penalty::Steps { every, or_part, from, each: each?, at_most_points: most })
        }
        "Flat" if rest.fields().is_some_and(|fields| !fields.is_empty()) => {
            let mut record = Record::after(reader, "Flat", word.at, rest)?;
            let price = amounts(reader, &mut record, true);
            record.close(reader);
            price.map(Penalty::Flat)
        }
        "Flat" => {
            let flat = reader.argument(&word, rest, FORMS[1].1)?;
            let points = points(reader, flat)?;
            Some(Penalty::Flat(Price { points, ..Price::default() }))
        }
        "Graded" => {
            let rows = reader.argument(&word, rest, FORMS[2].1)?;
            graded(reader, rows)
        }
        "Out" => reader
            .alone(&word, rest)
            .then(|| Penalty::Flat(Price { out: true, ..Price::default() })),
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            None
        }
    }
}

/// The rows of a graded penalty, each further beyond the limit than the one before it.
fn graded<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Penalty> {
    let rows: Vec<(Place, Grade)> = reader.list(raw, grade);
    for pair in rows.windows(2) {
        let [(first_at, first), (at, second)] = pair else { continue };
        // From 5 s on begins before more than 5 s.
        let begins = |row: &Grade| (row.beyond.clone(), !row.from_there);
        if begins(second) <= begins(first) {
            let message = "The rows of a graded penalty go up: this one does not.";
            let fault = Diagnostic::error("grades-out-of-order", at.clone(), message)
                .label("not further on")
                .note_at(first_at.clone(), "The row before it begins here.");
            reader.report(fault);
        }
    }
    if raw.items().is_some_and(|rows| rows.is_empty()) {
        reader.error("empty-list", raw.place(), "A graded penalty has at least one row.");
    }
    Some(Penalty::Graded(rows.into_iter().map(|(_, row)| row).collect()))
}

/// A row, and where it says how far beyond the limit it begins.
fn grade<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<(Place, Grade)> {
    let out = raw.word().filter(|(word, _)| word.value == "Out");
    let is_out = out.is_some();
    let mut record = match out {
        Some((word, rest)) => Record::after(reader, "Out", word.at, rest)?,
        None => Record::open(reader, raw, "Grade")?,
    };
    let mut begins = |name| -> Option<Placed<Seconds>> {
        record.may(reader, name, |reader, raw| {
            seconds(reader, raw, Between::from("how far beyond", 0.0, LONGEST_S, " seconds"))
        })
    };
    let (over, from) = (begins("over"), begins("from"));
    let written = [record.place_of("over"), record.place_of("from")];
    match &written {
        [None, None] => {
            let message = "A row says where it begins: `over: 5.0` for more than 5 s beyond the \
                           limit, `from: 5.0` for 5 s and more.";
            let fault = Diagnostic::error("missing-field", record.head(), message);
            reader.report(fault.label("`over` or `from` is missing"));
        }
        [Some(over), Some(from)] => {
            let message = "A row begins `over` a time or `from` it on, not both.";
            let fault = Diagnostic::error("duplicate-field", from.clone(), message)
                .label("the second one")
                .note_at(over.clone(), "The first one is here.");
            reader.report(fault);
        }
        _ => {}
    }
    let price = match is_out {
        true => Some(Price { out: true, ..Price::default() }),
        false => amounts(reader, &mut record, true),
    };
    record.close(reader);
    let from_there = over.is_none();
    let Placed { value: beyond, at } = over.or(from)?;
    Some((at, Grade { beyond, from_there, price: price? }))
}

/// What is taken: points, percent, or what becomes of the rating; at least one of them.
fn amounts(reader: &mut Reader, record: &mut Record<'_>, may_rate: bool) -> Option<Price> {
    let before = reader.errors();
    let points = record.may(reader, "points", points);
    let percent = record.may(reader, "percent", |reader, raw| {
        let bounds = Between::from("a penalty in percent", 0.0, 100.0, " percent of the score");
        number(reader, raw, bounds).map(|percent| percent.value)
    });
    let rating = if may_rate { record.may(reader, "rating", text) } else { None };
    if reader.errors() > before {
        return None;
    }
    if points.is_none() && percent.is_none() && rating.is_none() {
        let names =
            if may_rate { "`points`, `percent` or `rating`" } else { "`points` or `percent`" };
        let message = format!("This says no price: write {names}.");
        let fault = Diagnostic::error("missing-field", record.head(), message);
        reader.report(fault.label(format!("{names} is missing")));
        return None;
    }
    Some(Price {
        points: points.unwrap_or(0.0),
        percent: percent.unwrap_or(0.0),
        rating: rating.map(|rating| rating.value),
        out: false,
    })
}

fn points<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<f64> {
    let bounds = Between::from("a penalty", 0.0, 1_000_000.0, " points");
    number(reader, raw, bounds).map(|points| points.value)
}
