//! What fits, for a terminal: the cycles that land each section, and the tempos that music offers.

use num_rational::Ratio;

use crate::measure::bend::{bend_text, may_bend_text, tempo_figure, tempo_text};
use crate::measure::fit::{MOST_CATCHES_A_MINUTE, Reach, WhyNot};
use crate::measure::height::metres_and_feet;
use crate::sheet::fit::{FitLine, FitSheet, Stretch};

use super::heading_text::heading;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, table};

/// What fits, for a terminal `width` columns wide.
#[must_use]
pub fn of_sheet(sheet: &FitSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut parts = vec![head(sheet, width)];
    parts.extend(of_score(sheet, "the show clock", width));
    if let Some(encore) = &sheet.encore {
        let of_encore = of_score(encore, "the encore's clock", width);
        if of_encore.iter().any(|part| !part.is_empty()) {
            parts.push("ENCORE · only if it is called for, on its own clock\n".to_owned());
        }
        parts.extend(of_encore);
    }
    parts.push(foot(sheet, width));
    parts.retain(|part| !part.is_empty());
    parts.join("\n")
}

/// What fits in the act, or in its encore.
fn of_score(sheet: &FitSheet, clock: &str, width: u16) -> Vec<String> {
    let mut parts: Vec<String> = sheet.sections.iter().map(|line| section(line, width)).collect();
    parts.push(without(sheet, width));
    parts.extend(sheet.to_music.iter().map(|stretch| to_music(stretch, clock, width)));
    parts
}

fn head(sheet: &FitSheet, width: u16) -> String {
    let mut text = heading(&sheet.heading, "what fits", width);
    if !sheet.sections.is_empty() {
        text += &paragraph(
            width,
            0,
            "Whole cycles that land a section on its end, the least bend of the tempo first.",
        );
    }
    text
}

fn section(line: &FitLine, width: u16) -> String {
    let FitLine { name, pattern, ends, fit } = line;
    let most = may_bend_text(&fit.may_bend);
    let may_bend = if fit.may_bend_is_written {
        format!("may bend {most}")
    } else {
        format!("no `may_bend` is written: judged by {most}")
    };
    let title = format!(
        "{name} · {pattern} · {ends} · written at {} a minute · {may_bend}",
        tempo_text(&fit.end.written)
    );
    let rows: Vec<Vec<String>> = fit
        .choices
        .iter()
        .map(|choice| {
            let mut row = vec![
                choice.bend.cycles.to_string(),
                tempo_figure(&choice.bend.per_minute),
                bend_text(&choice.bend.bend()),
                format!("{:.3} s", choice.bend.lasts.to_f64()),
            ];
            row.extend(heights(choice.reach));
            row.push(verdict(&choice.why_not));
            row
        })
        .collect();
    let text = paragraph(width, 0, &title);
    if rows.is_empty() {
        return text + &paragraph(width, 0, "No time is left for a single cycle.");
    }
    let columns = [
        (Column::Figure, "cycles"),
        (Column::Figure, "throws\na minute"),
        (Column::Figure, "bend"),
        (Column::Figure, "lasts"),
        (Column::Figure, "highest,\nm"),
        (Column::Figure, "needs,\nm"),
        (Column::Words, "fits"),
    ];
    text + &table(width, &columns, rows)
}

/// The height above the hand and the clear height, in metres.
fn heights(reach: Option<Reach>) -> [String; 2] {
    let metres = |height: Option<f64>| height.map_or(NONE.to_owned(), |one| format!("{one:.2}"));
    [metres(reach.map(|one| one.above_hand_m)), metres(reach.and_then(|one| one.needs_m))]
}

fn verdict(why_not: &[WhyNot]) -> String {
    if why_not.is_empty() {
        return "yes".to_owned();
    }
    let reasons: Vec<String> = why_not
        .iter()
        .map(|why| match why {
            WhyNot::BendsTooFar => "bends too far".to_owned(),
            WhyNot::TooHigh(over) => format!("{over:.2} m over"),
            WhyNot::TooFast(catches) => format!("{catches:.0} catches a minute"),
        })
        .collect();
    format!("NO: {}", reasons.join("; "))
}

/// The sections that land nowhere.
fn without(sheet: &FitSheet, width: u16) -> String {
    if sheet.without.is_empty() {
        return String::new();
    }
    let mut text = "NOTHING TO CHOOSE\n".to_owned();
    let mut reasons: Vec<&str> = sheet.without.iter().map(|(_, why)| *why).collect();
    reasons.sort_unstable();
    reasons.dedup();
    for reason in reasons {
        let of_it = sheet.without.iter().filter(|(_, why)| *why == reason);
        let names: Vec<&str> = of_it.map(|(name, _)| name.as_str()).collect();
        text += &paragraph(width, 0, &format!("{reason}: {}", names.join(", ")));
    }
    text
}

fn to_music(stretch: &Stretch, clock: &str, width: u16) -> String {
    let title = format!(
        "TO MUSIC · {} bar {}, {} on {clock}: {} music beats a minute",
        if stretch.reached { "a ramp ends in" } else { "from" },
        stretch.bar,
        stretch.from.clock(),
        tempo_text(&stretch.bpm)
    );
    let text = paragraph(width, 0, &title);
    let mut rows = Vec::new();
    for tempo in &stretch.tempos {
        let head = [
            throws_per_beat(tempo.throws_per_music_beat),
            tempo_figure(&tempo.per_minute),
            format!("{:.2} s", tempo.dwell.to_f64()),
        ];
        if tempo.sections.is_empty() {
            let none = std::iter::repeat_n(NONE.to_owned(), 4);
            rows.push(head.into_iter().chain(none).collect());
            continue;
        }
        // Patterns that come to the same share a line.
        let mut alike: Vec<(Vec<&str>, [String; 3])> = Vec::new();
        for (pattern, at_tempo) in stretch.patterns.iter().zip(&tempo.sections) {
            let [highest, needs] = heights(at_tempo.reach);
            let figures = [highest, needs, verdict(&at_tempo.why_not)];
            match alike.iter_mut().find(|(_, others)| *others == figures) {
                Some((patterns, _)) if patterns.contains(&pattern.as_str()) => {}
                Some((patterns, _)) => patterns.push(pattern),
                None => alike.push((vec![pattern], figures)),
            }
        }
        for (index, (patterns, figures)) in alike.into_iter().enumerate() {
            let mut row: Vec<String> =
                if index == 0 { head.to_vec() } else { vec![String::new(); head.len()] };
            row.push(patterns.join(", "));
            row.extend(figures);
            rows.push(row);
        }
    }
    let columns = [
        (Column::Label, "throws a\nmusic beat"),
        (Column::Figure, "a minute"),
        (Column::Figure, "dwell"),
        (Column::Words, "patterns"),
        (Column::Figure, "highest,\nm"),
        (Column::Figure, "needs,\nm"),
        (Column::Words, "fits"),
    ];
    text + &table(width, &columns, rows)
}

/// As in `3/2`, with the word that musicians have for it.
fn throws_per_beat(throws: Ratio<i64>) -> String {
    match (*throws.numer(), *throws.denom()) {
        (1, 2) => "1/2 half".to_owned(),
        (1, 1) => "1 single".to_owned(),
        (2, 1) => "2 double".to_owned(),
        (3, 1) => "3 triplet".to_owned(),
        (whole, 1) => whole.to_string(),
        (throws, beats) => format!("{throws}/{beats}"),
    }
}

fn foot(sheet: &FitSheet, width: u16) -> String {
    let mut text = String::new();
    if !sheet.sections.is_empty() {
        text += "A choice fits if it bends no further than it may, and if it stays ";
    } else if sheet.to_music.is_empty() {
        return text;
    } else {
        text += "A tempo fits if it stays ";
    }
    let room = sheet.clear_height_m.map_or_else(
        || "in the room (you wrote none) ".to_owned(),
        |clear| format!("in the room ({} clear) ", metres_and_feet(clear)),
    );
    text += &format!(
        "{room}and below {MOST_CATCHES_A_MINUTE:.0} catches a minute, the most that has been seen. \
         Highest: the longest throw above the hand. Needs: the clear height for it; over: more \
         than the room has. "
    );
    if !sheet.to_music.is_empty() {
        text += "Dwell: from catch to throw. ";
    }
    text += "Heights are estimates from the time in the air: measure to the lowest thing overhead; \
             the venue's and local rules decide.";
    paragraph(width, 0, &text)
}
