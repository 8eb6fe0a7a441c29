//! The timing sheet and the list of moves for a terminal.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::measure::height::metres_and_feet;
use crate::measure::moves::{self, Move};
use crate::notation::Throw;
use crate::patterns::hands::HandCount;
use crate::sheet::clocks::ClockLine;
use crate::sheet::loading::Came;
use crate::sheet::stamp::BAR_AND_BEAT;
use crate::sheet::timing::{JuggledLine, SectionLine, TimingSheet, TransitionLine, compose};
use crate::sheet::words::plain;
use crate::time::{TimeRange, seconds_text};

use super::arms_text::arms_and_ways;
use super::around_text;
use super::bends_text;
use super::limits_text;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, table};

/// The timing sheet of a routine for a terminal `width` columns wide.
#[must_use]
pub fn text(act: &Act, width: u16) -> String {
    of_sheet(&compose(act), width)
}

/// A composed timing sheet for a terminal `width` columns wide.
#[must_use]
pub fn of_sheet(sheet: &TimingSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut parts = vec![
        head(sheet, width),
        sections(sheet, width),
        sheet.encore.as_ref().map_or_else(String::new, |encore| encore_sections(encore, width)),
        around_text::places(sheet, width),
        bends_text::bends(sheet, width),
        clocks(sheet, width),
        around_text::slot(sheet, width),
        limits_text::limits(&sheet.limits, width),
        loadings(sheet, width),
        regrips(sheet, width),
        hands(sheet, width),
        values(sheet, width),
        arms_and_ways(sheet, width),
        catches(sheet, width),
        heights(sheet, width),
        around_text::burns(sheet, width),
    ];
    parts.retain(|part| !part.is_empty());
    parts.join("\n")
}

/// The list of moves of a routine for a terminal `width` columns wide.
#[must_use]
pub fn moves_text(act: &Act, width: u16) -> String {
    let Act { routine, .. } = act;
    let width = width.max(NARROWEST_SHEET);
    let title = plain(&routine.title.value);
    let heading = format!("{title} · list of moves · issue {}", routine.issue);
    let moves = moves::moves(act);
    let rows = moves.iter().map(|one| {
        vec![
            plain(&one.name),
            plain(&one.pattern),
            one.props.to_string(),
            word_kept(one),
            one.catches.to_string(),
            reached(one.catches, one.flash()),
            reached(one.catches, one.qualify()),
        ]
    });
    let columns = [
        (Column::Words, "move"),
        (Column::Words, "pattern"),
        (Column::Figure, "props"),
        (Column::Words, "declared"),
        (Column::Figure, "catches"),
        (Column::Label, "flash"),
        (Column::Label, "qualify"),
    ];
    let mut text = paragraph(width, 0, &heading);
    text.push('\n');
    text += &table(width, &columns, rows);
    text.push('\n');
    text += &paragraph(width, 0, FLASH_AND_QUALIFY);
    text
}

const FLASH_AND_QUALIFY: &str = "With N props a flash is N catches and a qualify 2N. Catches are \
                                 those of the section's own throws and hand-acrosses, its \
                                 transition's among them.";

fn head(sheet: &TimingSheet, width: u16) -> String {
    let mut text =
        paragraph(width, 0, &format!("{} · timing sheet · issue {}", sheet.title, sheet.issue));
    let zero = format!("The show clock reads 0:00.0 at {}.", sheet.zero);
    text += &paragraph(width, 0, &zero);
    if let Some(clock) = &sheet.timecode {
        text += &paragraph(width, 0, &clock.words());
    }
    if !sheet.open.is_empty() {
        let open = format!("Times are from the earliest to the latest: {}.", all_of(&sheet.open));
        text += &paragraph(width, 0, &open);
    }
    text
}

/// The column of the sections' starts.
const STARTS_AT: usize = 4;

fn encore_sections(encore: &TimingSheet, width: u16) -> String {
    let heading =
        format!("ENCORE · only if it is called for; 0:00.0 of its own clock is {}", encore.zero);
    paragraph(width, 0, &heading) + &section_table(encore, width)
}

fn sections(sheet: &TimingSheet, width: u16) -> String {
    "SECTIONS · starts and ends on the show clock\n".to_owned() + &section_table(sheet, width)
}

fn section_table(sheet: &TimingSheet, width: u16) -> String {
    let rows = sheet.sections.iter().map(|section| {
        let juggled = section.juggled.as_ref();
        let or_none = |text: Option<String>| text.unwrap_or_else(|| NONE.to_owned());
        let mut row =
            vec![
                section.name.clone(),
                juggled.map_or_else(|| "(pause)".to_owned(), |one| one.listed.pattern.clone()),
                or_none(juggled.map(|one| one.listed.props.to_string())),
                or_none(juggled.map(|one| {
                    one.lead.map_or_else(|| "pairs".to_owned(), |hand| hand.to_string())
                })),
                section.starts.range().clock_stacked(),
                section.ends.range().clock_stacked(),
                section.lasts.seconds_stacked(),
                juggled.map_or_else(|| without_throws(section), joined),
            ];
        if sheet.has_bars {
            let bar = section.starts.bar_words();
            row.insert(STARTS_AT + 1, or_none(bar.map(stacked)));
        }
        if sheet.timecode.is_some() {
            let code = section.starts.timecode_words();
            row.insert(STARTS_AT + 1, or_none(code.map(stacked)));
        }
        row
    });
    let mut columns = vec![
        (Column::Words, "section"),
        (Column::Words, "pattern"),
        (Column::Figure, "props"),
        (Column::Label, "lead"),
        (Column::Figure, "starts"),
        (Column::Figure, "ends"),
        (Column::Figure, "lasts"),
        (Column::Words, "joined by"),
    ];
    if sheet.has_bars {
        columns.insert(STARTS_AT + 1, (Column::Figure, BAR_AND_BEAT));
    }
    if sheet.timecode.is_some() {
        columns.insert(STARTS_AT + 1, (Column::Figure, "time code\nat the start"));
    }
    table(width, &columns, rows)
}

/// Two ends in a narrow column, one below the other.
fn stacked(text: String) -> String {
    text.replace('–', "–\n")
}

/// How a section is joined to what is before it.
fn joined(juggled: &JuggledLine) -> String {
    let mut parts = Vec::new();
    match &juggled.transition {
        None if juggled.starts_cold => parts.push("cold start".to_owned()),
        None => parts.push("direct".to_owned()),
        Some(TransitionLine { throws, waits, .. }) => {
            parts.extend(Some(throws.clone()).filter(|throws| !throws.is_empty()));
            parts.extend(waits.map(|hand| format!("{hand} waits")));
        }
    }
    parts.extend(juggled.other_face.clone());
    parts.join(", ")
}

/// What a pause does to what is after it.
fn without_throws(section: &SectionLine) -> String {
    if section.regrip.is_some() { "regrip" } else { NONE }.to_owned()
}

/// What the hands do with the props in each pause that loads them anew.
fn regrips(sheet: &TimingSheet, width: u16) -> String {
    let regrips =
        sheet.sections.iter().filter_map(|section| Some((section, section.regrip.as_ref()?)));
    let mut text = String::new();
    for (section, regrip) in regrips {
        let held =
            |hand: &[String]| if hand.is_empty() { NONE.to_owned() } else { hand.join(", ") };
        let (right, left) = (held(&regrip.right), held(&regrip.left));
        text += &paragraph(width, 0, &format!("{} · regrip: {}", section.name, regrip.words()));
        text += &paragraph(width, 2, &format!("then right: {right} · left: {left}"));
    }
    if text.is_empty() {
        return text;
    }
    "REGRIPS · what the hands do with the props; colours in order of leaving\n".to_owned() + &text
}

/// What is in which hand where the props rest, in the order of the act.
fn loadings(sheet: &TimingSheet, width: u16) -> String {
    let mut rows = Vec::new();
    for (start, gather) in sheet.loadings.iter().zip(&sheet.gathers) {
        // Props that are kept lie as the gather before left them.
        if start.came != Came::Kept {
            rows.push(vec![format!("before {}", start.before), start.at_rest.in_words()]);
        }
        rows.push(vec![format!("after {}", gather.after), gather.at_rest.in_words()]);
    }
    if rows.is_empty() {
        return String::new();
    }
    let columns = [(Column::Words, "when"), (Column::Words, "what is in which hand")];
    "LOADING · each hand's props in the order in which they leave\n".to_owned()
        + &table(width, &columns, rows)
}

fn clocks(sheet: &TimingSheet, width: u16) -> String {
    let reads = |time: &Option<TimeRange>| {
        time.as_ref().map_or_else(|| NONE.to_owned(), TimeRange::clock_stacked)
    };
    let rows = sheet.clocks.iter().map(|line: &ClockLine| {
        vec![
            line.clock.clone(),
            line.zero.clone(),
            reads(&line.begins),
            reads(&line.first_throw),
            reads(&line.last_catch),
            reads(&line.ends),
        ]
    });
    let columns = [
        (Column::Words, "clock"),
        (Column::Words, "reads zero at"),
        (Column::Figure, "begins"),
        (Column::Figure, "first throw"),
        (Column::Figure, "last catch"),
        (Column::Figure, "ends"),
    ];
    let mut text = "THE ACT ON EACH CLOCK\n".to_owned() + &table(width, &columns, rows);
    let mut length = String::new();
    if let Some(lasts) = &sheet.act.lasts {
        length += &format!(
            "The act lasts {} from its first section's start to its last one's \
                            end; ",
            lasts.clock()
        );
    }
    length += &format!(
        "{} of juggling, each run from its first beat to its last catch.",
        sheet.act.juggled.clock()
    );
    text += &paragraph(width, 0, &length);
    text
}

/// Sections that are juggled, and what is juggled in them.
fn juggled(sheet: &TimingSheet) -> impl Iterator<Item = (&SectionLine, &JuggledLine)> {
    sheet.sections.iter().filter_map(|section| Some((section, section.juggled.as_ref()?)))
}

fn hands(sheet: &TimingSheet, width: u16) -> String {
    let row = |name: &str, hands: &[HandCount; 2]| {
        let [left, right] = hands;
        let mut row = vec![name.to_owned()];
        for of in [
            |count: &HandCount| count.thrown,
            |count: &HandCount| count.handed_across,
            |count: &HandCount| count.held,
            |count: &HandCount| count.empty,
            |count: &HandCount| count.releases,
        ] {
            row.push(of(left).to_string());
            row.push(of(right).to_string());
        }
        row
    };
    let mut rows: Vec<Vec<String>> = juggled(sheet)
        .map(|(section, juggled)| row(&section.name, &juggled.counts.hands))
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    rows.push(row("IN ALL", &sheet.counts.hands));
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

fn values(sheet: &TimingSheet, width: u16) -> String {
    let split = |by_value: &BTreeMap<Throw, u32>| {
        let parts: Vec<String> =
            by_value.iter().map(|(throw, times)| format!("{throw}×{times}")).collect();
        if parts.is_empty() { NONE.to_owned() } else { parts.join("  ") }
    };
    let row = |name: &str, [left, right]: &[HandCount; 2]| {
        vec![name.to_owned(), split(&left.by_value), split(&right.by_value)]
    };
    let mut rows: Vec<Vec<String>> = juggled(sheet)
        .map(|(section, juggled)| row(&section.name, &juggled.counts.hands))
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    rows.push(row("IN ALL", &sheet.counts.hands));
    let columns =
        [(Column::Words, "section"), (Column::Words, "left hand"), (Column::Words, "right hand")];
    "VALUES · how often each hand makes each throw\n".to_owned() + &table(width, &columns, rows)
}

fn catches(sheet: &TimingSheet, width: u16) -> String {
    let mut rows: Vec<Vec<String>> = juggled(sheet)
        .map(|(section, juggled)| {
            let listed = &juggled.listed;
            vec![
                section.name.clone(),
                listed.catches.to_string(),
                reached(listed.catches, listed.flash()),
                reached(listed.catches, listed.qualify()),
                word_kept(listed),
                seconds_text(&juggled.empty_hands),
            ]
        })
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let none = || NONE.to_owned();
    rows.push(vec![
        "IN ALL".to_owned(),
        sheet.counts.catches.to_string(),
        none(),
        none(),
        none(),
        none(),
    ]);
    let columns = [
        (Column::Words, "section"),
        (Column::Figure, "catches"),
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
fn reached(catches: u32, at: u32) -> String {
    format!("{at}, {}", if catches >= at { "reached" } else { "NOT REACHED" })
}

fn word_kept(listed: &Move) -> String {
    match (listed.declared, listed.keeps_its_word()) {
        (Some(declared), Some(true)) => format!("{declared}, reached"),
        (Some(declared), _) => format!("{declared}, NOT REACHED"),
        (None, _) => NONE.to_owned(),
    }
}

fn heights(sheet: &TimingSheet, width: u16) -> String {
    let mut rows = Vec::new();
    for (section, juggled) in juggled(sheet) {
        let Some(highest) = &juggled.highest else { continue };
        let mut row = vec![
            section.name.clone(),
            highest.value.clone(),
            seconds_text(&highest.flight),
            metres_and_feet(highest.above_hand_m),
        ];
        if let (Some(clear), Some(needs)) = (sheet.clear_height_m, highest.needs_m) {
            row.push(metres_and_feet(needs));
            row.push(if needs > clear {
                format!("TOO HIGH by\n{}", metres_and_feet(needs - clear))
            } else {
                metres_and_feet(clear - needs)
            });
        } else if sheet.clear_height_m.is_some() {
            row.extend([NONE.to_owned(), NONE.to_owned()]);
        }
        rows.push(row);
    }
    if rows.is_empty() {
        return String::new();
    }
    let mut columns = vec![
        (Column::Words, "section"),
        (Column::Label, "highest\nthrow"),
        (Column::Figure, "in the\nair"),
        (Column::Label, "above the hand"),
    ];
    if sheet.clear_height_m.is_some() {
        columns.push((Column::Label, "clear height\nneeded"));
        columns.push((Column::Label, "room above it"));
    }
    let mut text = "HEIGHTS · estimates\n".to_owned() + &table(width, &columns, rows);
    let room = sheet.clear_height_m.map_or_else(
        || "No room is written, so no clear height is compared.".to_owned(),
        |clear| format!("The room's clear height: {}.", metres_and_feet(clear)),
    );
    text += &paragraph(width, 0, &format!("{room} {HEIGHTS_ARE_ESTIMATES}"));
    text
}

const HEIGHTS_ARE_ESTIMATES: &str = "Heights are estimates from the time in the air. Measure to \
                                     the lowest thing overhead; the venue's and local rules decide.";

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;
    use crate::measure::examples::{
        compiled, juggle, lantern_quay, ms, name, pause, placed, section,
    };
    use crate::routine::Length;

    #[test]
    fn the_timing_sheet_of_the_worked_example_reads_well_at_80_columns() {
        let quay = lantern_quay();
        let text = text(&compiled(&quay), 80);
        assert!(text.lines().all(|line| line.width() <= 80), "{text}");
        insta::assert_snapshot!(text);
    }

    #[test]
    fn a_move_says_whether_it_is_flashed_qualified_and_as_declared() {
        let (entry, mut juggled) = juggle("finale", "5", Length::Beats(7));
        juggled.set = Some(name("five"));
        juggled.declares = Some(placed(8));
        let mut quay = lantern_quay();
        quay.score.push(section((entry, juggled)));
        insta::assert_snapshot!(moves_text(&compiled(&quay), 80));
    }

    #[test]
    fn a_limit_that_is_not_kept_says_so_in_words() {
        let mut quay = lantern_quay();
        for (at_most, line) in [
            (50_000, "GRACE: over by 0.3 s, within the grace"),
            (40_000, "OVER by 10.3 s"),
            (52_000, "3.0 s, NOT KEPT: 1.7 s from the longest allowed"),
        ] {
            quay.limits[0].at_most = Some(placed(ms(at_most)));
            let text = text(&compiled(&quay), 80);
            assert!(text.contains(line), "{text}");
        }
        quay.limits[0].at_least = Some(placed(ms(55_000)));
        assert!(text(&compiled(&quay), 80).contains("UNDER by 4.7 s"));
        quay.room.as_mut().unwrap().clear_height.value = 2.3;
        assert!(text(&compiled(&quay), 80).contains("TOO HIGH by"));
    }

    #[test]
    fn a_long_name_wraps_and_control_characters_are_gone() {
        let mut quay = lantern_quay();
        quay.title = name("Quay\u{1b}[2J");
        quay.score.push(pause(&"encore ".repeat(20), Length::For(ms(1_000))));
        let text = text(&compiled(&quay), 80);
        assert!(text.lines().all(|line| line.width() <= 80), "{text}");
        assert!(!text.contains('\u{1b}'));
    }

    #[test]
    fn an_act_without_throws_has_a_sheet_without_counts() {
        let mut quay = lantern_quay();
        quay.score = vec![pause("talk", Length::For(ms(90_000)))];
        (quay.limits, quay.cues, quay.music) = (Vec::new(), Vec::new(), None);
        quay.zero = placed(crate::routine::Moment::Start(name("talk")));
        let text = text(&compiled(&quay), 80);
        assert!(text.contains("The act lasts 1:30.0"), "{text}");
        assert!(!text.contains("HANDS"), "{text}");
    }
}
