//! The rows of a contest's timekeeper: the signals that a limit asks for, by the watch.
//!
//! They hang on the limit's start and on nothing of the act, so that they are no cues of the
//! routine: they have no number, nothing follows them, and no show control hears of them.

use crate::act::Act;
use crate::issue::Told;
use crate::measure::contest_clock::enclosed;
use crate::routine::{Crew, Limit, TimeSignal};
use crate::time::written;

use super::cue_line::{CueLine, TriggerKind};
use super::stamp::{Stamp, StampClocks};
use super::words::{self, Text};

/// What a prop that drops means for a row that goes by the watch.
pub const ON_DROP: &str = "the watch runs on";

/// Lines in order of GO with the signals of every limit among them; a signal does not come between a
/// cue and what goes on its GO. Those whose time is not known come last.
pub(super) fn with_time_signals(act: &Act, mut lines: Vec<CueLine>) -> Vec<CueLine> {
    let clocks = StampClocks::of(act);
    let mut number = 0;
    for limit in &act.routine.limits {
        for signal in &limit.time_signals {
            number += 1;
            let line = line(act, &clocks, (limit, signal), number);
            let at = line.go.range();
            let is_later = |other: &CueLine| {
                let go = other.go.range();
                match (go.earliest(), at.earliest()) {
                    (Some(go), Some(at)) => other.with.is_none() && go > at,
                    (None, Some(_)) => true,
                    (_, None) => false,
                }
            };
            let place = lines.iter().position(is_later).unwrap_or(lines.len());
            lines.insert(place, line);
        }
    }
    lines
}

fn line(
    act: &Act,
    clocks: &StampClocks,
    (limit, signal): (&Limit, &TimeSignal),
    number: u16,
) -> CueLine {
    let starts = enclosed(act, &limit.starts.value, number);
    let go = starts.map(|starts| &starts + &signal.after);
    let stops = enclosed(act, &limit.stops.value, u16::MAX - number);
    let may_be_over = go.as_ref().zip(stops).is_some_and(|(go, stops)| {
        let (go, stops) = (go.range(), stops.range());
        go.latest().zip(stops.earliest()).is_some_and(|(go, stops)| go >= stops)
    });
    let mut notes = vec![format!("rule: {}", words::plain(&limit.rule))];
    if may_be_over {
        notes.push("only while the act is still on".to_owned());
    }
    let watch = words::moment(&limit.starts.value);
    CueLine {
        crew: Crew::Timekeeper,
        number: None,
        label: Crew::Timekeeper.label().to_owned(),
        go: go.map_or_else(Stamp::unknown, |go| clocks.stamp(&go)),
        standby: None,
        trigger: TriggerKind::Clock,
        when: Text::new(format!("{} on the watch, started at {watch}", written(&signal.after))),
        does: Text::new(&signal.says),
        count: None,
        notes,
        on_drop: Text::new(ON_DROP),
        on_drop_written: false,
        follows: None,
        with: None,
        dark: false,
        told: Told::Same,
        on: None,
    }
}
