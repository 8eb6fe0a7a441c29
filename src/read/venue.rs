//! What a venue asks before the act arrives, and the places of its stage plan.

use crate::diagnostic::words::either;
use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::routine::{Haze, OnPlan, PlanPlace, StagePlace, Venue, words_of};

use super::number::{Between, length_of_time, number, whole};
use super::raw::Raw;
use super::reader::{Form, Reader};
use super::record::Record;
use super::text::{sentences, text};

/// Words that speak of the stage itself: a place of these alone is one of the nine, or none.
const OF_THE_STAGE: [&str; 16] = [
    "up",
    "down",
    "centre",
    "center",
    "middle",
    "mid",
    "left",
    "right",
    "stage",
    "upstage",
    "downstage",
    "back",
    "rear",
    "front",
    "of",
    "the",
];

/// The venue's entry; what of it cannot be read is left out.
pub(super) fn venue<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Venue> {
    let mut record = Record::open(reader, raw, "Venue")?;
    let performers = record.may(reader, "performers", |reader, raw| {
        whole(reader, raw, Between::from("the number of performers", 1.0, 100.0, ""))
    });
    let helpers = record.may(reader, "helpers", |reader, raw| {
        whole(reader, raw, Between::from("the number of helpers", 0.0, 100.0, ""))
    });
    let metres = |what| {
        move |reader: &mut Reader, raw: Raw<'a>| {
            number(reader, raw, Between::above(what, 0.0, 100.0, " m"))
        }
    };
    let width = record.may(reader, "width", metres("the width of the stage"));
    let depth = record.may(reader, "depth", metres("the depth of the stage"));
    let mut said = |reader: &mut Reader, name| {
        record.may(reader, name, sentences).map(|said: Placed<String>| said.value)
    };
    let floor = said(reader, "floor");
    let light = said(reader, "light");
    let sound = said(reader, "sound");
    let power = said(reader, "power");
    let fuel = said(reader, "fuel");
    let spotter = said(reader, "spotter");
    let blanket = said(reader, "blanket");
    let extinguisher = said(reader, "extinguisher");
    let low_room = said(reader, "low_room");
    let no_blackout = said(reader, "no_blackout");
    let contact = said(reader, "contact");
    let intro = said(reader, "intro");
    let plan = record.may(reader, "plan", |reader, raw| {
        Some(reader.short_list(raw, "things on a stage plan", on_plan))
    });
    let haze = record.may(reader, "haze", haze);
    let rehearsal = record.may(reader, "rehearsal", length_of_time);
    record.close(reader);
    Some(Venue {
        at: raw.place(),
        performers: performers.map(|performers| performers.value),
        helpers: helpers.map(|helpers| helpers.value),
        width: width.map(|width| width.value),
        depth: depth.map(|depth| depth.value),
        floor,
        light,
        sound,
        power,
        plan: plan.unwrap_or_default(),
        fuel,
        spotter,
        blanket,
        extinguisher,
        haze,
        low_room,
        no_blackout,
        rehearsal: rehearsal.map(|rehearsal| rehearsal.value),
        contact,
        intro,
    })
}

/// Whether the act makes haze.
fn haze<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Haze> {
    const WHAT: &str = "haze";
    const FORMS: [Form; 2] = [("Nothing", "Nothing"), ("Made", "Made(\"a little, from water\")")];
    let (word, rest) = reader.word(raw, WHAT, &FORMS)?;
    match word.value {
        "Nothing" => reader.alone(&word, rest).then_some(Haze::Nothing),
        "Made" => {
            let which = reader.argument(&word, rest, FORMS[1].1)?;
            Some(Haze::Made(sentences(reader, which)?.value))
        }
        _ => {
            reader.unknown_word(WHAT, &word, &FORMS);
            None
        }
    }
}

/// A place and what is there.
fn on_plan<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<OnPlan> {
    const EXAMPLE: &str = "(\"down centre\", \"sand tray\")";
    let Some(&[place, what]) = raw.arguments().as_deref() else {
        return reader.shape(raw, &format!("a place and what is there, {EXAMPLE},"));
    };
    let (place, what) = (text(reader, place), text(reader, what));
    let (place, what) = place.zip(what)?;
    Some(OnPlan { place: place_of(reader, &place)?, what: what.value })
}

/// One of the nine places on stage, or another one in its user's words.
fn place_of(reader: &mut Reader, written: &Placed<String>) -> Option<PlanPlace> {
    if let Some(place) = StagePlace::of(&written.value) {
        return Some(PlanPlace::OnStage(place));
    }
    let words: Vec<String> = words_of(&written.value).collect();
    if words.iter().any(|word| !OF_THE_STAGE.contains(&word.as_str())) {
        return Some(PlanPlace::Beside(written.value.clone()));
    }
    let message = format!("\"{}\" is no place on stage.", written.value);
    let fault = Diagnostic::error("not-on-stage", written.at.clone(), message).label("nowhere");
    reader.report(match meant(&words) {
        Some(place) => instead(fault, &written.at, place),
        None => {
            let places: Vec<String> = StagePlace::all().map(|place| format!("`{place}`")).collect();
            let places = either(&places);
            fault.help(format!("Write {places}, or any words for a place beside the stage."))
        }
    });
    None
}

fn instead(fault: Diagnostic, at: &Place, place: StagePlace) -> Diagnostic {
    fault.help_edit(format!("Write `{place}`."), at.clone(), format!("\"{place}\""))
}

/// The place that is probably meant: of another order, of another spelling, or of one side only.
fn meant(words: &[String]) -> Option<StagePlace> {
    let known = words.iter().filter_map(|word| match word.as_str() {
        "upstage" | "back" | "rear" => Some("up"),
        "downstage" | "front" => Some("down"),
        "center" | "middle" | "mid" | "centre" => Some("centre"),
        "up" => Some("up"),
        "down" => Some("down"),
        "left" => Some("left"),
        "right" => Some("right"),
        _ => None,
    });
    match known.collect::<Vec<_>>().as_slice() {
        [one] => StagePlace::of(&format!("{one} centre"))
            .or_else(|| StagePlace::of(&format!("centre {one}"))),
        [one, two] => StagePlace::of(&format!("{one} {two}"))
            .or_else(|| StagePlace::of(&format!("{two} {one}"))),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Severity;
    use crate::open;
    use crate::routine::Routine;

    fn text(venue: &str) -> String {
        format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"3\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) }}, score: [\
             Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(4))], venue: {venue})"
        )
    }

    fn routine(venue: &str) -> Routine {
        let opened = open(&text(venue));
        assert_eq!(opened.errors(), 0, "{venue}: {:?}", opened.diagnostics);
        opened.act.unwrap().routine
    }

    /// Each fault as its code and its message, and what it offers.
    fn faults(venue: &str) -> Vec<(&'static str, String, Vec<String>)> {
        let faults = open(&text(venue)).diagnostics.into_iter();
        let errors = faults.filter(|one| one.severity == Severity::Error);
        let of = |one: Diagnostic| {
            let helps = one.helps.iter().map(|help| help.text.clone()).collect();
            (one.code, one.message, helps)
        };
        errors.map(of).collect()
    }

    #[test]
    fn everything_of_a_venue_may_be_left_out() {
        let empty = routine("Venue()");
        let venue = empty.venue.as_deref().unwrap();
        assert_eq!(*venue, Venue { at: venue.at.clone(), ..Venue::default() });
        assert_eq!(routine("Venue(plan: [])").venue.unwrap().plan, []);
    }

    #[test]
    fn what_is_written_is_read_and_an_encore_has_it_too() {
        let written = routine(
            "Venue(performers: 2, helpers: 0, width: 6.5, depth: 100, floor: \"flat\", light: \
             \"sides\", sound: \"monitor\", power: \"one socket\", fuel: \"oil\", spotter: \"one\", \
             blanket: \"two\", extinguisher: \"foam\", haze: Made(\"low\"), low_room: \"short\", \
             no_blackout: \"lit\", rehearsal: \"20:00\", contact: \"a@b\", intro: \"Now\", plan: [\
             (\"Down  centre\", \"tray\"), (\"centre\", \"lamp\"), (\"left wing\", \"helper\")]), \
             encore: Encore(score: [Pause(name: \"again\", lasts: For(\"0:05\"))])",
        );
        let venue = written.venue.as_deref().unwrap();
        assert_eq!((venue.performers, venue.helpers), (Some(2), Some(0)));
        assert_eq!((venue.width, venue.depth), (Some(6.5), Some(100.0)));
        assert_eq!(venue.haze, Some(Haze::Made("low".to_owned())));
        assert_eq!(venue.rehearsal.as_ref().map(|time| time.to_f64()), Some(1200.0));
        let place = |words| PlanPlace::OnStage(StagePlace::of(words).unwrap());
        let places: Vec<&PlanPlace> = venue.plan.iter().map(|on_plan| &on_plan.place).collect();
        let beside = PlanPlace::Beside("left wing".to_owned());
        assert_eq!(places, [&place("down centre"), &place("centre"), &beside]);
        assert_eq!(written.encore.as_ref().unwrap().routine.venue, written.venue);
    }

    #[test]
    fn a_place_that_is_not_on_the_stage_says_where_one_may_be_meant() {
        for (place, offered) in [
            ("left down", Some("Write `down left`.")),
            ("down center", Some("Write `down centre`.")),
            ("front", Some("Write `down centre`.")),
            ("Upstage Left", Some("Write `up left`.")),
            ("right", Some("Write `centre right`.")),
            ("stage left", Some("Write `centre left`.")),
            ("up down", None),
            ("left right centre", None),
            ("?", None),
        ] {
            let found = faults(&format!("Venue(plan: [({place:?}, \"tray\")])"));
            let [(code, message, helps)] = found.as_slice() else { panic!("{place}: {found:?}") };
            let expected = (*code, message.as_str(), helps.len());
            assert_eq!(
                expected,
                ("not-on-stage", &*format!("\"{place}\" is no place on stage."), 1)
            );
            match offered {
                Some(offered) => assert!(helps[0].starts_with(offered), "{place}: {helps:?}"),
                None => assert!(helps[0].starts_with("Write `up right`, "), "{place}: {helps:?}"),
            }
        }
    }

    #[test]
    fn bad_values_are_all_told_at_once() {
        let long = "m".repeat(201);
        let longer = "m".repeat(2001);
        let found = faults(&format!(
            "Venue(performers: 0, helpers: 101, width: 0, depth: -3, floor: \"\", light: \
             \"{longer}\", plan: [(\"centre\", \"{long}\"), (\"centre\", \" \"), \"tray\"], haze: \
             \"none\", rehearsal: \"-0:05\", contract: \"me\")"
        ));
        let codes: Vec<&str> = found.iter().map(|(code, ..)| *code).collect();
        assert_eq!(
            codes,
            [
                "out-of-range",
                "out-of-range",
                "out-of-range",
                "out-of-range",
                "empty-text",
                "text-too-long",
                "text-too-long",
                "empty-text",
                "wrong-shape",
                "wrong-shape",
                "out-of-range",
                "unknown-field",
            ]
        );
        let message = |index: usize| found[index].1.as_str();
        assert_eq!(message(2), "The width of the stage is above 0 and at most 100 m; this is 0.");
        assert!(message(8).contains("(\"down centre\", \"sand tray\")"), "{}", message(8));
        let forms = "a haze (`Nothing` or `Made(\"a little, from water\")`)";
        assert!(message(9).contains(forms), "{}", message(9));
        assert_eq!(found[11].2, ["Write `contact`."]);
    }
}
