//! Moments, by the form in which they are written: `LastCatch` is one, `LastCatch("ebb")` another.

use crate::diagnostic::{Place, Placed};
use crate::routine::Moment;
use crate::time::Seconds;

use super::bars::bar_number;
use super::names::Kind;
use super::number::{Between, time, whole};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::text::text;

const FORMS: [Form; 23] = [
    ("TrackStart", "TrackStart"),
    ("TrackEnd", "TrackEnd"),
    ("FirstThrow", "FirstThrow"),
    ("LastCatch", "LastCatch(\"section\")"),
    ("Start", "Start(\"section\")"),
    ("End", "End(\"section\")"),
    ("Throw", "Throw(\"section\", 12)"),
    ("Catch", "Catch(\"section\", 12)"),
    ("Cycle", "Cycle(\"section\", 3)"),
    ("Mark", "Mark(\"name\")"),
    ("HoldStart", "HoldStart(\"name\")"),
    ("HoldEnd", "HoldEnd(\"name\")"),
    ("Bar", "Bar(9, 1)"),
    ("At", "At(\"m:ss.s\")"),
    ("Shift", "Shift(LastCatch, 2.0)"),
    ("First", "First([TrackStart, FirstThrow])"),
    ("Last", "Last([TrackEnd, LastCatch])"),
    ("SetUpStart", "SetUpStart"),
    ("SetUpEnd", "SetUpEnd"),
    ("EncoreStart", "EncoreStart"),
    ("EncoreEnd", "EncoreEnd"),
    ("StrikeStart", "StrikeStart"),
    ("StrikeEnd", "StrikeEnd"),
];

/// The most moments in `First` and `Last`; each is held against every other.
const MOST_MOMENTS: usize = 12;

/// Moments around the act, which are written as a word alone.
const AROUND: [(&str, Moment); 6] = [
    ("SetUpStart", Moment::SetUpStart),
    ("SetUpEnd", Moment::SetUpEnd),
    ("EncoreStart", Moment::EncoreStart),
    ("EncoreEnd", Moment::EncoreEnd),
    ("StrikeStart", Moment::StrikeStart),
    ("StrikeEnd", Moment::StrikeEnd),
];

/// A moment.
pub(super) fn moment<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Moment>> {
    let (word, rest) = reader.word(raw, "moment", &FORMS)?;
    let moment = match word.value {
        "TrackStart" | "TrackEnd" => {
            let track = match rest.is_blank() {
                true => None,
                false => {
                    let name = reader.argument(&word, rest, "TrackStart(\"main\")")?;
                    Some(text(reader, name)?)
                }
            };
            reader.names.tracks().refer(track.as_ref(), word.at.clone());
            let moment =
                if word.value == "TrackStart" { Moment::TrackStart } else { Moment::TrackEnd };
            of_track(track, moment)
        }
        "FirstThrow" => reader.alone(&word, rest).then_some(Moment::FirstThrow)?,
        "LastCatch" if rest.is_blank() => Moment::LastCatch(None),
        "LastCatch" => Moment::LastCatch(Some(section(reader, &word, rest)?)),
        "Start" => Moment::Start(section(reader, &word, rest)?),
        "End" => Moment::End(section(reader, &word, rest)?),
        "Throw" => {
            let (section, number) = counted(reader, &word, rest)?;
            Moment::Throw(section, number)
        }
        "Catch" => {
            let (section, number) = counted(reader, &word, rest)?;
            Moment::Catch(section, number)
        }
        "Cycle" => {
            let (section, number) = counted(reader, &word, rest)?;
            Moment::Cycle(section, number)
        }
        "Mark" | "HoldStart" | "HoldEnd" => {
            let mut arguments = reader.arguments(&word, rest, 1..=2, example(word.value))?;
            let name = arguments.pop().and_then(|name| text(reader, name));
            let track = match arguments.pop() {
                Some(track) => Some(text(reader, track)?),
                None => None,
            };
            let name = name?;
            reader.names.tracks().refer_name(track.as_ref(), word.value != "Mark", &name);
            let moment = match word.value {
                "Mark" => Moment::Mark(name),
                "HoldStart" => Moment::HoldStart(name),
                _ => Moment::HoldEnd(name),
            };
            of_track(track, moment)
        }
        "At" => {
            let clock = reader.argument(&word, rest, example("At"))?;
            Moment::At(time(reader, clock)?.value)
        }
        "Shift" => {
            let arguments = reader.arguments(&word, rest, 2..=2, example("Shift"))?;
            let &[from, by] = &arguments[..] else { return None };
            // Both are read, so that the faults of both are told.
            let (from, by) = (moment(reader, from), shift(reader, by));
            Moment::Shift(Box::new(from?.value), by?)
        }
        "First" => Moment::First(several(reader, &word, rest)?),
        "Last" => Moment::Last(several(reader, &word, rest)?),
        "Bar" => {
            let mut arguments = reader.arguments(&word, rest, 1..=3, example("Bar"))?;
            // A track may be named first.
            let is_named = arguments.first().is_some_and(|first| first.text.starts_with('"'));
            let track = match is_named {
                true => Some(text(reader, arguments.remove(0))?),
                false => None,
            };
            let at = Place { start: rest.place().start + 1, end: rest.place().start + 1 };
            reader.names.tracks().refer_before(track.as_ref(), at);
            if arguments.is_empty() || arguments.len() > 2 {
                return reader.shape(raw, example("Bar"));
            }
            let (&bar, beat) = (arguments.first()?, arguments.get(1));
            let bar = bar_number(reader, bar);
            let bounds = Between::from("the number of a music beat", 1.0, 100.0, "");
            let beat = match beat {
                Some(&beat) => whole(reader, beat, bounds).map(|beat| beat.value),
                None => Some(1),
            };
            of_track(track, Moment::Bar(bar?, beat?))
        }
        other => {
            let Some((_, around)) = AROUND.iter().find(|(known, _)| *known == other) else {
                reader.unknown_word("moment", &word, &FORMS);
                return None;
            };
            reader.alone(&word, rest).then(|| around.clone())?
        }
    };
    Some(raw.placed(moment))
}

/// The moments in `First` or `Last`.
fn several<'a>(reader: &mut Reader, word: &Placed<&str>, rest: Raw<'a>) -> Option<Vec<Moment>> {
    let before = reader.errors();
    let list = reader.argument(word, rest, example(word.value))?;
    let items = reader.items(list);
    if items.is_empty() && reader.errors() == before {
        let message = format!("`{}` names several moments; one of them counts.", word.value);
        reader.error("empty-list", list.place(), message);
    }
    if items.len() > MOST_MOMENTS {
        let message = format!("`{}` names at most {MOST_MOMENTS} moments.", word.value);
        reader.error("out-of-range", list.place(), message);
        return None;
    }
    let mut moments = Vec::new();
    for item in items {
        let Some(one) = moment(reader, item) else { continue };
        if one.value.is_one_of_several() {
            let expected = format!("a moment of its own inside `{}`", word.value);
            reader.shape::<()>(item, &expected);
            continue;
        }
        moments.push(one.value);
    }
    (reader.errors() == before).then_some(moments)
}

/// A moment of the track that is named, or of the only one.
fn of_track(track: Option<Placed<String>>, moment: Moment) -> Moment {
    match track {
        Some(track) => Moment::OfTrack(track, Box::new(moment)),
        None => moment,
    }
}

/// Seconds from a moment; negative for earlier.
pub(super) fn shift<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Seconds> {
    let bounds = Between::from("a shift", -86_400.0, 86_400.0, " seconds");
    super::number::seconds(reader, raw, bounds).map(|shift| shift.value)
}

fn example(word: &str) -> &'static str {
    FORMS.iter().find(|(known, _)| *known == word).map_or("", |&(_, example)| example)
}

/// The section that a moment names.
fn section<'a>(reader: &mut Reader, word: &Placed<&str>, rest: Raw<'a>) -> Option<Placed<String>> {
    let name = reader.argument(word, rest, example(word.value))?;
    let name = text(reader, name)?;
    reader.names.refer(Kind::Section, &name);
    Some(name)
}

/// The section that a moment names, and a number counted in it from 1.
pub(super) fn counted<'a>(
    reader: &mut Reader,
    word: &Placed<&str>,
    rest: Raw<'a>,
) -> Option<(Placed<String>, Placed<u32>)> {
    let arguments = reader.arguments(word, rest, 2..=2, example(word.value))?;
    let &[name, number] = &arguments[..] else { return None };
    let name = text(reader, name);
    if let Some(name) = &name {
        reader.names.refer(Kind::Section, name);
    }
    let number = whole(reader, number, Between::from("its number", 1.0, 10_000_000.0, ""));
    Some((name?, number?))
}
