//! Parts of the timing sheet beside the score itself: where it is played, what is picked up, what
//! burns, and the set-up, encore and strike around the act.

use crate::sheet::limits::BurnLine;
use crate::sheet::slot::SlotLine;
use crate::sheet::timing::{SectionLine, TimingSheet};
use crate::time::{TimeRange, seconds_text};

use super::table::{Column, NONE, paragraph, stacked, table};

/// Places on stage and logged pick-ups; empty where none are written.
pub(super) fn places(sheet: &TimingSheet, width: u16) -> String {
    let written = |section: &&SectionLine| section.place.is_some() || !section.pick_up.is_empty();
    let mut rows = sheet.sections.iter().filter(written).map(place).peekable();
    if rows.peek().is_none() {
        return String::new();
    }
    let columns = [
        (Column::Words, "section"),
        (Column::Words, "place"),
        (Column::Words, "pick-ups, logged"),
        (Column::Figure, "slowest"),
        (Column::Figure, "pause lasts"),
    ];
    "PLACES AND PICK-UPS\n".to_owned() + &table(width, &columns, rows)
}

fn place(section: &SectionLine) -> Vec<String> {
    let none = || NONE.to_owned();
    let logged: Vec<String> = section.pick_up.iter().map(seconds_text).collect();
    let slowest = section.slowest_pick_up();
    vec![
        section.name.clone(),
        section.place.clone().unwrap_or_else(none),
        if logged.is_empty() { none() } else { logged.join(", ") },
        slowest.map_or_else(none, seconds_text),
        slowest.map_or_else(none, |_| section.lasts.seconds_text()),
    ]
}

/// Sets with a tested burn; empty where there are none.
pub(super) fn burns(sheet: &TimingSheet, width: u16) -> String {
    let of_encore = sheet.encore.iter().flat_map(|encore| &encore.burns);
    let row = |line: &BurnLine, part: &str| {
        let at = |(words, time): &(String, TimeRange)| match time.earliest() {
            Some(_) => format!("{words}, {}", time.clock()),
            None => words.clone(),
        };
        vec![
            format!("{}{part}", line.set),
            at(&line.from),
            at(&line.to),
            stacked(&line.lasts.seconds_text()),
            seconds_text(&line.shortest),
            stacked(&line.left.seconds_text()),
        ]
    };
    let rows: Vec<Vec<String>> = sheet
        .burns
        .iter()
        .map(|line| row(line, ""))
        .chain(of_encore.map(|line| row(line, ", in the encore")))
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let columns = [
        (Column::Words, "set"),
        (Column::Words, "alight from"),
        (Column::Words, "to"),
        (Column::Figure, "alight"),
        (Column::Figure, "shortest\ntest"),
        (Column::Figure, "left"),
    ];
    let text = "BURN · a second clock, on the shortest of the tests\n".to_owned();
    let text = text + &table(width, &columns, rows);
    text + &paragraph(
        width,
        0,
        "From lighting to putting out, with the slowest logged pick-ups; whatever is lit again counts as \
         freshly fuelled. A pointer, not a clearance: \
         local codes, the venue and licensed practice decide.",
    )
}

/// Set-up, act, encore and strike; empty where only the act is written.
pub(super) fn slot(sheet: &TimingSheet, width: u16) -> String {
    if sheet.slot.is_empty() {
        return String::new();
    }
    let row = |line: &SlotLine| {
        let [starts, ends, lasts] =
            [&line.starts, &line.ends, &line.lasts].map(|time| stacked(&time.clock()));
        vec![line.part.to_owned(), starts, ends, lasts]
    };
    let columns = [
        (Column::Words, "part"),
        (Column::Figure, "starts"),
        (Column::Figure, "ends"),
        (Column::Figure, "lasts"),
    ];
    let mut text = "THE SLOT · on the show clock, without a gap\n".to_owned();
    text += &table(width, &columns, sheet.slot.iter().map(row));
    if sheet.encore.is_some() {
        text += &paragraph(width, 0, "The encore stands here as if it were called for.");
    }
    text
}
