//! The colour sheet for a terminal. Every colour stands by its name and, in the hands, by its
//! letter on the strip, so that nothing needs the colour itself.

use unicode_width::UnicodeWidthStr;

use crate::act::Act;
use crate::diagnostic::words::{all_of, counted, sentence};
use crate::hand::Hand;
use crate::lineup::{Colours, Outcome};
use crate::sheet::colour_chart::{CycleColours, Made, OrbitProps, SectionChart, WayColours};
use crate::sheet::colours::{ColoursSheet, OtherLoadings, RepairLine, compose};
use crate::sheet::loading::{Came, ColdStart, Gathered, in_words};
use crate::sheet::words::{PERFORMERS_SIDES, encore_heading};
use crate::time::Time;
use crate::timeline::Joining;

use super::appearance_text;
use super::hands_drawing::drawing;
use super::heading_text::heading;
use super::table::{Column, NARROWEST_SHEET, NONE, paragraph, shortened, table};

/// The colour sheet of a routine for a terminal `width` columns wide; how the colours read comes
/// last.
#[must_use]
pub fn text(act: &Act, colours: &Colours, width: u16) -> String {
    of_sheet(&compose(act, colours), width)
}

/// A composed colour sheet for a terminal `width` columns wide.
#[must_use]
pub fn of_sheet(sheet: &ColoursSheet, width: u16) -> String {
    let width = width.max(NARROWEST_SHEET);
    let mut parts = vec![head(sheet, width)];
    parts.extend(of_score(sheet, width));
    if let Some(encore) = &sheet.encore {
        let heading = paragraph(width, 0, &encore_heading(&encore.zero));
        parts.push(heading + &verdict(encore, width));
        parts.extend(of_score(encore, width));
    }
    if !sheet.appearance.sets.is_empty() {
        parts.push(appearance_text::of_sheet(&sheet.appearance, width));
    }
    parts.join("\n")
}

/// What is asked of one score, the act's or the encore's, and everything that its props show.
fn of_score(sheet: &ColoursSheet, width: u16) -> Vec<String> {
    let mut parts = vec![asked(sheet, width), repairs(sheet, width), chosen(sheet, width)];
    for (run, start) in sheet.loadings.iter().enumerate() {
        parts.push(loading(start, &sheet.letters, width));
        let others = sheet.others.iter().flatten().find(|others| others.before == start.before);
        parts.extend(others.map(|others| other_loadings(others, width)));
        let in_run = sheet.sections.iter().filter(|chart| chart.run == run);
        parts.extend(in_run.map(|chart| section(sheet, chart, width)));
        parts.extend(sheet.gathers.get(run).map(|gathered| gather(gathered, width)));
    }
    parts.retain(|part| !part.is_empty());
    parts
}

fn head(sheet: &ColoursSheet, width: u16) -> String {
    let mut text = heading(&sheet.heading, "colours", width);
    text += &verdict(sheet, width);
    if sheet.encore.as_ref().is_some_and(|encore| encore.possible == Some(false)) {
        let below = "In the encore not every colour request can be met: see there.";
        text += &paragraph(width, 0, below);
    }
    text += &paragraph(width, 0, PERFORMERS_SIDES);
    text
}

/// Whether the colour requests are met.
fn verdict(sheet: &ColoursSheet, width: u16) -> String {
    let all = sheet.asked.len();
    let unmet = sheet.asked.iter().filter(|one| one.unmet.is_some()).count();
    let mut verdict = match (all, unmet) {
        (1.., _) if sheet.possible.is_none() => NOT_JUDGED.to_owned(),
        (0, _) => "No section asks anything of the colours.".to_owned(),
        (1, 0) => "The one colour request is met.".to_owned(),
        (_, 0) => format!("All {all} colour requests are met."),
        (1, _) => "NOT POSSIBLE: the one colour request cannot be met.".to_owned(),
        _ => format!("NOT POSSIBLE: {unmet} of {all} colour requests cannot be met."),
    };
    verdict += match sheet.outcome {
        _ if sheet.possible.is_none() => "",
        Outcome::AsWritten | Outcome::Found => "",
        Outcome::Impossible => {
            " No choice that you left open meets them all; what follows is nearest to what you wrote."
        }
        Outcome::TooMany => {
            " There are too many possibilities to try them all, so none was chosen; what follows is \
             nearest to what you wrote."
        }
    };
    let mut text = paragraph(width, 0, &verdict);
    if !sheet.unread.is_empty() {
        let unread = format!("NOT READ: what {} shows is not known.", all_of(&sheet.unread));
        text += &paragraph(width, 0, &unread);
    }
    text
}

const NOT_JUDGED: &str = "Whether the colour requests are met is not known: an error leaves open \
                          which prop is where.";

fn asked(sheet: &ColoursSheet, width: u16) -> String {
    if sheet.asked.is_empty() {
        return String::new();
    }
    let rows = sheet.asked.iter().map(|one| {
        let what = match &one.unmet {
            None => one.what.clone(),
            Some(unmet) => format!("{}: {}", one.what, unmet.reason),
        };
        let met = one.met.map(|met| if met { "yes" } else { "NO" });
        vec![met.unwrap_or_default().to_owned(), what]
    });
    let columns = [(Column::Label, "seen"), (Column::Words, "what is asked")];
    let mut text = "ASKED · what must be seen\n".to_owned() + &table(width, &columns, rows);
    if sheet.clash.len() > 1 {
        let clash = format!("No loading meets these together: {}.", all_of(&sheet.clash));
        text += &paragraph(width, 0, &clash);
    }
    text
}

fn repairs(sheet: &ColoursSheet, width: u16) -> String {
    if sheet.possible != Some(false) {
        return String::new();
    }
    let heading = "FIXES · what would meet the requests; the cheapest first\n".to_owned();
    if sheet.repairs.is_empty() {
        return heading + &paragraph(width, 0, "None was found.");
    }
    let said = |line: &RepairLine| {
        let mut said = sentence(&line.what);
        if let Some(loading) = &line.loading {
            let names =
                |colours: &[String]| colours.iter().map(String::to_owned).collect::<Vec<_>>();
            let (right, left) = (names(&loading.right), names(&loading.left));
            let right: Vec<&str> = right.iter().map(String::as_str).collect();
            let left: Vec<&str> = left.iter().map(String::as_str).collect();
            said +=
                &format!(" Loading before \"{}\": {}.", loading.before, in_words(&right, &left));
        }
        said
    };
    let rows = (1..)
        .zip(&sheet.repairs)
        .map(|(number, line)| vec![format!("{number}"), said(line), line.side_effects.clone()]);
    let columns =
        [(Column::Figure, ""), (Column::Words, "what to do"), (Column::Words, "what else it does")];
    heading + &table(width, &columns, rows)
}

fn chosen(sheet: &ColoursSheet, width: u16) -> String {
    if sheet.chosen.is_empty() {
        return String::new();
    }
    let rows = sheet.chosen.iter().map(|one| vec![one.section.clone(), one.words.clone()]);
    let columns = [(Column::Words, "section"), (Column::Words, "how it is juggled")];
    "CHOSEN · by the line-up, where the routine leaves it open\n".to_owned()
        + &table(width, &columns, rows)
}

fn loading(start: &ColdStart, letters: &[String], width: u16) -> String {
    let came = match start.came {
        Came::Natural => "the usual loading",
        Came::Written => "as written",
        Came::Found => "found for you",
        Came::Kept => "as caught in the last gather",
        Came::Ordered => "as caught in the last gather, put in the written order",
        Came::Regripped => "as the pause before puts them into the hands",
    };
    let at = at(&start.starts);
    let Some(at_rest) = &start.at_rest else {
        return paragraph(width, 0, &format!("LOADING before {}{at}", start.before));
    };
    let heading = format!("LOADING before {}{at} · {came}", start.before);
    paragraph(width, 0, &heading)
        + &drawing(at_rest, letters, width)
        + &paragraph(width, 0, &format!("{} {}", sentence(&at_rest.in_words()), start.begins))
}

/// The loadings that would do as well.
fn other_loadings(others: &OtherLoadings, width: u16) -> String {
    let before = &others.before;
    if others.hands.is_empty() {
        let all = if others.are_all {
            "No other loading"
        } else {
            "None of the other loadings that were tried"
        };
        return paragraph(width, 0, &format!("{all} before {before} meets every colour request."));
    }
    let rows = (1..).zip(&others.hands).map(|(number, [right, left])| {
        let hand = |colours: &[String]| match colours.is_empty() {
            true => NONE.to_owned(),
            false => colours.join(", "),
        };
        vec![format!("{number}"), hand(right), hand(left)]
    });
    let columns =
        [(Column::Figure, ""), (Column::Words, "right hand"), (Column::Words, "left hand")];
    let more = if others.are_all { "" } else { "There may be more.\n" };
    format!("OTHER LOADINGS before {before} · fewest props elsewhere first, first to leave first\n")
        + &table(width, &columns, rows.collect::<Vec<_>>())
        + more
}

/// When it is, as in ` at 0:07.5`; nothing where that is not known.
fn at(time: &Time) -> String {
    let range = time.range();
    range.earliest().map(|_| format!(" at {}", range.clock())).unwrap_or_default()
}

fn gather(gathered: &Gathered, width: u16) -> String {
    let heading = format!("GATHER after {}{}", gathered.after, at(&gathered.ends));
    let Some(at_rest) = &gathered.at_rest else { return String::new() };
    let mut said = sentence(&at_rest.in_words());
    for (pause, words) in &gathered.regrips {
        said += &format!(" Regrip in \"{pause}\": {words}.");
    }
    match &gathered.next {
        Some((_, Came::Regripped)) => {}
        None => {}
        Some((next, Came::Kept)) => said += &format!(" \"{next}\" goes on with these as they lie."),
        Some((next, Came::Ordered)) => {
            said += &format!(" Before \"{next}\" each hand puts its own into another order.");
        }
        Some((next, _)) => said += &format!(" \"{next}\" is loaded again."),
    }
    paragraph(width, 0, &heading) + &paragraph(width, 0, &said)
}

fn section(sheet: &ColoursSheet, chart: &SectionChart, width: u16) -> String {
    let mut heading = format!("{} · {}", chart.name, chart.pattern);
    if chart.is_known {
        heading += &format!(" · {}", length(chart));
    }
    if chart.joining == Joining::Torn {
        heading += " · TORN: as if the hands had been put right";
    }
    if chart.begins > 1 {
        heading += &format!(" · begins with throw {}", chart.begins);
    }
    if let Some(other_face) = &chart.other_face {
        heading += &format!(" · {other_face}");
    }
    let mut text = paragraph(width, 0, &heading);
    if let Some(way) = &chart.way {
        text += &paragraph(width, 0, &sentence(&joined(sheet, way)));
    }
    if !chart.is_known {
        return text + &paragraph(width, 0, "What it shows is not known.");
    }
    text += &cycles(sheet, chart, width);
    let orbits: Vec<String> = chart.orbits.iter().map(orbit).collect();
    if !orbits.is_empty() {
        text += &paragraph(width, 0, &format!("Orbits: {}.", orbits.join("; ")));
    }
    text
}

/// How many cycles it has.
fn length(chart: &SectionChart) -> String {
    let whole = counted(chart.whole as u64, "cycle");
    match (chart.whole, chart.cycles.len() > chart.whole) {
        (0, true) => "a part of a cycle".to_owned(),
        (_, true) => format!("{whole} and a part of one"),
        (_, false) => whole,
    }
}

fn joined(sheet: &ColoursSheet, way: &WayColours) -> String {
    let waits = way.waits.map(|hand| format!("the {hand} hand waits"));
    let made: Vec<String> = way.made.iter().map(|&made| shown(sheet, made)).collect();
    match (way.throws.is_empty(), waits) {
        (true, waits) => waits.unwrap_or_default(),
        (false, None) => format!("joined by {}: {}", way.throws, made.join(", ")),
        (false, Some(waits)) => format!("joined by {}: {}; {waits}", way.throws, made.join(", ")),
    }
}

/// What a throw shows, in a cell.
fn shown(sheet: &ColoursSheet, made: Made) -> String {
    match made {
        Made::Colour(colour) => sheet.colours.get(colour).cloned().unwrap_or_default(),
        Made::Empty => NONE.to_owned(),
        Made::Not => String::new(),
    }
}

/// The chart: a row for each cycle until they repeat, a column for each throw; where a row is too
/// short for all throws, one chart below the other.
fn cycles(sheet: &ColoursSheet, chart: &SectionChart, width: u16) -> String {
    let all = chart.cycles.len();
    let folded = all > chart.repeats + 1;
    let rows = if folded { chart.repeats } else { all };
    let numbered: Vec<(String, &CycleColours)> = chart.cycles[..rows]
        .iter()
        .zip(1..)
        .map(|(cycle, n): (_, u32)| (n.to_string(), cycle))
        .collect();
    let of = |cycle: &CycleColours, number: u32| {
        let made = cycle.made.get(number.saturating_sub(1) as usize);
        shortened(&shown(sheet, made.copied().unwrap_or(Made::Not)), WIDEST_NAME)
    };
    let mut text = String::new();
    let mut left: &[(u32, String)] = &chart.throws;
    while !left.is_empty() {
        let mut room = usize::from(width).saturating_sub(BEFORE_THROWS);
        let fits = left.iter().take_while(|(number, value)| {
            let widths = numbered.iter().map(|(_, cycle)| of(cycle, *number).width());
            let heading = number.to_string().len().max(value.len());
            let needed = widths.max().unwrap_or(0).max(heading) + 2;
            let fits = needed <= room;
            room = room.saturating_sub(needed);
            fits
        });
        let (now, later) = left.split_at(fits.count().max(1));
        left = later;
        if !text.is_empty() {
            text.push('\n');
        }
        let headings: Vec<String> =
            now.iter().map(|(number, value)| format!("{number}\n{value}")).collect();
        let mut columns = vec![(Column::Figure, "throw\ncycle"), (Column::Label, "\nfirst hand")];
        columns.extend(headings.iter().map(|heading| (Column::Label, heading.as_str())));
        let rows = numbered.iter().map(|(number, cycle)| {
            let hand = cycle.hand.map_or("pair", Hand::word).to_owned();
            let made = now.iter().map(|(number, _)| of(cycle, *number));
            [number.clone(), hand].into_iter().chain(made).collect()
        });
        text += &table(width, &columns, rows);
    }
    if folded {
        let every = match chart.repeats {
            1 => "every cycle shows the same".to_owned(),
            several => format!("the colours repeat every {several} cycles"),
        };
        let hands = if chart.changes_hands { ", the other hand leading each time" } else { "" };
        let cut = if all > chart.whole { ", the last one cut" } else { "" };
        text += &paragraph(width, 0, &sentence(&format!("{every}{hands}; {all} in all{cut}")));
    }
    text
}

/// Longer names of colours are cut in the chart, in columns.
const WIDEST_NAME: usize = 24;

/// Columns before those of the throws: `throw` or `cycle`, `first hand`, and their gaps.
const BEFORE_THROWS: usize = 19;

/// An orbit and what it carries, as in `5 1 (throws 1, 3) coral, pearl`.
fn orbit(orbit: &OrbitProps) -> String {
    let numbers: Vec<String> = orbit.numbers.iter().map(ToString::to_string).collect();
    let props: Vec<String> = orbit.props.iter().map(|prop| prop.in_full()).collect();
    let throws = if numbers.len() == 1 { "throw" } else { "throws" };
    let props = if props.is_empty() { "not made".to_owned() } else { props.join(", ") };
    format!("{} ({throws} {}) {props}", orbit.throws.join(" "), numbers.join(", "))
}
