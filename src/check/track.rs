//! The music file: it is there, it can be heard, and it is as long as the routine says. Found only
//! where somebody looked for it (see [`crate::sound::Tracks`]).

use crate::diagnostic::{Diagnostic, words};
use crate::sound::{Found, Heard, Unheard};
use crate::time::{Seconds, clock, seconds_text, written};

use super::{Case, Check, Finds};

/// A file may be so many seconds longer or shorter than the routine says: a tenth.
const APART_S: (i64, i64) = (1, 10);

pub(super) const LENGTH: Check = Check {
    code: "track-length",
    what: "The music file is as long as the routine says, to a tenth of a second.",
    why: "Everything that hangs on the end of the track is wrong by as much, and a file of another \
          length is often another edit, whose marks lie elsewhere too.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
"#,
        r#"    music: Track(file: "a-minute.wav", length: "1:02.0", starts: Start("tide")),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
"#,
        r#"    music: Track(file: "a-minute.wav", length: "1:00.0", starts: Start("tide")),
"#
    ),
    finds: Finds::Compiled(lengths),
};

pub(super) const MISSING: Check = Check {
    code: "track-missing",
    what: "The music file lies where the routine says, beside the routine file.",
    why: "A length that nobody can check is a promise, and a technician needs the file itself.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
"#,
        r#"    music: Track(file: "missing.wav", length: "1:00.0", starts: Start("tide")),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
"#,
        r#"    music: Track(file: "a-minute.wav", length: "1:00.0", starts: Start("tide")),
"#
    ),
    finds: Finds::Compiled(missing),
};

pub(super) const UNREADABLE: Check = Check {
    code: "track-unreadable",
    what: "The music file is a whole WAV, FLAC, MP3, Ogg Vorbis or M4A.",
    why: "A copy that was cut off plays until it stops, in the middle of the act.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
"#,
        r#"    music: Track(file: "cut-off.wav", length: "1:00.0", starts: Start("tide")),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
"#,
        r#"    music: Track(file: "a-minute.wav", length: "1:00.0", starts: Start("tide")),
"#
    ),
    finds: Finds::Compiled(unreadable),
};

fn lengths(case: &Case<'_>) -> Vec<Diagnostic> {
    let tracks = case.routine().all_tracks().map(|(_, track)| track);
    tracks
        .filter_map(|track| {
            let file = track.file.as_ref()?;
            let Heard { length, .. } = case.act.heard.heard(&file.value)?;
            let says = &track.length.value;
            let apart = length - says;
            if apart.abs() <= Seconds::fraction(APART_S.0, APART_S.1) {
                return None;
            }
            let (more, than) = if apart.is_negative() { ("shorter", "less") } else { ("longer", "more") };
            let message = format!(
                "The music file is {} long, {} {more} than the routine says.",
                clock(length),
                seconds_text(&apart.abs())
            );
            let length = written(length);
            let fault = Diagnostic::error(LENGTH.code, track.length.at.clone(), message)
                .label(format!("the file has {than}"))
                .note_at(file.at.clone(), "This file was listened to.")
                .help_edit(
                    format!("Write the length of the file, \"{length}\", and listen whether the marks still fit."),
                    track.length.at.clone(),
                    format!("\"{length}\""),
                );
            Some(fault)
        })
        .collect()
}

fn missing(case: &Case<'_>) -> Vec<Diagnostic> {
    let files = case.routine().all_tracks().filter_map(|(_, track)| track.file.as_ref());
    let missing = files.filter(|file| *case.act.heard.found(&file.value) == Found::Missing);
    missing
        .map(|file| {
            let message = "This music file is not there, so its length is not checked.";
            Diagnostic::warning(MISSING.code, file.at.clone(), message)
                .label("not found")
                .help("Put the file beside the routine file, or write where it lies from there.")
        })
        .collect()
}

fn unreadable(case: &Case<'_>) -> Vec<Diagnostic> {
    let files = case.routine().all_tracks().filter_map(|(_, track)| track.file.as_ref());
    files
        .filter_map(|file| {
            let Found::Unreadable(why) = case.act.heard.found(&file.value) else {
                return None;
            };
            let help = match why {
                Unheard::TooLong | Unheard::TooMuch | Unheard::BeyondMusic { .. } => {
                    "Save what the act needs of it as a file of its own, in two channels of 48000 \
                     samples a second."
                }
                Unheard::Empty
                | Unheard::NotSound
                | Unheard::CutOff { .. }
                | Unheard::Broken(_) => {
                    "Copy the file again from where it came, or save it again as WAV or FLAC."
                }
            };
            let message = words::sentence(&format!("The music file {why}"));
            let fault = Diagnostic::error(UNREADABLE.code, file.at.clone(), message)
                .label("cannot be heard")
                .help(help);
            Some(fault)
        })
        .collect()
}
