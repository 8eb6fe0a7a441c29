//! The blocks of the timing sheet that say what lands on which moment, which tempos were bent for
//! it, and what that does to heights.

use crate::measure::bend::{bend_text, may_bend_text, tempo_text};
use crate::sheet::timing::{SectionLine, TimingSheet};

use super::table::{Column, NONE, paragraph, table};

/// What lands where; empty where no section says so.
pub(super) fn landings(sheet: &TimingSheet, width: u16) -> String {
    let lands = |section: &SectionLine| Some(vec![section.name.clone(), section.lands.clone()?]);
    let rows: Vec<_> = sheet.sections.iter().filter_map(lands).collect();
    if rows.is_empty() {
        return String::new();
    }
    let columns = [(Column::Words, "section"), (Column::Words, "what lands")];
    "LANDINGS · the moment that each of these sections ends on\n".to_owned()
        + &table(width, &columns, rows)
}

/// The bent sections; empty where no tempo may bend.
pub(super) fn bends(sheet: &TimingSheet, width: u16) -> String {
    let mut rows = Vec::new();
    for section in &sheet.sections {
        let Some(line) = section.juggled.as_ref().and_then(|juggled| juggled.bent.as_ref()) else {
            continue;
        };
        let bend = &line.bent.bend;
        rows.push(vec![
            section.name.clone(),
            bend.cycles.to_string(),
            format!("{} → {}", tempo_text(&bend.written), tempo_text(&bend.per_minute)),
            bend_text(&bend.bend()),
            may_bend_text(&line.may_bend),
            line.bent.highest_m.map_or_else(
                || NONE.to_owned(),
                |(before, after)| format!("{before:.2} → {after:.2}"),
            ),
        ]);
    }
    if rows.is_empty() {
        return String::new();
    }
    let columns = [
        (Column::Words, "section"),
        (Column::Figure, "cycles"),
        (Column::Figure, "throws a minute"),
        (Column::Figure, "bend"),
        (Column::Figure, "may bend"),
        (Column::Figure, "highest throw, m"),
    ];
    "BENDS · tempos bent so that whole cycles end on time\n".to_owned()
        + &table(width, &columns, rows)
        + &paragraph(width, 0, AFTER)
}

const AFTER: &str = "Written → bent. A later section without a tempo of its own goes on with the \
                     written one.";
