//! Sections: what each entry of the score is, and how long it lasts.

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Handling, Lands, Length, Part, Pause, Section, Unread, Until};

use super::between;
use super::juggle::{juggle, regrip};
use super::lands::lands;
use super::moment::moment;
use super::names::Kind;
use super::number::{Between, LONGEST_S, length_of_time, seconds, whole};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::text;

/// The most beats or cycles that a section can be given.
const MOST_BEATS: f64 = 1_000_000.0;

/// One entry of the score. An entry with faults is kept by its name.
pub(super) fn section<'a>(reader: &mut Reader, raw: Raw<'a>) -> Section {
    let before = reader.errors();
    let (name, mut part) = entry(reader, raw).unwrap_or_else(|| {
        (Placed { value: String::new(), at: raw.head() }, Part::Unread(Unread::default()))
    });
    if reader.errors() > before {
        let mut unread = unread(part);
        let is_juggled = unread.is_juggled != Some(false);
        unread.hides_set = is_juggled && unread.set.is_none() && raw.text.contains("set:");
        unread.hides_tempo = is_juggled && unread.tempo.is_none() && raw.text.contains("tempo:");
        part = Part::Unread(unread);
        // The set and the tempo that it may have brought are not known to those after it.
        reader.consequence("no-set", raw.start);
        reader.consequence("no-tempo", raw.start);
        if raw.text.contains("set:") {
            reader.consequence("prop-count", raw.start);
        }
    }
    Section { name, at: raw.place(), part }
}

/// What is kept of an entry with faults.
fn unread(part: Part) -> Unread {
    match part {
        Part::Juggle(juggle) => Unread {
            is_juggled: Some(true),
            set: juggle.set,
            tempo: juggle.tempo,
            ..Unread::default()
        },
        Part::Pause(_) => Unread { is_juggled: Some(false), ..Unread::default() },
        Part::Unread(unread) => unread,
    }
}

fn entry<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<(Placed<String>, Part)> {
    const FORMS: [Form; 2] = [
        ("Juggle", "Juggle(name: \"…\", pattern: \"…\", lasts: …)"),
        ("Pause", "Pause(name: \"…\", lasts: …)"),
    ];
    let (word, rest) = reader.word(raw, "section", &FORMS)?;
    let name = match word.value {
        "Juggle" => "Juggle",
        "Pause" => "Pause",
        _ => {
            reader.unknown_word("section", &word, &FORMS);
            return None;
        }
    };
    let mut record = Record::after(reader, name, word.at, rest)?;
    let name = record.need(reader, "name", text);
    if let Some(name) = &name {
        reader.names.give(Kind::Section, name);
    }
    let part = match word.value {
        "Juggle" => match juggle(reader, &mut record) {
            Ok(juggle) => Part::Juggle(Box::new(juggle)),
            Err(unread) => Part::Unread(*unread),
        },
        _ => match pause(reader, &mut record) {
            Some(pause) => Part::Pause(pause),
            None => Part::Unread(Unread { is_juggled: Some(false), ..Unread::default() }),
        },
    };
    let name = name.unwrap_or_else(|| Placed { value: String::new(), at: record.head() });
    record.close(reader);
    Some((name, part))
}

fn pause<'a>(reader: &mut Reader, record: &mut Record<'a>) -> Option<Pause> {
    let lasts = record.need(reader, "lasts", |reader, raw| length(reader, raw, Lasting::Pause));
    let regrip = record.may(reader, "regrip", regrip);
    let pick_up = record.may(reader, "pick_up", |reader, raw| {
        let bounds = Between::from("a pick-up", 0.0, LONGEST_S, " seconds");
        Some(reader.list(raw, |reader, raw| seconds(reader, raw, bounds)))
    });
    let mut handled = Vec::new();
    for handling in Handling::ALL {
        let sets = record.may(reader, handling.field(), |reader, raw| match raw.items() {
            Some(_) => Some(reader.list(raw, text)),
            None => Some(vec![text(reader, raw)?]),
        });
        for set in sets.into_iter().flatten() {
            reader.names.refer(Kind::Set, &set);
            handled.push((handling, set));
        }
    }
    let place = record.may(reader, "place", text);
    Some(Pause {
        lasts: lasts?,
        regrip,
        pick_up: pick_up.unwrap_or_default(),
        handled,
        place: place.map(|place| place.value),
    })
}

/// What it is that lasts.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Lasting {
    /// A pattern, which has beats.
    Juggle,
    /// A pause, which has none.
    Pause,
}

/// How long a section lasts.
pub(super) fn length<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    lasting: Lasting,
) -> Option<Placed<Length>> {
    const FORMS: [Form; 7] = [
        between::FORM,
        ("For", "For(\"0:06\")"),
        ("Until", "Until(Mark(\"drum\"))"),
        ("Lands", "Lands(Throw(\"section\", 3), Mark(\"drum\"))"),
        ("Bars", "Bars(8)"),
        ("Beats", "Beats(26)"),
        ("Cycles", "Cycles(8)"),
    ];
    const OF_A_PAUSE: usize = 5;
    let forms = match lasting {
        Lasting::Juggle => &FORMS[1..],
        Lasting::Pause => &FORMS[..OF_A_PAUSE],
    };
    let (word, rest) = reader.word(raw, "length", forms)?;
    let example =
        FORMS.iter().find(|(known, _)| *known == word.value).map_or("", |&(_, example)| example);
    let length = match word.value {
        "Beats" | "Cycles" if lasting == Lasting::Pause => {
            let message = "A Pause has no beats: it lasts `For` a time, `Between` two, some \
                           `Bars` or `Until` a moment.";
            reader.error("beats-of-pause", raw.place(), message);
            return None;
        }
        "Beats" => {
            let beats = reader.argument(&word, rest, example)?;
            let bounds = Between::from("the number of beats", 1.0, MOST_BEATS, "");
            Length::Beats(whole(reader, beats, bounds)?.value)
        }
        "Cycles" => {
            let cycles = reader.argument(&word, rest, example)?;
            let bounds = Between::from("the number of cycles", 1.0, MOST_BEATS, "");
            Length::Cycles(whole(reader, cycles, bounds)?.value)
        }
        "For" => {
            let time = reader.argument(&word, rest, example)?;
            Length::For(length_of_time(reader, time)?.value)
        }
        "Until" => {
            let until = reader.argument(&word, rest, example)?;
            let on = moment(reader, until)?.value;
            Length::Until(Box::new(Until { on, lands: Lands::Next }))
        }
        "Lands" => {
            let arguments = reader.arguments(&word, rest, 2..=2, example)?;
            let &[what, on] = &arguments[..] else { return None };
            // Both are read, so that the faults of both are told.
            let (lands, on) = (lands(reader, what, lasting), moment(reader, on));
            Length::Until(Box::new(Until { on: on?.value, lands: lands? }))
        }
        "Between" if lasting == Lasting::Juggle => {
            let message = "Only a Pause lasts `Between` two lengths: a pattern has a whole number \
                           of beats.";
            let fault = Diagnostic::error("range-of-juggle", raw.place(), message)
                .label("a pattern that lasts as long as it takes")
                .help("Give it beats or cycles, and put a `Pause` before or behind it.");
            reader.report(fault);
            return None;
        }
        "Between" => Length::Between(Box::new(between::between(reader, &word, rest)?)),
        "Bars" => {
            let bars = reader.argument(&word, rest, example)?;
            let bounds = Between::from("the number of bars", 1.0, MOST_BEATS, "");
            Length::Bars(whole(reader, bars, bounds)?.value)
        }
        _ => {
            reader.unknown_word("length", &word, forms);
            return None;
        }
    };
    Some(raw.placed(length))
}

/// The score: its sections in order, the faulty ones by name.
pub(super) fn score<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Vec<Section>> {
    let sections = reader.list(raw, |reader, raw| Some(section(reader, raw)));
    if raw.items().is_some_and(|items| items.is_empty()) {
        let at: Place = raw.place();
        reader.error("empty-list", at, "The score has no section.");
    }
    Some(sections)
}
