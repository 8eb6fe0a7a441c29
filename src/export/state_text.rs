//! The state of every crew after each cue, for a terminal and for print.

use std::collections::BTreeSet;

use crate::act::Act;
use crate::routine::Crew;
use crate::sheet::cue_line::CueLine;
use crate::sheet::cues::{CueSheet, compose};
use crate::sheet::state::{State, states};

use super::cue_words::what;
use super::heading_text::heading;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, table};

/// Which cue every crew is in after each cue, `width` columns wide.
#[must_use]
pub fn text(act: &Act, width: u16) -> String {
    of_sheet(&compose(act, None), width)
}

/// The same of a composed cue sheet of all crews.
#[must_use]
pub fn of_sheet(sheet: &CueSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut text = heading(&sheet.heading, &what(sheet), width);
    text += &paragraph(
        width,
        0,
        &format!(
            "The cue that every crew is in after each GO, and what is on then. 0:00.0 on the show \
             clock is {}.",
            sheet.act.zero
        ),
    );
    text.push('\n');
    let states = states(sheet);
    if states.is_empty() {
        return text + "No cues.\n";
    }
    let crews: BTreeSet<Crew> = states.iter().map(|state| state.after.crew).collect();
    let mut columns = vec![(Column::Figure, "time"), (Column::Words, "after")];
    columns.extend(crews.iter().map(|crew| (Column::Words, crew.label())));
    // One row for each GO, whatever goes on it; those of the act first.
    let in_act = sheet.act.lines.iter().filter(|line| line.with.is_none()).count();
    let row = |(index, together): (usize, &[State<'_>])| {
        let last = together.last();
        let time = last.map_or_else(String::new, |state| state.after.go.range().clock());
        let labels: Vec<&str> = together.iter().map(|state| state.after.label.as_str()).collect();
        let mut row = vec![if index >= in_act { format!("encore {time}") } else { time }];
        row.push(labels.join(", "));
        row.extend(crews.iter().map(|crew| {
            let mut lines = last.iter().flat_map(|state| &state.crews);
            let line = lines.find(|line| line.crew == *crew);
            line.map_or_else(|| NONE.to_owned(), |line| cell(line))
        }));
        row
    };
    let rows: Vec<_> =
        states.chunk_by(|one, next| next.after.goes_with(one.after)).enumerate().collect();
    text += &table(width, &columns, rows.iter().map(|one| row(*one)));
    text += "\nWHAT IS ON\n";
    columns.truncate(2);
    columns.push((Column::Words, "then"));
    let on = |one: &(usize, &[State<'_>])| {
        let on = one.1.last().and_then(|state| state.after.on.as_ref());
        let mut row = row(*one);
        row.truncate(2);
        row.push(on.map_or_else(String::new, |on| on.words().join("; ")));
        row
    };
    text += &table(width, &columns, rows.iter().map(on));
    text
}

/// A cue in a narrow column: its number, or where it has none, what it does.
fn cell(line: &CueLine) -> String {
    line.number.clone().unwrap_or_else(|| line.does.plain())
}
