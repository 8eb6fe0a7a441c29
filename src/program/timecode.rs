//! The time codes that a command prints.

use throwbook::time::{FrameRate, Timecode};

use super::Failure;
use super::arguments::TimecodeChoice;

/// The time code with which the clock begins; `None` where none are asked for.
pub(crate) fn timecode(choice: &TimecodeChoice) -> Result<Option<Timecode>, Failure> {
    let Some(rate) = choice.timecode.map(FrameRate::from) else { return Ok(None) };
    let start = match &choice.timecode_start {
        Some(text) => Timecode::read(text, rate)
            .map_err(|why| Failure::new(format!("--timecode-start: {why}")))?,
        None => Timecode::of_frame(rate, 0),
    };
    Ok(Some(start))
}
