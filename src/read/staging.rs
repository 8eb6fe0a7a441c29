//! The room, the prop sets and the music.

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{Cue, Hazard, PropKind, PropSet, Room, Track, USUAL_MARGIN_M};
use crate::time::Seconds;

use super::bars::bars;
use super::colour::colour_name;
use super::hold::{OfTrack, holds};
use super::moment::moment;
use super::names::Kind;
use super::number::{Between, LONGEST_S, length_of_time, number, seconds};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::text;

/// The most props of a set.
const MOST_PROPS: usize = 35;

/// What is overhead.
pub(super) fn room<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Room> {
    let mut record = Record::open(reader, raw, "Room")?;
    let clear_height = record.need(reader, "clear_height", |reader, raw| {
        number(reader, raw, Between::above("the clear height", 0.0, 1000.0, " m"))
    });
    let hands_at = record.need(reader, "hands_at", |reader, raw| {
        number(reader, raw, Between::from("the height of the hands", 0.0, 100.0, " m"))
    });
    let margin = record.may(reader, "margin", |reader, raw| {
        number(reader, raw, Between::from("the margin", 0.0, 100.0, " m"))
    });
    record.close(reader);
    let margin = margin.map_or(USUAL_MARGIN_M, |margin| margin.value);
    Some(Room { clear_height: clear_height?, hands_at: hands_at?.value, margin })
}

/// The prop sets, in the file's order.
pub(super) fn sets<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Vec<PropSet>> {
    let mut sets = Vec::new();
    for (key, value) in reader.entries(raw) {
        let name = text(reader, key);
        if let Some(name) = &name {
            reader.names.give(Kind::Set, name);
        }
        let set = set(reader, name, value);
        if set.is_none() {
            reader.consequence("no-set", 0);
        }
        sets.extend(set);
    }
    Some(sets)
}

fn set<'a>(reader: &mut Reader, name: Option<Placed<String>>, raw: Raw<'a>) -> Option<PropSet> {
    let before = reader.errors();
    let mut record = Record::open(reader, raw, "Set")?;
    let kind = record.need(reader, "kind", prop_kind);
    let length = record.need(reader, "length", |reader, raw| {
        number(reader, raw, Between::above("the length of a prop", 0.0, 5.0, " m"))
    });
    let colours = record.need(reader, "colours", |reader, raw| {
        let colours = reader.list(raw, colour_name);
        match raw.items().map(|items| items.len()) {
            Some(0) => reader.error("empty-list", raw.place(), "A set has at least one prop."),
            Some(props) if props > MOST_PROPS => {
                let message = format!("A set has at most {MOST_PROPS} props; this has {props}.");
                reader.error("out-of-range", raw.place(), message);
            }
            _ => {}
        }
        Some(colours)
    });
    let backs = record.may(reader, "backs", |reader, raw| {
        let backs = reader.list(raw, colour_name);
        if let (Some(colours), Some(written)) = (&colours, raw.items())
            && reader.errors() == before
        {
            one_back_each(reader, raw, colours.len(), written.len());
        }
        Some(backs)
    });
    let burn = record.may(reader, "burn", |reader, raw| {
        let bounds = Between::above("a tested burn", 0.0, LONGEST_S, " seconds");
        Some(reader.list(raw, |reader, raw| seconds(reader, raw, bounds)))
    });
    let danger = record.may(reader, "danger", |reader, raw| danger(reader, raw, kind.as_ref()));
    record.close(reader);
    if reader.errors() > before {
        return None;
    }
    Some(PropSet {
        name: name?,
        at: raw.place(),
        kind: kind?,
        length: length?.value,
        colours: colours?,
        backs: backs.unwrap_or_default(),
        burn: burn.unwrap_or_default(),
        danger,
    })
}

/// What may hurt somebody: `Fire`, `Blades`, a list of both, or `Nothing`.
fn danger<'a>(reader: &mut Reader, raw: Raw<'a>, kind: Option<&PropKind>) -> Option<Vec<Hazard>> {
    const WORDS: [(&str, Option<Hazard>); 3] =
        [("Fire", Some(Hazard::Fire)), ("Blades", Some(Hazard::Blades)), ("Nothing", None)];
    if raw.items().is_some() {
        let both = [("Fire", Hazard::Fire), ("Blades", Hazard::Blades)];
        return Some(reader.list(raw, |reader, raw| reader.choice(raw, "danger", &both)));
    }
    let danger = reader.choice(raw, "danger", &WORDS)?;
    if danger.is_none() && matches!(kind, Some(PropKind::Torch | PropKind::Knife)) {
        let message = "A Torch burns and a Knife has a blade, whatever else is written.";
        let fault = Diagnostic::error("misplaced-field", raw.place(), message)
            .label("not of this kind")
            .help("If it neither burns nor cuts, call it `Other(\"…\")`, or `Club`.");
        reader.report(fault);
        return None;
    }
    Some(danger.into_iter().collect())
}

/// Reports backs that are not as many as the props.
fn one_back_each(reader: &mut Reader, raw: Raw<'_>, props: usize, backs: usize) {
    if backs == props {
        return;
    }
    let message = format!("The set has {} and {}.", counted(props, "prop"), counted(backs, "back"));
    let fault = Diagnostic::error("backs-count", raw.place(), message)
        .label("one for each prop")
        .help("Write the colour of each prop's other face, in the order of `colours`.");
    reader.report(fault);
}

fn prop_kind<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<PropKind> {
    const WHAT: &str = "kind of prop";
    const FORMS: [Form; 6] = [
        ("Ball", "Ball"),
        ("Club", "Club"),
        ("Ring", "Ring"),
        ("Torch", "Torch"),
        ("Knife", "Knife"),
        ("Other", "Other(\"scarf\")"),
    ];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    let kind = match word.value {
        "Ball" => PropKind::Ball,
        "Club" => PropKind::Club,
        "Ring" => PropKind::Ring,
        "Torch" => PropKind::Torch,
        "Knife" => PropKind::Knife,
        "Other" => {
            let name = reader.argument(&word, rest, FORMS[5].1)?;
            return Some(PropKind::Other(text(reader, name)?.value));
        }
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            return None;
        }
    };
    reader.alone(&word, rest).then_some(kind)
}

/// A track; `name` is its name, if it has one. The cues of its holds are added to `cues`.
pub(super) fn track<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    name: Option<&Placed<String>>,
    cues: &mut Vec<Cue>,
) -> Option<Track> {
    let mut record = Record::open(reader, raw, "Track")?;
    let file = record.may(reader, "file", text);
    let length = record.need(reader, "length", |reader, raw| {
        let length = length_of_time(reader, raw)?;
        if length.value == Seconds::zero() {
            reader.error("out-of-range", raw.place(), "A track is longer than 0:00.");
            return None;
        }
        Some(length)
    });
    let starts = record.need(reader, "starts", moment);
    let within = length.as_ref().map(|length| length.value.clone());
    let bars = record.may(reader, "bars", |reader, raw| Some(bars(reader, raw, within.as_ref())));
    let marks = record.may(reader, "marks", |reader, raw| {
        let mut marks = Vec::new();
        for (key, value) in reader.entries(raw) {
            let mark = text(reader, key);
            if let Some(mark) = &mark {
                reader.names.tracks().give_mark(name, mark);
            }
            let time = in_track(reader, value, within.as_ref());
            if time.is_none() {
                reader.consequence("times-contradict", 0);
            }
            marks.extend(mark.zip(time));
        }
        Some(marks)
    });
    let holds = record.may(reader, "holds", |reader, raw| {
        let marks = marks.as_deref().unwrap_or_default();
        let (holds, taken) = holds(reader, raw, &OfTrack { name, length: within.as_ref(), marks });
        cues.extend(taken);
        Some(holds)
    });
    record.close(reader);
    Some(Track {
        file,
        length: length?,
        starts: starts?,
        bars: bars.unwrap_or_default(),
        marks: marks.unwrap_or_default(),
        holds: holds.unwrap_or_default(),
    })
}

/// A time on the track's clock, within the track.
pub(super) fn in_track<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    length: Option<&Seconds>,
) -> Option<Placed<Seconds>> {
    let time = length_of_time(reader, raw)?;
    if length.is_some_and(|length| &time.value > length) {
        let message = "This is after the end of the track.";
        let fault = Diagnostic::error("out-of-range", raw.place(), message)
            .label("not on the track")
            .help("Write an earlier time, or correct the `length` of the track.");
        reader.report(fault);
        return None;
    }
    Some(time)
}
