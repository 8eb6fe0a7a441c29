//! `throwbook click`: a click track.

use throwbook::diagnostic::words::counted;
use throwbook::export::click_wav;
use throwbook::sheet::rehearsal::clicks::{Per, compose};
use throwbook::time::clock;

use super::arguments::{Click, PerName};
use super::output::{Output, shown, write_whole};
use super::rehearsal::{
    CLICKS, open, refused, say_left_out, say_no_room, say_open, spare_routines, zero_words,
};
use super::routine_file::Ready;
use super::{Failure, Outcome};

/// Writes the click track and says where it begins.
pub(crate) fn run(arguments: &Click, output: &mut Output) -> Result<Outcome, Failure> {
    let path = &arguments.output;
    spare_routines(path, "a click track is a WAV file, such as click.wav")?;
    let per = match (arguments.per, arguments.through_pauses) {
        (PerName::MusicBeat, through_pauses) => Per::MusicBeat { through_pauses },
        (PerName::Throw, false) => Per::Throw,
        (PerName::Throw, true) => {
            let why = "--through-pauses is for music beats: nothing is thrown in a pause; add \
                       --per music-beat";
            return Err(Failure::new(why));
        }
    };
    let from = arguments.from.as_deref();
    let Some((Ready { act, .. }, media)) = open(&arguments.file, from, output)? else {
        return Ok(Outcome::Faulty);
    };
    let zero = media.zero.clone();
    let track =
        compose(&act, media, per, arguments.count_in).map_err(|why| refused(CLICKS, why, &zero))?;
    write_whole(path, &click_wav::wav(&track))?;
    let clicks = counted(track.clicks.len(), "click");
    output.results(&format!(
        "wrote {}  ({clicks} in {}; {})\nStart at a low volume: clicks reach 6 dB below full scale.\n",
        shown(path),
        clock(&track.lasts),
        zero_words(&zero, &track.lead_in)
    ))?;
    say_left_out(&track.left_out, &zero, output);
    say_open(&track.media, output);
    say_no_room(&track, output);
    Ok(Outcome::Fine)
}
