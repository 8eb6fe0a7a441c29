//! The timing sheet and the list of moves for a terminal.

use unicode_width::UnicodeWidthStr;

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::measure::height::metres_and_feet;
use crate::sheet::clocks::ClockLine;
use crate::sheet::loading::{AtRest, Came};
use crate::sheet::moves::{self, MovesSheet};
use crate::sheet::stamp::BAR_AND_BEAT;
use crate::sheet::timing::{JuggledLine, SectionLine, TimingSheet, TransitionLine, compose};
use crate::sheet::words::encore_heading;
use crate::time::{TimeRange, seconds_text};
use crate::timeline::Joining;

use super::arms_text::arms_and_ways;
use super::around_text;
use super::bends_text;
use super::counts_text;
use super::heading_text::heading;
use super::limits_text;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, stacked, table};

/// The timing sheet of a routine for a terminal `width` columns wide.
#[must_use]
pub fn text(act: &Act, width: u16) -> String {
    of_sheet(&compose(act), width)
}

/// The list of moves of a routine for a terminal `width` columns wide.
#[must_use]
pub fn moves_text(act: &Act, width: u16) -> String {
    counts_text::moves(&moves::compose(act), width)
}

/// A composed list of moves for a terminal `width` columns wide.
#[must_use]
pub fn of_moves(sheet: &MovesSheet, width: u16) -> String {
    counts_text::moves(sheet, width)
}

/// A composed timing sheet for a terminal `width` columns wide.
#[must_use]
pub fn of_sheet(sheet: &TimingSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut parts = vec![
        head(sheet, width),
        sections(sheet, width),
        sheet.encore.as_ref().map_or_else(String::new, |encore| of_encore(encore, width)),
        around_text::places(sheet, width),
        bends_text::landings(sheet, width),
        bends_text::bends(sheet, width),
        clocks(sheet, width),
        around_text::slot(sheet, width),
        limits_text::limits(&sheet.limits, width),
        loadings("LOADING", sheet, width),
        regrips("REGRIPS", sheet, width),
        counts_text::hands(sheet, width),
        counts_text::values(sheet, width),
        arms_and_ways(sheet, width),
        counts_text::catches(sheet, width),
        heights(sheet, width),
        around_text::burns(sheet, width),
    ];
    parts.retain(|part| !part.is_empty());
    parts.join("\n")
}

fn head(sheet: &TimingSheet, width: u16) -> String {
    let mut text = heading(&sheet.heading, "timing sheet", width);
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

/// Patterns that are no wider, with how often they go round, stand on one line where there is room.
const WHOLE_PATTERN: usize = 16;
/// What the other columns take beside names and patterns, with a word of how a section is joined;
/// then the bars, and the time code.
const OTHERS: (u16, u16, u16) = (47, 11, 14);
/// A word is broken only where it is longer.
const WHOLE_WORD: usize = 12;

/// What stands of the encore before the whole act's tables: its own sections, and what the hands,
/// the music and a bent tempo do in them.
fn of_encore(encore: &TimingSheet, width: u16) -> String {
    let mut sections = paragraph(width, 0, &encore_heading(&encore.zero));
    if let Some(clock) = &encore.timecode {
        sections += &paragraph(width, 0, &clock.words());
    }
    sections += &section_table(encore, width);
    let clocks = match encore.has_music {
        true => "THE ENCORE ON EACH CLOCK\n".to_owned() + &clock_table(encore, width),
        false => String::new(),
    };
    let mut parts = vec![
        sections,
        bends_text::landings(encore, width),
        bends_text::bends(encore, width),
        clocks,
        loadings("LOADING IN THE ENCORE", encore, width),
        regrips("REGRIPS IN THE ENCORE", encore, width),
    ];
    parts.retain(|part| !part.is_empty());
    parts.join("\n")
}

fn sections(sheet: &TimingSheet, width: u16) -> String {
    let text = "SECTIONS · starts and ends on the show clock\n".to_owned();
    text + &section_table(sheet, width) + &torn(sheet, width)
}

fn section_table(sheet: &TimingSheet, width: u16) -> String {
    let rows = sheet.sections.iter().map(|section| {
        // Of what could not be read only its name is known.
        let or_none = |text: Option<String>| match text {
            None if section.unread.is_none() && section.starts.range().is_known() => {
                NONE.to_owned()
            }
            text => text.unwrap_or_default(),
        };
        let mut row = vec![section.name.clone()];
        row.extend(match (&section.juggled, &section.unread) {
            (Some(juggled), _) => {
                [pattern(juggled), juggled.listed.props.to_string(), lead(juggled)]
            }
            (None, Some(_)) => ["(not read)".to_owned(), String::new(), String::new()],
            (None, None) => ["(pause)".to_owned(), NONE.to_owned(), NONE.to_owned()],
        });
        row.extend([
            stacked(&section.starts.range().clock()),
            stacked(&section.ends.range().clock()),
            stacked(&section.lasts.seconds_text()),
            section.juggled.as_ref().map_or_else(|| without_throws(section), joined),
        ]);
        if sheet.has_bars {
            let bar = section.starts.bar_words();
            row.insert(STARTS_AT + 1, or_none(bar.as_deref().map(stacked)));
        }
        if sheet.timecode.is_some() {
            let code = section.starts.timecode_words();
            row.insert(STARTS_AT + 1, or_none(code.as_deref().map(stacked)));
        }
        row
    });
    let (others, bars, code) = OTHERS;
    let others = others + if sheet.has_bars { bars } else { 0 };
    let others = others + if sheet.timecode.is_some() { code } else { 0 };
    let free = width.saturating_sub(others);
    let heading = "section".width() as u16;
    let whole = WHOLE_PATTERN.min(usize::from(free.saturating_sub(heading)));
    let juggled = sheet.sections.iter().filter_map(|section| section.juggled.as_ref());
    let written: Vec<String> = juggled.map(pattern).collect();
    let whole = written.iter().map(String::as_str).filter(|written| written.width() <= whole);
    let patterns = whole.map(str::width).fold("(pause)".width(), usize::max) as u16;
    let patterns = patterns.max(longest_word(written.iter()));
    let names = longest_word(sheet.sections.iter().map(|section| &section.name));
    let (names, patterns) = match patterns + heading <= free {
        true => (names.clamp(heading, free - patterns), patterns),
        false => (0, 0),
    };
    let mut columns = vec![
        (Column::WordsOf(names), "section"),
        (Column::WordsOf(patterns), "pattern"),
        (Column::PairedFigure, "props"),
        (Column::Label, "lead"),
        (Column::PairedFigure, "starts"),
        (Column::PairedFigure, "ends"),
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

/// How wide the longest word is that is kept in one piece.
fn longest_word<'a>(texts: impl Iterator<Item = &'a String>) -> u16 {
    let widths = texts.flat_map(|text| text.split(' ')).map(str::width);
    widths.filter(|&width| width <= WHOLE_WORD).max().unwrap_or_default() as u16
}

/// What is juggled and how often, as in `531 ×8`.
fn pattern(juggled: &JuggledLine) -> String {
    let pattern = &juggled.listed.pattern;
    juggled.how_often.as_ref().map_or(pattern.clone(), |often| format!("{pattern} {often}"))
}

/// The hand of a section's own first throw.
fn lead(juggled: &JuggledLine) -> String {
    match juggled.lead {
        Some(hand) => hand.to_string(),
        None if juggled.hands_known => "pairs".to_owned(),
        None => String::new(),
    }
}

/// How a section is joined to what is before it; `TORN` where it is not.
fn joined(juggled: &JuggledLine) -> String {
    let mut parts = Vec::new();
    match (&juggled.transition, juggled.joining) {
        (None, Joining::Unknown) => {}
        (None, _) if juggled.starts_cold => parts.push("cold start".to_owned()),
        (None, Joining::Torn) => {}
        (None, Joining::Fits) => parts.push("direct".to_owned()),
        (Some(TransitionLine { throws, waits, .. }), _) => {
            parts.extend(Some(throws.clone()).filter(|throws| !throws.is_empty()));
            parts.extend(waits.map(|hand| format!("{hand} waits")));
        }
    }
    parts.extend((juggled.joining == Joining::Torn).then(|| TORN.to_owned()));
    parts.extend(juggled.other_face.clone());
    parts.join(", ")
}

/// Stands for a junction that does not join.
const TORN: &str = "TORN";

/// What torn junctions mean for what comes after them; nothing where there are none.
fn torn(sheet: &TimingSheet, width: u16) -> String {
    let encore = sheet.encore.iter().flat_map(|encore| &encore.sections);
    let mut juggled = sheet.sections.iter().chain(encore).filter_map(|one| one.juggled.as_ref());
    if juggled.any(|juggled| juggled.joining == Joining::Torn) {
        let said = "TORN: the props do not come as the section needs them; from there on it goes \
                    as if the hands had been put right.";
        return paragraph(width, 0, said);
    }
    String::new()
}

/// What a pause does to what is after it.
fn without_throws(section: &SectionLine) -> String {
    match (&section.regrip, &section.unread) {
        (Some(_), _) => "regrip".to_owned(),
        (None, Some(_)) => String::new(),
        (None, None) => NONE.to_owned(),
    }
}

/// What the hands do with the props in each pause that loads them anew.
fn regrips(title: &str, sheet: &TimingSheet, width: u16) -> String {
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
    let what = "what the hands do with the props; colours in order of leaving";
    paragraph(width, 0, &format!("{title} · {what}")) + &text
}

/// What is in which hand where the props rest, in the order of the score.
fn loadings(title: &str, sheet: &TimingSheet, width: u16) -> String {
    let mut rows = Vec::new();
    for (start, gather) in sheet.loadings.iter().zip(&sheet.gathers) {
        // Props that are kept lie as the gather before left them.
        if start.came != Came::Kept {
            rows.push(vec![format!("before {}", start.before), at_rest(&start.at_rest)]);
        }
        rows.push(vec![format!("after {}", gather.after), at_rest(&gather.at_rest)]);
    }
    if rows.is_empty() {
        return String::new();
    }
    let columns = [(Column::Words, "when"), (Column::Words, "what is in which hand")];
    format!("{title} · each hand's props in the order in which they leave\n")
        + &table(width, &columns, rows)
}

fn at_rest(hands: &Option<AtRest>) -> String {
    hands.as_ref().map(AtRest::in_words).unwrap_or_default()
}

fn clock_table(sheet: &TimingSheet, width: u16) -> String {
    let reads = |time: &Option<TimeRange>| {
        time.as_ref().map_or_else(|| NONE.to_owned(), |time| stacked(&time.clock()))
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
    table(width, &columns, rows)
}

fn clocks(sheet: &TimingSheet, width: u16) -> String {
    let mut text = "THE ACT ON EACH CLOCK\n".to_owned() + &clock_table(sheet, width);
    let known = |lasts: &TimeRange| lasts.is_known().then(|| lasts.clock());
    let lasts = sheet.act.lasts.as_ref().and_then(known).map(|lasts| {
        format!("The act lasts {lasts} from its first section's start to its last one's end")
    });
    let juggled = known(&sheet.act.juggled).map(|juggled| {
        format!("{juggled} of juggling, each run from its first beat to its last catch")
    });
    let lengths: Vec<String> = [lasts, juggled].into_iter().flatten().collect();
    if !lengths.is_empty() {
        text += &paragraph(width, 0, &format!("{}.", lengths.join("; ")));
    }
    text
}

fn heights(sheet: &TimingSheet, width: u16) -> String {
    let mut rows = Vec::new();
    for section in sheet.sections.iter().filter(|section| section.may_be_juggled()) {
        let juggled = section.juggled.as_ref();
        let Some(highest) = juggled.and_then(|juggled| juggled.highest.as_ref()) else {
            if juggled.is_none_or(|juggled| !juggled.flights_known) {
                let figures = if sheet.room.is_some() { 5 } else { 3 };
                let empty = std::iter::repeat_n(String::new(), figures);
                rows.push(std::iter::once(section.name.clone()).chain(empty).collect());
            }
            continue;
        };
        let mut row = vec![
            section.name.clone(),
            highest.value.clone(),
            seconds_text(&highest.flight),
            metres_and_feet(highest.above_hand_m),
        ];
        if let (Some(room), Some(needs)) = (&sheet.room, highest.needs_m) {
            let clear = room.clear_height.value;
            row.push(metres_and_feet(needs));
            row.push(if needs > clear {
                format!("TOO HIGH by\n{}", metres_and_feet(needs - clear))
            } else if needs + room.margin > clear {
                format!("CLOSE,\n{}", metres_and_feet(clear - needs))
            } else {
                metres_and_feet(clear - needs)
            });
        } else if sheet.room.is_some() {
            // What the props measure is not known.
            row.extend([String::new(), String::new()]);
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
    if sheet.room.is_some() {
        columns.push((Column::Label, "clear height\nneeded"));
        columns.push((Column::Label, "room above it"));
    }
    let mut text = "HEIGHTS · estimates\n".to_owned() + &table(width, &columns, rows);
    let room = sheet.room.as_ref().map_or_else(
        || "No room is written, so no clear height is compared.".to_owned(),
        |room| {
            let [clear, margin] = [room.clear_height.value, room.margin].map(metres_and_feet);
            format!("The room's clear height: {clear}; margin {margin}.")
        },
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
    use crate::routine::{Declares, Length};

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
        juggled.declares = Some(placed(Declares::Catches(8)));
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
