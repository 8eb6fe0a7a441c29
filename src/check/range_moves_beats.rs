//! A length that is left open changes more than times: the beats of a section, or a pause that
//! would have none left.

use crate::diagnostic::{Diagnostic, Place};
use crate::routine::Part;
use crate::time::seconds_text;
use crate::timeline::{MovedByRange, Trouble, Uncertain};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "range-moves-beats",
    what: "A pause or a hold that lasts as long as it takes leaves every section its beats.",
    why: "A section that is thrown until a mark of the music cannot be practised if nobody knows \
          how many throws that is.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:06")),
        Juggle(name: "beam", pattern: "3", lasts: Until(At("0:30.2"))),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:06")),
        Pause(name: "pose", lasts: Until(At("0:18.2"))),
        Juggle(name: "beam", pattern: "3", lasts: Until(At("0:30.2"))),
"#
    ),
    finds: Finds::Compiled(moves_beats),
};

pub(super) const TOO_SHORT: Check = Check {
    code: "range-too-long",
    what: "A pause until a moment is still there when what is before it lasts its longest.",
    why: "A pause until a moment takes up what is uncertain before it, and can take up no more \
          than its own length.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:09")),
        Pause(name: "pose", lasts: Until(At("0:15"))),
        Juggle(name: "beam", pattern: "3", lasts: Beats(20)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:09")),
        Pause(name: "pose", lasts: Until(At("0:16"))),
        Juggle(name: "beam", pattern: "3", lasts: Beats(20)),
"#
    ),
    finds: Finds::Compiled(too_long),
};

pub(super) const TOO_MANY: Check = Check {
    code: "too-many-ranges",
    what: "A routine leaves at most 24 lengths open, and fewer where it has very many beats.",
    why: "Each one is followed through the whole routine on its own.",
    raises: MANY,
    mended: FEWER,
    finds: Finds::Compiled(too_many),
};

macro_rules! talks {
    ($($name:literal)*) => {
        concat!($("        Pause(name: \"", $name, "\", lasts: Between(\"0:01\", \"0:02\")),\n"),*)
    };
}

macro_rules! with_score {
    ($score:expr) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    lead: Right,\n    tempo: PerMinute(200),\n",
            "    colours: { \"coral\": \"#ec6a5c\" },\n    sets: { \"one\": Set(kind: Ball, ",
            "length: 0.07, colours: [\"coral\"]) },\n    score: [\n        Juggle(name: \"tide\", ",
            "set: \"one\", pattern: \"1\", lasts: Beats(6)),\n",
            $score,
            "    ],\n)\n"
        )
    };
}

const FEWER: &str = with_score!(
    talks!("a" "b" "c" "d" "e" "f" "g" "h" "i" "j" "k" "l" "m" "n" "o" "p" "q" "r" "s" "t" "u" "v" "w" "x")
);
const MANY: &str = with_score!(
    talks!("a" "b" "c" "d" "e" "f" "g" "h" "i" "j" "k" "l" "m" "n" "o" "p" "q" "r" "s" "t" "u" "v" "w" "x" "y")
);

/// What is left open: its name in words, and where its length is written.
fn open(case: &Case<'_>, by: Uncertain) -> (String, Place) {
    match by {
        Uncertain::Pause(index) => {
            let section = case.section(index);
            let at = match &section.part {
                Part::Pause(pause) => pause.lasts.at.clone(),
                Part::Juggle(_) | Part::Unread => section.at.clone(),
            };
            (format!("\"{}\"", section.name.value), at)
        }
        Uncertain::Hold { track, hold } => {
            let track = case.routine.all_tracks().nth(track);
            match track.and_then(|(_, track)| track.holds.get(hold)) {
                Some(hold) => (format!("the hold \"{}\"", hold.name.value), hold.at.clone()),
                None => unreachable!("the compiler names holds of this routine"),
            }
        }
    }
}

fn moves_beats(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.troubles().filter_map(|trouble| {
        let Trouble::Range { section, by, moved: MovedByRange::Beats } = trouble else {
            return None;
        };
        let section = case.section(*section);
        let (name, at) = open(case, *by);
        let lasts = match &section.part {
            Part::Juggle(juggle) => juggle.lasts.at.clone(),
            Part::Pause(_) | Part::Unread => section.at.clone(),
        };
        let message = format!(
            "how many beats \"{}\" has would depend on how long {name} lasts",
            section.name.value
        );
        Some(
            Diagnostic::error(CHECK.code, lasts, message)
                .label("until this moment")
                .note_at(at, "That is left open here.")
                .help("Give it beats or cycles: the sections behind it then come in a range.")
                .help("Put a `Pause` until a moment before it, which takes up what is uncertain."),
        )
    });
    found.collect()
}

fn too_long(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.troubles().filter_map(|trouble| {
        let Trouble::Range { section, by, moved: MovedByRange::Negative(lasts) } = trouble else {
            return None;
        };
        let section = case.section(*section);
        let (name, at) = open(case, *by);
        let place = match &section.part {
            Part::Pause(pause) => pause.lasts.at.clone(),
            Part::Juggle(_) | Part::Unread => section.at.clone(),
        };
        let short = seconds_text(&lasts.abs());
        let message = format!(
            "the pause \"{}\" would end {short} before it starts where {name} lasts its longest",
            section.name.value
        );
        Some(
            Diagnostic::error(TOO_SHORT.code, place, message)
                .label("already past")
                .note_at(at, "That is left open here.")
                .help(format!("End the pause at least {short} later.",))
                .help(format!("Let {name} last {short} less at its longest.")),
        )
    });
    found.collect()
}

fn too_many(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.troubles().filter_map(|trouble| {
        let Trouble::TooUncertain { by, most } = trouble else { return None };
        let (_, at) = open(case, *by);
        let message = format!("a routine of this length leaves at most {most} lengths open");
        Some(
            Diagnostic::error(TOO_MANY.code, at, message)
                .label("one too many")
                .help("Give those that matter least one length, with `For`."),
        )
    });
    found.collect()
}
