//! The cues as they stand on paper, and what of that has changed since they were handed out.

use crate::act::Act;
use crate::issue::{Changes, Paper, changes};
use crate::routine::{Cue, CueOnPaper, Routine};

use super::cue_line::{CueLine, written};
use super::words;

/// The cues of the act and of its encore as they would stand on paper, in order of GO.
#[must_use]
pub fn papers(act: &Act) -> Vec<Paper> {
    let of = |(in_encore, act): (usize, &Act)| {
        let lines = written(act).into_iter();
        lines.map(|(cue, line)| paper(cue, &line, in_encore > 0)).collect::<Vec<_>>()
    };
    act.with_encore().enumerate().flat_map(of).collect()
}

/// What has changed since the last issue, where there is one; of the lines, so many are the act's.
pub(super) fn since(
    routine: &Routine,
    all: &[(&Cue, CueLine)],
    act_lines: usize,
) -> Option<Changes> {
    let issued = routine.issued.as_ref()?;
    let on_paper =
        |(index, (cue, line)): (usize, &(&Cue, CueLine))| paper(cue, line, index >= act_lines).cue;
    let now: Vec<CueOnPaper> = all.iter().enumerate().map(on_paper).collect();
    changes(issued, routine.issue, &now)
}

/// A line as it stands on paper.
fn paper(cue: &Cue, line: &CueLine, encore: bool) -> Paper {
    Paper {
        crew_at: cue.crew.at.clone(),
        number_at: cue.number.as_ref().map(|number| number.at.clone()),
        cue: CueOnPaper {
            crew: line.crew,
            number: cue.number.as_ref().map(|number| number.value),
            encore,
            go: line.go.range().clock(),
            standby: line.standby.as_ref().map(|standby| standby.range().clock()),
            trigger: line.trigger.word().to_owned(),
            when: line.when.plain(),
            does: line.does.plain(),
            count: line.count.as_ref().map(words::count),
            on_drop: line.on_drop_written.then(|| line.on_drop.plain()),
            dark: line.dark,
        },
    }
}
