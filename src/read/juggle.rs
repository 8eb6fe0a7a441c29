//! What a `Juggle` says: pattern, tempo, transition, loading, and what must be seen.

use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::hand::Hand;
use crate::notation::Kind as Notation;
use crate::patterns::Pattern;
use crate::routine::{
    Declares, HandColours, Juggle, Length, Loading, MOST_BEND, MayBend, Tempo, Transition, Twos,
    Unread,
};

use super::arms::{arms, made};
use super::colour::prop_name;
use super::limit::truth;
use super::music_tempo::{PER_MUSIC_BEAT, per_music_beat};
use super::names::Kind;
use super::number::{Between, LONGEST_S, exact, seconds, whole};
use super::pattern::{pattern, throws};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::score::{Lasting, length};
use super::seen::{free, seen};
use super::text::text;

const HANDS: [(&str, Hand); 2] = [("Right", Hand::Right), ("Left", Hand::Left)];
const TWOS: [(&str, Twos); 2] = [("Held", Twos::Held), ("Thrown", Twos::Thrown)];

/// What a `Juggle` says beside its name.
///
/// # Errors
/// What is known of one whose pattern or length could not be read.
pub(super) fn juggle<'a>(
    reader: &mut Reader,
    record: &mut Record<'a>,
) -> Result<Juggle, Box<Unread>> {
    let set = record.may(reader, "set", |reader, raw| {
        let set = text(reader, raw)?;
        reader.names.refer(Kind::Set, &set);
        Some(set)
    });
    let pattern = record.need(reader, "pattern", pattern);
    let lasts = record.need(reader, "lasts", |reader, raw| length(reader, raw, Lasting::Juggle));
    let transition = record.may(reader, "transition", transition);
    let lead =
        record.may(reader, "lead", |reader, raw| hand(reader, raw).map(|hand| raw.placed(hand)));
    let tempo = record.may(reader, "tempo", tempo);
    let twos = record.may(reader, "twos", |reader, raw| reader.choice(raw, "kind of 2", &TWOS));
    let loading = record.may(reader, "loading", loading);
    let other_face = record
        .may(reader, "other_face", |reader, raw| truth(reader, raw).map(|other| raw.placed(other)));
    let known = pattern.as_ref().map(|written| &written.pattern);
    let seen = seen(reader, record, known);
    let free = record.may(reader, "free", |reader, raw| Some((free(reader, raw), raw.place())));
    let (free, free_at) = free.unzip();
    let arms = record.may(reader, "arms", |reader, raw| arms(reader, raw, known));
    // Where it could not be read, nothing is said of 2s.
    let thrown = record.place_of("twos").is_some() && twos != Some(Twos::Held);
    let made = record.may(reader, "made", |reader, raw| Some(made(reader, raw, known, thrown)));
    let declares = record.may(reader, "declares", declares);
    let turn = record.may(reader, "turn", |reader, raw| {
        seconds(reader, raw, Between::above("a turn", 0.0, LONGEST_S, " seconds"))
    });
    let place = record.may(reader, "place", text);
    let may_bend = record.may(reader, "may_bend", |reader, raw| {
        exact(
            reader,
            raw,
            Between::from("how much a tempo may bend", 0.0, MOST_BEND, " (0.03 is 3 %)"),
        )
    });
    let may_bend =
        may_bend.zip(record.whole_field("may_bend")).map(|(most, field)| MayBend { most, field });
    if let (Some(pattern), Some(lasts)) = (known, &lasts) {
        odd_beats_of_pairs(reader, pattern, lasts);
    }
    if let (Some(pattern), Some(_), Some(at)) = (known, &lead, record.place_of("lead")) {
        lead_of_pairs(reader, pattern, at);
    }
    let (Some(pattern), Some(lasts)) = (pattern, lasts) else {
        let unread = Unread { is_juggled: Some(true), set, tempo, ..Unread::default() };
        return Err(Box::new(unread));
    };
    // Where it would be written: nothing, behind the pattern.
    let end = pattern.at.end;
    let direct = || Placed { value: Transition::Direct, at: Place { start: end, end } };
    Ok(Juggle {
        pattern,
        lasts,
        set,
        tempo,
        transition: transition.unwrap_or_else(direct),
        lead,
        twos: twos.unwrap_or_default(),
        loading,
        seen,
        free: free.unwrap_or_default(),
        free_at,
        other_face,
        arms,
        made: made.unwrap_or_default(),
        declares,
        turn,
        may_bend,
        place: place.map(|place| place.value),
    })
}

/// A hand.
pub(super) fn hand<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Hand> {
    reader.choice(raw, "hand", &HANDS)
}

/// A tempo.
pub(super) fn tempo<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Tempo>> {
    const WHAT: &str = "tempo";
    const FORMS: [Form; 3] = [
        ("PerMinute", "PerMinute(200)"),
        ("Ramp", "Ramp(from: 180, to: 220)"),
        ("PerMusicBeat", PER_MUSIC_BEAT),
    ];
    const BOUNDS: Between = Between::from("a tempo", 1.0, 1_000.0, " throws a minute");
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    let tempo = match word.value {
        "PerMinute" => {
            let tempo = reader.argument(&word, rest, FORMS[0].1)?;
            Tempo::PerMinute(exact(reader, tempo, BOUNDS)?.value)
        }
        "Ramp" => {
            let before = reader.errors();
            let mut record = Record::after(reader, "Ramp", word.at, rest)?;
            let from = record.may(reader, "from", |reader, raw| exact(reader, raw, BOUNDS));
            let to = record.need(reader, "to", |reader, raw| exact(reader, raw, BOUNDS));
            record.close(reader);
            if reader.errors() > before {
                return None;
            }
            Tempo::Ramp { from: from.map(|from| from.value), to: to?.value }
        }
        "PerMusicBeat" => per_music_beat(reader, raw, &word, rest)?,
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            return None;
        }
    };
    Some(raw.placed(tempo))
}

fn transition<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Transition>> {
    const WHAT: &str = "transition";
    const FORMS: [Form; 3] = [("Direct", "Direct"), ("Auto", "Auto"), ("Throws", "Throws(\"4\")")];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    let transition = match word.value {
        "Direct" => reader.alone(&word, rest).then_some(Transition::Direct)?,
        "Auto" => reader.alone(&word, rest).then_some(Transition::Auto)?,
        "Throws" => {
            let written = reader.argument(&word, rest, FORMS[2].1)?;
            Transition::Throws(throws(reader, written)?)
        }
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            return None;
        }
    };
    Some(raw.placed(transition))
}

/// Which prop is in which hand at a cold start.
fn loading<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Loading>> {
    const WHAT: &str = "loading";
    const FORMS: [Form; 2] =
        [("Hands", "Hands(right: [\"…\"], left: [\"…\"])"), ("Found", "Found")];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    match word.value {
        "Hands" => Some(raw.placed(Loading::Hands(hands(reader, word.at, rest)?))),
        "Found" => reader.alone(&word, rest).then(|| raw.placed(Loading::Found)),
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            None
        }
    }
}

/// How a pause loads the hands again.
pub(super) fn regrip<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<HandColours>> {
    const WHAT: &str = "regrip";
    const FORMS: [Form; 1] = [("Hands", "Hands(right: [\"…\"], left: [\"…\"])")];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    if word.value != "Hands" {
        reader.unknown_word(WHAT, &word, &FORMS);
        return None;
    }
    Some(raw.placed(hands(reader, word.at, rest)?))
}

/// What follows `Hands`.
fn hands<'a>(reader: &mut Reader, head: Place, rest: Raw<'a>) -> Option<HandColours> {
    let mut record = Record::after(reader, "Hands", head, rest)?;
    let mut in_hand = |record: &mut Record<'a>, hand| {
        record.may(reader, hand, |reader, raw| Some(reader.list(raw, prop_name)))
    };
    let right = in_hand(&mut record, "right").unwrap_or_default();
    let left = in_hand(&mut record, "left").unwrap_or_default();
    record.close(reader);
    Some(HandColours { right, left })
}

fn declares<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Declares>> {
    const WHAT: &str = "declaration";
    const FORMS: [Form; 4] = [
        ("Catches", "Catches(50)"),
        ("Throws", "Throws(50)"),
        ("Flash", "Flash"),
        ("Qualify", "Qualify"),
    ];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    let mut number = |example: &str, what| {
        let number = reader.argument(&word, rest, example)?;
        let bounds = Between::from(what, 1.0, 10_000_000.0, "");
        whole(reader, number, bounds).map(|number| number.value)
    };
    let declares = match word.value {
        "Catches" => Declares::Catches(number("Catches(50)", "the number of catches")?),
        "Throws" => Declares::Throws(number("Throws(50)", "the number of throws")?),
        "Flash" => reader.alone(&word, rest).then_some(Declares::Flash)?,
        "Qualify" => reader.alone(&word, rest).then_some(Declares::Qualify)?,
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            return None;
        }
    };
    Some(raw.placed(declares))
}

/// Reports an odd number of beats of a pattern of pairs; each pair fills two.
fn odd_beats_of_pairs(reader: &mut Reader, pattern: &Pattern, lasts: &Placed<Length>) {
    let Length::Beats(beats) = lasts.value else { return };
    if pattern.kind() != Notation::Sync || beats % 2 == 0 {
        return;
    }
    let message = format!("A pair fills two beats, so pairs cannot last {beats} beats.");
    let mut fault =
        Diagnostic::error("odd-beats-of-pairs", lasts.at.clone(), message).label("an odd number");
    for even in [beats - 1, beats + 1].into_iter().filter(|&even| even > 0) {
        let insert = format!("Beats({even})");
        fault = fault.help_edit(format!("Write `{insert}`."), lasts.at.clone(), insert);
    }
    reader.report(fault);
}

/// Reports a lead of pairs: both hands throw at once.
fn lead_of_pairs(reader: &mut Reader, pattern: &Pattern, at: crate::diagnostic::Place) {
    if pattern.kind() != Notation::Sync {
        return;
    }
    let message = "Pairs have no lead hand: both hands throw at once.";
    let fault = Diagnostic::error("lead-of-pairs", at, message)
        .label("means nothing here")
        .help("Leave `lead` out.");
    reader.report(fault);
}
