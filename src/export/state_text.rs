//! The state of every desk after each cue, for a terminal and for print.

use std::collections::BTreeSet;

use crate::routine::{Desk, Routine};
use crate::sheet::cues::{CueLine, compose};
use crate::sheet::state::{State, states};
use crate::sheet::words::desk_label;
use crate::time::clock;
use crate::timeline::Timeline;

use super::cues_text::heading;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, table};

/// Which cue every desk is in after each cue, `width` columns wide.
#[must_use]
pub fn text(routine: &Routine, timeline: &Timeline, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let sheet = compose(routine, timeline, None);
    let mut text = paragraph(width, 0, &heading(&sheet));
    text += &paragraph(
        width,
        0,
        &format!(
            "The cue that every desk is in after each GO. 0:00.0 on the show clock is {}.",
            sheet.zero
        ),
    );
    text.push('\n');
    let states = states(&sheet);
    if states.is_empty() {
        return text + "No cues.\n";
    }
    let desks: BTreeSet<Desk> = states.iter().map(|state| state.after.desk).collect();
    let mut columns = vec![(Column::Figure, "time"), (Column::Words, "after")];
    columns.extend(desks.iter().map(|desk| (Column::Words, desk_label(*desk))));
    // One row for each GO, whatever goes on it; those of the act first.
    let act = sheet.lines.iter().filter(|line| line.with.is_none()).count();
    let row = |(index, together): (usize, &[State<'_>])| {
        let last = together.last();
        let time = last.map_or_else(String::new, |state| clock(&state.after.go));
        let labels: Vec<&str> = together.iter().map(|state| state.after.label.as_str()).collect();
        let mut row = vec![if index >= act { format!("encore {time}") } else { time }];
        row.push(labels.join(", "));
        row.extend(desks.iter().map(|desk| {
            let mut lines = last.iter().flat_map(|state| &state.desks);
            let line = lines.find(|line| line.desk == *desk);
            line.map_or_else(|| NONE.to_owned(), |line| cell(line))
        }));
        row
    };
    let rows = states.chunk_by(|_, next| next.after.with.is_some());
    text += &table(width, &columns, rows.enumerate().map(row));
    text
}

/// A cue in a narrow column: its number, or where it has none, what it does.
fn cell(line: &CueLine) -> String {
    line.number.clone().unwrap_or_else(|| line.does.plain())
}
