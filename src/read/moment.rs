//! Moments, by the form in which they are written: `LastCatch` is one, `LastCatch("ebb")` another.

use crate::diagnostic::Placed;
use crate::routine::Moment;
use crate::time::Seconds;

use super::bars::bar_number;
use super::names::Kind;
use super::number::{Between, time, whole};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::text::text;

const FORMS: [Form; 18] = [
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
    ("Bar", "Bar(9, 1)"),
    ("At", "At(\"m:ss.s\")"),
    ("SetUpStart", "SetUpStart"),
    ("SetUpEnd", "SetUpEnd"),
    ("EncoreStart", "EncoreStart"),
    ("EncoreEnd", "EncoreEnd"),
    ("StrikeStart", "StrikeStart"),
    ("StrikeEnd", "StrikeEnd"),
];

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
            if !rest.is_blank() {
                reader.not_supported(raw.place(), "A moment of one track among several");
                return None;
            }
            if word.value == "TrackStart" { Moment::TrackStart } else { Moment::TrackEnd }
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
        "Mark" => {
            let arguments = reader.arguments(&word, rest, 1..=2, example("Mark"))?;
            let [name] = arguments[..] else {
                reader.not_supported(raw.place(), "A mark of one track among several");
                return None;
            };
            let name = text(reader, name)?;
            reader.names.refer(Kind::Mark, &name);
            Moment::Mark(name)
        }
        "At" => {
            let clock = reader.argument(&word, rest, example("At"))?;
            Moment::At(time(reader, clock)?.value)
        }
        "Bar" => {
            let arguments = reader.arguments(&word, rest, 1..=2, example("Bar"))?;
            let (&bar, beat) = (arguments.first()?, arguments.get(1));
            let bar = bar_number(reader, bar);
            let bounds = Between::from("the number of a music beat", 1.0, 100.0, "");
            let beat = match beat {
                Some(&beat) => whole(reader, beat, bounds).map(|beat| beat.value),
                None => Some(1),
            };
            Moment::Bar(bar?, beat?)
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
fn counted<'a>(
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
