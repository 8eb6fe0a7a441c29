//! `throwbook listen`: what is heard in a music file.

use super::arguments::Listen;
use super::output::Output;
use super::{Failure, Outcome};

/// Listens to the file and prints what it heard, with a proposal for the routine file.
#[cfg(feature = "audio")]
pub(crate) fn run(arguments: &Listen, output: &mut Output) -> Result<Outcome, Failure> {
    use throwbook::export::{listening_json, listening_text};
    use throwbook::sheet::listening::compose;
    use throwbook::sound::listen;

    use super::arguments::Format;
    use super::music_file;
    use super::output::width_of_results;

    let path = &arguments.track;
    // A file that is not there is told from one that cannot be heard.
    std::fs::metadata(path).map_err(|error| Failure::with_file("read", path, &error))?;
    let recording = music_file::recording(path)
        .map_err(|why| Failure::new(format!("cannot listen to {}: it {why}", path.display())))?;
    let name =
        path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let sheet = compose(&name, listen(&recording));
    output.results(&match arguments.format {
        Format::Text => listening_text::text(&sheet, width_of_results()),
        Format::Json => listening_json::json(&sheet),
    })?;
    Ok(Outcome::Fine)
}

/// Says that this program cannot listen.
#[cfg(not(feature = "audio"))]
pub(crate) fn run(arguments: &Listen, _output: &mut Output) -> Result<Outcome, Failure> {
    let Listen { track, format: _ } = arguments;
    Err(Failure::new(format!(
        "cannot listen to {}: this throwbook was built without the feature `audio`",
        track.display()
    )))
}
