//! `throwbook midi`: tempo, markers and cue points as a MIDI file.

use throwbook::export::midi::midi;
use throwbook::sheet::rehearsal::sequence::{ALL_DEVICES, NotStarted, ShowControl, compose};

use super::arguments::Midi;
use super::output::{Output, shown, write_whole};
use super::rehearsal::{SEQUENCE, open, refused, say_left_out, say_open, spare_routines};
use super::routine_file::Ready;
use super::{Failure, Outcome};

/// Stands under every file that starts equipment.
const STARTS_BY_ITSELF: &str = "\
CAUTION  Show control starts equipment by itself, whatever happens on stage: it
does not wait for a late catch. Nothing that moves, burns or goes dark over a
juggler may hang on it alone; keep an operator at every crew.
These are pointers, not a clearance: local codes, the venue's rules and licensed
practice decide.
";

/// Writes the MIDI file.
pub(crate) fn run(arguments: &Midi, output: &mut Output) -> Result<Outcome, Failure> {
    let path = &arguments.output;
    spare_routines(path, "a MIDI file is one such as act.mid")?;
    let from = arguments.from.as_deref();
    let Some((Ready { act, .. }, media)) = open(&arguments.file, from, output)? else {
        return Ok(Outcome::Faulty);
    };
    let zero = media.zero.clone();
    let device = arguments.show_control.then(|| arguments.device_id.unwrap_or(ALL_DEVICES));
    let sequence = compose(&act, media, device).map_err(|why| refused(SEQUENCE, why, &zero))?;
    write_whole(path, &midi(&sequence))?;
    let (markers, cues) = (sequence.markers.len(), sequence.cue_points.len());
    let mut what = format!("markers {markers}, cue points {cues}");
    if let Some(control) = &sequence.show_control {
        what += &format!(", GO messages {}", control.starts.len());
    }
    output.results(&format!("wrote {}  ({what}; 0:00.0 is {zero})\n", shown(path)))?;
    say_left_out(&sequence.left_out, &zero, output);
    say_open(&sequence.media, output);
    if let Some(control) = &sequence.show_control {
        say_not_started(control, output);
        output.complaint(STARTS_BY_ITSELF);
    }
    Ok(Outcome::Fine)
}

/// Says which cues show control does not start.
fn say_not_started(control: &ShowControl, output: &Output) {
    if control.not_started.is_empty() {
        return;
    }
    let mut text = "not started by show control:\n".to_owned();
    for (cue, why) in &control.not_started {
        let why = match why {
            NotStarted::NoNumber => "it has no number".to_owned(),
            NotStarted::SameNumber(crew) => {
                format!("{} has that number for equipment of the same kind", crew.label())
            }
            NotStarted::OpenTime => "its time is open".to_owned(),
            NotStarted::Followspot => "a followspot is worked by a person".to_owned(),
        };
        text += &format!("  {cue}  ({why})\n");
    }
    output.complaint(&text);
}
