//! What the commands of the files to rehearse by share: how they begin, and what they say of what
//! they leave out.

use std::path::Path;

use throwbook::export::earliest_text::earliest;
use throwbook::export::{captions as captions_text, click_wav, midi as midi_bytes};
use throwbook::read::read_moment;
use throwbook::sheet::rehearsal::clicks::{self, ClickTrack, Per};
use throwbook::sheet::rehearsal::{LeftOut, Media, Refused, captions, sequence};
use throwbook::time::{Seconds, clock};

use super::Failure;
use super::output::Output;
use super::routine_file::{Ready, RoutineFile};

/// How wide the notes on standard error are, in columns.
const WIDTH: u16 = 80;

/// Opens a routine and finds where its file begins. `None` where the routine has errors.
pub(crate) fn open(
    file: &Path,
    from: Option<&str>,
    output: &Output,
) -> Result<Option<(Ready, Media)>, Failure> {
    let Some(ready) = RoutineFile::read(file)?.ready(output) else { return Ok(None) };
    let media = media(&ready, from, output)?;
    Ok(Some((ready, media)))
}

/// The clock of a file that begins at a moment, or where it usually does.
pub(crate) fn media(ready: &Ready, from: Option<&str>, output: &Output) -> Result<Media, Failure> {
    let Ready { act, .. } = ready;
    let moment = match from.map(|text| (text, read_moment(&act.routine, text))) {
        None => None,
        Some((_, Ok(moment))) => Some(moment),
        Some((text, Err(diagnostics))) => {
            output.diagnostics(&diagnostics, "--from", text);
            return Err(Failure::new("--from names no moment of this routine"));
        }
    };
    Media::new(act, moment.as_ref())
        .map_err(|why| Failure::new(format!("--from: this moment never comes: {}", why)))
}

/// A slip of the pen must not cost a routine.
pub(crate) fn spare_routines(output: &Path, what: &str) -> Result<(), Failure> {
    if output.extension().is_some_and(|extension| extension == "ron") {
        let output = output.display();
        return Err(Failure::new(format!("{output} is a routine file; {what}")));
    }
    Ok(())
}

/// A kind of file, what it needs something of, and the command that writes it.
pub(crate) type Kind = (&'static str, &'static str, &'static str);

/// A click track.
pub(crate) const CLICKS: Kind = ("click track", "nothing is clicked", "click");
/// A MIDI file.
pub(crate) const SEQUENCE: Kind = ("MIDI file", "no section and no cue of the act comes", "midi");
/// Captions.
pub(crate) const CAPTIONS: Kind =
    ("captions", "no section and no cue of the act comes", "captions");

/// Why a file cannot be made, in words.
pub(crate) fn refused((what, nothing, command): Kind, why: Refused, zero: &str) -> Failure {
    Failure::new(match why {
        Refused::NoBars => format!(
            "no {what}: the routine has no music with `bars`, so its music beats are not known; \
             --per throw needs none"
        ),
        Refused::Nothing => format!("no {what}: {nothing} after {zero}"),
        Refused::TooLong => format!(
            "no {what}: the act ends more than two hours after {zero}; \
             `throwbook {command} --from MOMENT` begins it later"
        ),
    })
}

/// Says what comes before a file's zero.
pub(crate) fn say_left_out(left_out: &[LeftOut], zero: &str, output: &Output) {
    say(&format!("left out, before {zero}"), left_out, output);
}

/// Says that times are the earliest, where they hang on what is left open.
pub(crate) fn say_open(media: &Media, output: &Output) {
    output.complaint(&earliest(media, WIDTH));
}

fn say(words: &str, left_out: &[LeftOut], output: &Output) {
    if left_out.is_empty() {
        return;
    }
    let mut text = format!("{words}:\n");
    for one in left_out {
        text += &format!("  {:>8}  {}\n", clock(&one.at), one.what);
    }
    output.complaint(&text);
}

/// Says that there is no room for a count-in, and how to make some.
pub(crate) fn say_no_room(track: &ClickTrack, output: &Output) {
    if let Some(beats) = track.no_room_for {
        output.complaint(&format!(
            "no count-in: {} leaves no room for it; --count-in {beats} makes room in front\n",
            track.media.zero
        ));
    }
}

/// A file to rehearse by: the end of its name, its bytes and what it is.
pub(crate) type Document = (&'static str, Vec<u8>, &'static str);

/// All that a routine can be rehearsed by, each as it usually is. What cannot be made is said on
/// standard error and missing.
pub(crate) fn documents(ready: &Ready, output: &Output) -> Result<Vec<Document>, Failure> {
    let Ready { act, .. } = ready;
    let media = media(ready, None, output)?;
    let mut documents: Vec<Document> = Vec::new();
    let missing = |what, why| output.failure(&refused(what, why, &media.zero));
    match clicks::compose(act, media.clone(), Per::Throw, None) {
        Ok(track) => documents.push(("click.wav", click_wav::wav(&track), "click track")),
        Err(why) => missing(CLICKS, why),
    }
    match sequence::compose(act, media.clone(), None) {
        Ok(sequence) => documents.push((
            "act.mid",
            midi_bytes::midi(&sequence),
            "tempo, markers and cue points as MIDI",
        )),
        Err(why) => missing(SEQUENCE, why),
    }
    match captions::compose(media.clone()) {
        Ok(captions) => {
            let (vtt, srt) = (captions_text::vtt(&captions), captions_text::srt(&captions));
            documents.push(("captions.vtt", vtt.into_bytes(), "captions, WebVTT"));
            documents.push(("captions.srt", srt.into_bytes(), "captions, SubRip"));
        }
        Err(why) => missing(CAPTIONS, why),
    }
    if !documents.is_empty() {
        let words = format!("left out of the files to rehearse by, before {}", media.zero);
        say(&words, &media.left_out(), output);
        say_open(&media, output);
    }
    Ok(documents)
}

/// Where a file's zero stands, as in `0:00.0 is track start`, or how far into it.
pub(crate) fn zero_words(zero: &str, lead_in: &Seconds) -> String {
    if *lead_in > Seconds::zero() {
        format!("{zero} comes {:.3} s into it", lead_in.to_f64())
    } else {
        format!("0:00.0 is {zero}")
    }
}
