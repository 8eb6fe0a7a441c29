//! `throwbook captions`: captions for a rehearsal's video.

use throwbook::diagnostic::words::counted;
use throwbook::export::captions::{srt, vtt};
use throwbook::sheet::rehearsal::captions::compose;

use super::arguments::Captions;
use super::output::{Output, shown, write_whole};
use super::rehearsal::{CAPTIONS, open, refused, say_left_out, say_open};
use super::{Failure, Outcome};

/// Writes the captions in the format that the file's name asks for.
pub(crate) fn run(arguments: &Captions, output: &mut Output) -> Result<Outcome, Failure> {
    let path = &arguments.output;
    let ending = path.extension().map(|ending| ending.to_ascii_lowercase());
    let write = match ending.as_ref().and_then(|ending| ending.to_str()) {
        Some("vtt") => vtt,
        Some("srt") => srt,
        _ => {
            let path = path.display();
            return Err(Failure::new(format!(
                "{path} names no format; captions are WebVTT, as in act.vtt, or SubRip, as in act.srt"
            )));
        }
    };
    let from = arguments.from.as_deref();
    let Some((_, media)) = open(&arguments.file, from, output)? else {
        return Ok(Outcome::Faulty);
    };
    let zero = media.zero.clone();
    let captions = compose(media).map_err(|why| refused(CAPTIONS, why, &zero))?;
    write_whole(path, write(&captions).as_bytes())?;
    let count = counted(captions.captions.len(), "caption");
    output.results(&format!("wrote {}  ({count}; 0:00.0 is {zero})\n", shown(path)))?;
    say_left_out(&captions.left_out, &zero, output);
    say_open(&captions.media, output);
    Ok(Outcome::Fine)
}
