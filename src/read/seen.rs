//! What a section asks of the colours, and what the line-up may choose there.

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::patterns::Pattern;
use crate::routine::{Caught, Freedom, Seen, Shown, TwoThrows};

use super::colour::colour_name;
use super::juggle::hand;
use super::moment::moment;
use super::number::{Between, whole};
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;

const FREEDOMS: [(&str, Freedom); 3] = [
    ("StartingThrow", Freedom::StartingThrow),
    ("MultiplexOrder", Freedom::MultiplexOrder),
    ("Transition", Freedom::Transition),
];

/// Everything that a section asks of the colours; `pattern` is what it juggles, if that is known.
pub(super) fn seen<'a>(
    reader: &mut Reader,
    record: &mut Record<'a>,
    pattern: Option<&Pattern>,
) -> Seen {
    let shows = record.may(reader, "shows", |reader, raw| Some(shows(reader, raw, pattern)));
    let solid = record.may(reader, "solid", solid);
    let mut pairs = |record: &mut Record<'a>, name| {
        let read = |reader: &mut Reader, raw| two_throws(reader, raw, pattern);
        record.may(reader, name, |reader, raw| Some(reader.list(raw, read))).unwrap_or_default()
    };
    let alike = pairs(record, "alike");
    let unlike = pairs(record, "unlike");
    let caught = record.may(reader, "caught", |reader, raw| Some(reader.list(raw, caught)));
    contradiction(reader, &alike, &unlike);
    Seen {
        shows: shows.unwrap_or_default(),
        solid,
        alike,
        unlike,
        caught: caught.unwrap_or_default(),
    }
}

/// What the line-up may choose, each once.
pub(super) fn free<'a>(reader: &mut Reader, raw: Raw<'a>) -> Vec<Placed<Freedom>> {
    let mut free: Vec<Placed<Freedom>> = Vec::new();
    for item in reader.items(raw) {
        let Some(freedom) = reader.choice(item, "freedom", &FREEDOMS) else { continue };
        if free.iter().all(|one| one.value != freedom) {
            free.push(item.placed(freedom));
        }
    }
    free
}

/// Which throws of the cycle must be seen in which colours.
fn shows<'a>(reader: &mut Reader, raw: Raw<'a>, pattern: Option<&Pattern>) -> Vec<Shown> {
    let mut shows: Vec<Shown> = Vec::new();
    for (key, value) in reader.entries(raw) {
        let throw = whole(reader, key, NUMBER);
        let colours = reader.list(value, colour_name);
        if value.items().is_some_and(|items| items.is_empty()) {
            reader.error("empty-list", value.place(), "At least one colour must be shown.");
        }
        let Some(throw) = throw else { continue };
        if let Some(pattern) = pattern {
            throw_that_shows(reader, pattern, &throw);
        }
        if let Some(first) = shows.iter().find(|shown| shown.throw.value == throw.value) {
            let message = format!("Throw {} is written twice in this `shows`.", throw.value);
            let fault = Diagnostic::error("duplicate-key", throw.at.clone(), message)
                .label("the second time")
                .note_at(first.throw.at.clone(), "It is written here already.");
            reader.report(fault);
        }
        shows.push(Shown { throw, colours });
    }
    shows
}

const NUMBER: Between = Between::from("the number of a throw", 1.0, 1_000_000.0, "");

/// Whether each orbit must have one colour: where `true` is written.
fn solid<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Place> {
    match raw.plain::<bool>() {
        Some(true) => Some(raw.place()),
        Some(false) => None,
        None => reader.shape(raw, "`true` or `false`"),
    }
}

/// Two throws of the cycle, such as `(1, 3)`.
fn two_throws<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    pattern: Option<&Pattern>,
) -> Option<TwoThrows> {
    let [first, second] = raw.arguments().unwrap_or_default()[..] else {
        return reader.shape(raw, "the numbers of two throws, such as (1, 3)");
    };
    let (first, second) = (whole(reader, first, NUMBER), whole(reader, second, NUMBER));
    if let Some(pattern) = pattern {
        for throw in [&first, &second].into_iter().flatten() {
            throw_that_shows(reader, pattern, throw);
        }
    }
    let (first, second) = (first?, second?);
    if first.value == second.value {
        let message = format!("Throw {} is compared with itself.", first.value);
        reader.error("same-throw", second.at, message);
        return None;
    }
    Some(TwoThrows { numbers: [first.value, second.value], at: raw.place() })
}

/// A colour and the moment at which it must be caught.
fn caught<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Caught> {
    let mut record = Record::open(reader, raw, "Caught")?;
    let colour = record.need(reader, "colour", colour_name);
    let moment = record.need(reader, "at", moment);
    let hand = record.may(reader, "hand", hand);
    record.close(reader);
    Some(Caught { colour: colour?, moment: moment?, hand, at: raw.place() })
}

/// Reports throws that must be alike and unlike at once.
fn contradiction(reader: &mut Reader, alike: &[TwoThrows], unlike: &[TwoThrows]) {
    let sorted = |two: &TwoThrows| {
        let [first, second] = two.numbers;
        (first.min(second), first.max(second))
    };
    for two in unlike {
        if let Some(other) = alike.iter().find(|other| sorted(other) == sorted(two)) {
            let [first, second] = two.numbers;
            let message = format!("Throws {first} and {second} cannot be both alike and unlike.");
            let fault = Diagnostic::error("alike-and-unlike", two.at.clone(), message)
                .label("must differ")
                .note_at(other.at.clone(), "Here they must be alike.");
            reader.report(fault);
        }
    }
}

/// Reports a throw that the pattern does not have, or that no prop makes.
fn throw_that_shows(reader: &mut Reader, pattern: &Pattern, throw: &Placed<u32>) {
    let mut throws = pattern.sequence().throws();
    match throws.find(|written| written.number == throw.value) {
        Some(written) if written.throw.value == 0 => {
            let message =
                format!("Throw {} of the pattern is a 0: the hand is empty.", throw.value);
            let fault = Diagnostic::error("shows-empty-hand", throw.at.clone(), message);
            reader.report(fault.help(throws_that_have_props(pattern)));
        }
        Some(_) => {}
        None => {
            let last = pattern.sequence().throws().map(|written| written.number).max();
            let message = format!(
                "The pattern has no throw {}: its cycle has throws 1 to {}.",
                throw.value,
                last.unwrap_or(0)
            );
            let fault = Diagnostic::error("unknown-throw", throw.at.clone(), message);
            reader.report(fault.help(throws_that_have_props(pattern)));
        }
    }
}

/// The numbered throws of a pattern, in words.
fn throws_that_have_props(pattern: &Pattern) -> String {
    let named: Vec<String> = pattern
        .sequence()
        .throws()
        .filter(|written| written.throw.value > 0)
        .take(12)
        .map(|written| format!("{} (the {})", written.number, written.throw))
        .collect();
    format!("Throws are numbered as written, each value counts: {}.", named.join(", "))
}
