//! Cues: the crew, the number, how it is taken and what it does.

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{
    Crew, CrewDefaults, Cue, CueNumber, Does, FollowFrom, Moment, SpotMove, Trigger,
};
use crate::time::Seconds;

use super::colour;
use super::limit::truth;
use super::moment::moment;
use super::number::{Between, LONGEST_S, cue_number, number, seconds};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::sentences;

pub(super) const CREWS: [(&str, Crew); 6] = [
    ("House", Crew::House),
    ("Light", Crew::Light),
    ("Sound", Crew::Sound),
    ("Spot", Crew::Spot),
    ("Fly", Crew::Fly),
    ("Deck", Crew::Deck),
];
const ENDS: [(&str, FollowFrom); 2] = [("Go", FollowFrom::Go), ("Complete", FollowFrom::Complete)];
const SPOT_MOVES: [(&str, SpotMove); 2] = [("Up", SpotMove::Up), ("Out", SpotMove::Out)];

/// One cue; `defaults` hold for the cues of their crews that do not say otherwise.
pub(super) fn cue<'a>(reader: &mut Reader, raw: Raw<'a>, defaults: &[CrewDefaults]) -> Option<Cue> {
    let before = reader.errors();
    let mut record = Record::open(reader, raw, "Cue")?;
    let crew = record.need(reader, "crew", |reader, raw| {
        reader.choice(raw, "crew", &CREWS).map(|crew| raw.placed(crew))
    });
    let numbered = record.may(reader, "number", cue_number);
    if let (Some(crew), Some(numbered)) = (&crew, &numbered) {
        reader.names.give_cue(crew.value, numbered.value);
    }
    let trigger = record.need(reader, "trigger", |reader, raw| {
        self::trigger(reader, raw, crew.as_ref().map(|crew| crew.value))
    });
    let when = when(reader, &mut record, trigger.as_ref());
    let does = record.need(reader, "does", |reader, raw| {
        sentences(reader, raw)
            .map(|words| Placed { value: Does::Written(words.value), at: words.at })
    });
    let of_crew =
        defaults.iter().find(|one| crew.as_ref().is_some_and(|crew| crew.value == one.crew.value));
    let written_count = record.may(reader, "count", count);
    let standby = record.may(reader, "standby", standby);
    let says_dark = record.may(reader, "dark", truth);
    let dark = says_dark.unwrap_or(false);
    let flashes = record.may(reader, "flashes", |reader, raw| {
        number(reader, raw, Between::above("a rate of flashes", 0.0, 1000.0, " a second"))
    });
    let light = record.may(reader, "light", colour::light);
    let spot = record.may(reader, "spot", |reader, raw| {
        reader.choice(raw, "move of the followspot", &SPOT_MOVES)
    });
    let spot_stays = record.may(reader, "spot_stays", truth).unwrap_or(false);
    let on_drop = record.may(reader, "on_drop", sentences);
    if let Some(crew) = &crew {
        fits_crew(reader, &record, crew.value, dark);
        light_fits(reader, &record, crew.value, dark || spot == Some(SpotMove::Out));
    }
    let usual_count = of_crew.and_then(|crew| crew.count.clone());
    let count = match (&crew, written_count) {
        (_, Some(count)) => Some(count),
        (Some(crew), None) if crew.value == Crew::Light && dark => {
            Some(Placed { value: Seconds::zero(), at: record.head() })
        }
        (Some(_), None) if record.place_of("count").is_none() && usual_count.is_some() => {
            usual_count
        }
        (Some(crew), None) if crew.value == Crew::Light && record.place_of("count").is_none() => {
            let message = "A Light cue has a `count`, the seconds that its fade takes, \
                           unless it is `dark`.";
            let fault = Diagnostic::error("missing-field", record.head(), message);
            reader.report(fault.label("`count` is missing"));
            None
        }
        _ => None,
    };
    // A follow goes by itself: nobody stands by for it unless its own line says so.
    let by_hand =
        !trigger.as_ref().is_some_and(|trigger| matches!(trigger.value, Trigger::Follow { .. }));
    let usual_standby = of_crew.filter(|_| by_hand).and_then(|crew| crew.standby.clone());
    record.close(reader);
    if reader.errors() > before {
        return None;
    }
    Some(Cue {
        at: raw.place(),
        crew: crew?,
        number: numbered,
        when,
        trigger: trigger?,
        does: does?,
        count,
        standby: standby.or(usual_standby),
        dark,
        says_dark: says_dark.is_some(),
        flashes,
        light,
        spot,
        spot_stays,
        on_drop,
    })
}

/// Seconds from GO to completion.
pub(super) fn count<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Seconds>> {
    seconds(reader, raw, Between::from("a count", 0.0, LONGEST_S, " seconds"))
}

/// Seconds from stand-by to GO.
pub(super) fn standby<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<Seconds>> {
    seconds(reader, raw, Between::from("a stand-by", 0.0, LONGEST_S, " seconds"))
}

/// When a cue goes: with the cue that it goes with or follows, every other at a moment.
fn when<'a>(
    reader: &mut Reader,
    record: &mut Record<'a>,
    trigger: Option<&Placed<Trigger>>,
) -> Option<Placed<Moment>> {
    let moment = record.may(reader, "at", moment);
    match trigger.map(|trigger| &trigger.value) {
        Some(trigger @ (Trigger::Follow { .. } | Trigger::With { .. })) => {
            let what = match trigger {
                Trigger::With { .. } => "This cue goes on the GO of another",
                _ => "A follow goes with the cue that it follows",
            };
            if let Some(at) = record.place_of("at") {
                let message = format!("{what}, so `at` has no meaning here.");
                let fault = Diagnostic::error("misplaced-field", at, message);
                reader.report(fault.label("leave it out"));
            }
            None
        }
        Some(_) if record.place_of("at").is_none() => {
            record.missing(reader, "at");
            None
        }
        _ => moment,
    }
}

/// Reports fields that mean nothing on this cue.
fn fits_crew<'a>(reader: &mut Reader, record: &Record<'a>, crew: Crew, dark: bool) {
    let mut misplaced = |field: &str, message: &str| {
        if let Some(at) = record.place_of(field) {
            let fault = Diagnostic::error("misplaced-field", at, message);
            reader.report(fault.label("means nothing here"));
        }
    };
    if crew != Crew::Light && dark {
        misplaced("dark", "Only a Light cue is `dark: true`.");
    }
    if crew != Crew::Spot {
        misplaced("spot", "Only a Spot cue says what the `spot` does.");
    }
    if !dark {
        misplaced("spot_stays", "Only a `dark` cue says that the followspot stays up.");
    }
}

/// Reports a colour of light where the cue brings up none.
fn light_fits<'a>(reader: &mut Reader, record: &Record<'a>, crew: Crew, out: bool) {
    let Some(at) = record.place_of("light") else { return };
    let message = match (crew, out) {
        (Crew::Light | Crew::Spot, false) => return,
        (Crew::Light, true) => "A `dark` cue brings up no `light`.",
        (Crew::Spot, true) => "A spot that goes out brings up no `light`.",
        _ => "Only a Light or a Spot cue says the colour of its `light`.",
    };
    let fault = Diagnostic::error("misplaced-field", at, message);
    reader.report(fault.label("means nothing here"));
}

/// How a cue is taken; `crew` is its own.
pub(super) fn trigger<'a>(
    reader: &mut Reader,
    raw: Raw<'a>,
    crew: Option<Crew>,
) -> Option<Placed<Trigger>> {
    const WHAT: &str = "way to take a cue";
    const FORMS: [Form; 5] = [
        ("See", "See(\"what is seen\")"),
        ("Hear", "Hear(\"what is heard\")"),
        ("Called", "Called"),
        ("With", "With(Light(20))"),
        ("Follow", "Follow(20, Complete, 3.5)"),
    ];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    let trigger = match word.value {
        "See" if rest.is_blank() => Trigger::See(None),
        "See" => {
            let seen = reader.argument(&word, rest, FORMS[0].1)?;
            Trigger::See(Some(sentences(reader, seen)?.value))
        }
        "Hear" => {
            let heard = reader.argument(&word, rest, FORMS[1].1)?;
            Trigger::Hear(sentences(reader, heard)?.value)
        }
        "Called" => reader.alone(&word, rest).then_some(Trigger::Called)?,
        "With" => {
            let other = reader.argument(&word, rest, FORMS[3].1)?;
            let (other_crew, number) = followed(reader, other)?;
            if let Some(of) = other_crew.or(crew) {
                reader.names.follow(of, number.clone());
            }
            Trigger::With { crew: other_crew, number }
        }
        "Follow" => follow(reader, &word, rest, crew, FORMS[4].1)?,
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            return None;
        }
    };
    Some(raw.placed(trigger))
}

/// A follow: the other cue, from which of its ends, and seconds after that.
fn follow<'a>(
    reader: &mut Reader,
    word: &Placed<&str>,
    rest: Raw<'a>,
    own: Option<Crew>,
    example: &str,
) -> Option<Trigger> {
    let arguments = reader.arguments(word, rest, 3..=3, example)?;
    let &[other, from, after] = &arguments[..] else { return None };
    let other = followed(reader, other);
    if let Some((crew, number)) = &other
        && let Some(crew) = crew.or(own)
    {
        reader.names.follow(crew, number.clone());
    }
    let from = reader.choice(from, "end of the other cue", &ENDS);
    let bounds = Between::from("the time after it", 0.0, LONGEST_S, " seconds");
    let after = seconds(reader, after, bounds);
    let (crew, number) = other?;
    Some(Trigger::Follow { crew, number, from: from?, after: after?.value })
}

/// The cue that is followed: `20` of the same crew or `Sound(20)` of another.
fn followed<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<(Option<Crew>, Placed<CueNumber>)> {
    if raw.word().is_none() {
        return cue_number(reader, raw).map(|number| (None, number));
    }
    let forms = CREWS.map(|(word, _)| (word, word));
    let (word, rest) = reader.word(raw, "crew", &forms)?;
    let Some(&(_, crew)) = CREWS.iter().find(|(known, _)| *known == word.value) else {
        reader.unknown_word("crew", &word, &forms);
        return None;
    };
    let number = reader.argument(&word, rest, "Sound(20)")?;
    Some((Some(crew), cue_number(reader, number)?))
}
