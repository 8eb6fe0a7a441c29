//! What the hands do, for a terminal: parts of the timing sheet, and the list of moves.
//!
//! A section that could not be read stands by its name; a figure that an error leaves unknown is
//! left empty.

use std::collections::BTreeMap;

use crate::diagnostic::words::counted;
use crate::measure::counts::Counts;
use crate::measure::moves::Move;
use crate::notation::Throw;
use crate::patterns::hands::HandCount;
use crate::routine::{Declares, PropKind};
use crate::sheet::moves::MovesSheet;
use crate::sheet::timing::{JuggledLine, SectionLine, TimingSheet};
use crate::time::seconds_text;

use super::heading_text::{figure, heading};
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, stacked, table};

/// The columns of the list of moves.
pub(super) const MOVE_COLUMNS: [(Column, &str); 10] = [
    (Column::Figure, "no."),
    (Column::Words, "move"),
    (Column::Words, "pattern"),
    (Column::Words, "props"),
    (Column::Figure, "starts"),
    (Column::Words, "declared"),
    (Column::Figure, "own\ncatches"),
    (Column::Figure, "join"),
    (Column::Label, "flash"),
    (Column::Label, "qualify"),
];

/// The list of moves.
pub(super) fn moves(sheet: &MovesSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut text = heading(&sheet.heading, "list of moves", width);
    text.push('\n');
    text += &table(width, &MOVE_COLUMNS, move_rows(sheet));
    for rule in move_rules(sheet) {
        text += &paragraph(width, 0, &rule);
    }
    text.push('\n');
    for means in MOVE_WORDS {
        text += &paragraph(width, 0, means);
    }
    text
}

/// Its rows, a cell for each column.
pub(super) fn move_rows(sheet: &MovesSheet) -> impl Iterator<Item = Vec<String>> {
    sheet.moves.iter().enumerate().map(|(index, line)| {
        let one = line.listed.as_ref();
        let makes = one.and_then(|one| one.makes);
        let own = makes.map(|makes| makes.own_catches);
        vec![
            (index + 1).to_string(),
            line.name.clone(),
            one.map_or_else(|| "(not read)".to_owned(), |one| one.pattern.clone()),
            figure(one.map(props)),
            stacked(&line.starts.range().clock()),
            figure(one.map(word_kept)),
            figure(own),
            figure(makes.map(|makes| makes.join_catches)),
            figure(own.zip(one).map(|(own, one)| yes(own >= one.flash()))),
            figure(own.zip(one).map(|(own, one)| yes(own >= one.qualify()))),
        ]
    })
}

/// The rules that ask for a number of moves, and what they say.
pub(super) fn move_rules(sheet: &MovesSheet) -> impl Iterator<Item = String> {
    sheet.rules.iter().map(|rule| format!("{}: {}.", rule.rule, rule.words()))
}

/// What the words of the list mean.
pub(super) const MOVE_WORDS: [&str; 2] = [FLASH_AND_QUALIFY, "Starts are on the show clock."];

const FLASH_AND_QUALIFY: &str = "With N props a flash is N catches and a qualify 2N, of the \
                                 section's own throws and hand-acrosses; those of the throws that \
                                 join it belong to no move.";

fn yes(reached: bool) -> &'static str {
    if reached { "yes" } else { "NO" }
}

/// How many of what, as in `3 clubs`.
fn props(listed: &Move) -> String {
    match listed.kind.as_ref().map(PropKind::word) {
        Some(kind) => format!("{} {kind}", listed.props),
        None => listed.props.to_string(),
    }
}

/// Sections that are juggled, or may be: they could not be read.
fn juggled(sheet: &TimingSheet) -> impl Iterator<Item = (&SectionLine, Option<&JuggledLine>)> {
    let sections = sheet.sections.iter().filter(|section| section.may_be_juggled());
    sections.map(|section| (section, section.juggled.as_ref()))
}

/// The rows of a table of counts: the sections', then those in all.
fn rows(
    sheet: &TimingSheet,
    row: impl Fn(&str, Option<&Counts>) -> Vec<String>,
) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = juggled(sheet)
        .map(|(section, juggled)| row(&section.name, juggled.and_then(|one| one.counts.as_ref())))
        .collect();
    if !rows.is_empty() {
        rows.push(row("IN ALL", sheet.counts.as_ref()));
    }
    rows
}

/// What each hand does.
pub(super) fn hands(sheet: &TimingSheet, width: u16) -> String {
    let row = |name: &str, counts: Option<&Counts>| {
        let mut row = vec![name.to_owned()];
        for of in [
            |count: &HandCount| count.thrown,
            |count: &HandCount| count.handed_across,
            |count: &HandCount| count.held,
            |count: &HandCount| count.empty,
            |count: &HandCount| count.releases,
        ] {
            // Left, then right.
            row.extend([0, 1].map(|hand: usize| figure(counts.map(|one| of(&one.hands[hand])))));
        }
        row
    };
    let rows = rows(sheet, row);
    if rows.is_empty() {
        return String::new();
    }
    let columns = [
        (Column::Words, "section"),
        (Column::PairedFigure, "\nthrown\nL"),
        (Column::Figure, "\n\nR"),
        (Column::PairedFigure, "handed\nacross\nL"),
        (Column::Figure, "\n\nR"),
        (Column::PairedFigure, "\nheld\nL"),
        (Column::Figure, "\n\nR"),
        (Column::PairedFigure, "\nempty\nL"),
        (Column::Figure, "\n\nR"),
        (Column::PairedFigure, "\nreleases\nL"),
        (Column::Figure, "\n\nR"),
    ];
    "HANDS · counts per hand, left (L) and right (R), transitions included\n".to_owned()
        + &table(width, &columns, rows)
}

/// How often each hand makes each throw.
pub(super) fn values(sheet: &TimingSheet, width: u16) -> String {
    let split = |by_value: &BTreeMap<Throw, u32>| {
        let parts: Vec<String> =
            by_value.iter().map(|(throw, times)| format!("{throw}×{times}")).collect();
        if parts.is_empty() { NONE.to_owned() } else { parts.join("  ") }
    };
    let row = |name: &str, counts: Option<&Counts>| {
        let mut row = vec![name.to_owned()];
        let by_value = |hand: usize| counts.map(|one| split(&one.hands[hand].by_value));
        row.extend([0, 1].map(|hand| figure(by_value(hand))));
        row
    };
    let rows = rows(sheet, row);
    if rows.is_empty() {
        return String::new();
    }
    let columns =
        [(Column::Words, "section"), (Column::Words, "left hand"), (Column::Words, "right hand")];
    "VALUES · how often each hand makes each throw\n".to_owned() + &table(width, &columns, rows)
}

/// What is caught.
pub(super) fn catches(sheet: &TimingSheet, width: u16) -> String {
    let mut rows: Vec<Vec<String>> = juggled(sheet)
        .map(|(section, juggled)| {
            let listed = juggled.map(|juggled| &juggled.listed);
            let own = |one: Option<&Move>| one?.makes.map(|makes| makes.own_catches);
            vec![
                section.name.clone(),
                figure(own(listed)),
                figure(listed.and_then(|one| one.makes).map(|makes| makes.join_catches)),
                figure(listed.map(|listed| reached(own(Some(listed)), listed.flash()))),
                figure(listed.map(|listed| reached(own(Some(listed)), listed.qualify()))),
                figure(listed.map(word_kept)),
                figure(juggled.and_then(|one| one.empty_hands.as_ref()).map(seconds_text)),
            ]
        })
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let none = || NONE.to_owned();
    let all = figure(sheet.catches);
    rows.push(vec!["IN ALL".to_owned(), all, none(), none(), none(), none(), none()]);
    let columns = [
        (Column::Words, "section"),
        (Column::Figure, "catches"),
        (Column::Figure, "of the\njoin"),
        (Column::Label, "flash"),
        (Column::Label, "qualify"),
        (Column::Words, "declared"),
        (Column::Figure, "both hands\nempty"),
    ];
    let mut text = "CATCHES\n".to_owned() + &table(width, &columns, rows);
    text += &paragraph(width, 0, FLASH_AND_QUALIFY);
    text
}

/// Whether so many catches are made, as in `3, reached`.
fn reached(catches: Option<u32>, at: u32) -> String {
    match catches {
        Some(catches) if catches >= at => format!("{at}, reached"),
        Some(_) => format!("{at}, NOT REACHED"),
        None => at.to_string(),
    }
}

fn word_kept(listed: &Move) -> String {
    let Some((declared, asked)) = listed.declared.zip(listed.asked()) else {
        return NONE.to_owned();
    };
    let declared = match declared {
        Declares::Catches(_) => asked.to_string(),
        Declares::Throws(_) => counted(asked, "throw"),
        Declares::Flash => "flash".to_owned(),
        Declares::Qualify => "qualify".to_owned(),
    };
    match listed.keeps_its_word() {
        Some(true) => format!("{declared}, reached"),
        Some(false) => format!("{declared}, NOT REACHED"),
        None => declared,
    }
}
