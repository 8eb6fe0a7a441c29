//! Arms that cross and how throws are made, for a terminal: a part of the timing sheet.

use crate::hand::Hand;
use crate::measure::made::MadeCounts;
use crate::routine::Arms;
use crate::sheet::timing::{JuggledLine, SectionLine, TimingSheet};

use super::table::{Column, NONE, paragraph, table};

const NOTE: &str = "A crossing is a change from open arms to crossed, or from one arm above to the \
                    other; a transition's throws are made in no written way.";

/// The table of crossings and ways; nothing where the routine has neither.
pub(super) fn arms_and_ways(sheet: &TimingSheet, width: u16) -> String {
    let (has_arms, has_ways) = (sheet.crossings.is_some(), sheet.made.is_some());
    if !has_arms && !has_ways {
        return String::new();
    }
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (section, juggled) in juggled(sheet) {
        let arms = arms(juggled);
        rows.push(row(section.name.clone(), has_arms, arms, juggled.crossings, &juggled.made));
    }
    let made = sheet.made.clone().unwrap_or_default();
    let (none, crossings) = (NONE.to_owned(), sheet.crossings.unwrap_or(0));
    rows.push(row("IN ALL".to_owned(), has_arms, none, crossings, &made));
    let mut columns = vec![(Column::Words, "section")];
    if has_arms {
        columns.extend([(Column::Words, "arms"), (Column::Figure, "crossings")]);
    }
    if has_ways {
        columns.extend([(Column::Label, "left hand"), (Column::Label, "right hand")]);
    } else {
        rows.iter_mut().for_each(|row| row.truncate(columns.len()));
    }
    let heading = match (has_arms, has_ways) {
        (true, true) => "ARMS AND WAYS · how often arms cross, and how each hand's throws are made",
        (true, false) => "ARMS · how often they cross",
        (false, _) => "WAYS · how each hand's throws are made",
    };
    let mut text = format!("{heading}\n") + &table(width, &columns, rows);
    let crossed = at_rest_crossed(sheet);
    text += &paragraph(width, 0, &[NOTE.to_owned(), crossed].join(" "));
    text
}

fn juggled(sheet: &TimingSheet) -> impl Iterator<Item = (&SectionLine, &JuggledLine)> {
    sheet.sections.iter().filter_map(|section| Some((section, section.juggled.as_ref()?)))
}

fn row(
    name: String,
    has_arms: bool,
    arms: String,
    crossings: u32,
    made: &MadeCounts,
) -> Vec<String> {
    let mut row = vec![name];
    if has_arms {
        row.extend([arms, crossings.to_string()]);
    }
    row.extend(Hand::BOTH.map(|hand| {
        let ways: Vec<String> = made[hand.index()]
            .iter()
            .map(|(made, times)| format!("{} ×{times}", made.words()))
            .collect();
        if ways.is_empty() { NONE.to_owned() } else { ways.join("\n") }
    }));
    row
}

/// Where the arms are at its two ends.
fn arms(juggled: &JuggledLine) -> String {
    match juggled.arms {
        (Arms::Open, Arms::Open) if juggled.crossings == 0 => "open".to_owned(),
        (first, last) => format!("{} to {}", first.words(), last.words()),
    }
}

/// Which sections start from rest, or gather, with crossed arms.
fn at_rest_crossed(sheet: &TimingSheet) -> String {
    let mut said = Vec::new();
    for (section, juggled) in juggled(sheet) {
        let (first, last) = juggled.arms;
        if juggled.starts_cold && first != Arms::Open {
            said.push(format!("\"{}\" starts cold with {}.", section.name, first.phrase()));
        }
        if juggled.ends_run && last != Arms::Open {
            said.push(format!(
                "\"{}\" ends with {}: its props are gathered in crossed arms.",
                section.name,
                last.phrase()
            ));
        }
    }
    said.join(" ")
}
