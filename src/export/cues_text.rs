//! The cue sheet for a terminal.

use crate::act::Act;
use crate::issue::Told;
use crate::routine::Crew;
use crate::sheet::cue_rows::{Row, rows};
use crate::sheet::cues::{
    CueLine, CueSheet, DARK_WHEN_A_PROP_DROPS, TriggerKind, WHEN_A_PROP_DROPS, compose,
};
use crate::sheet::flames::{FlamesChange, FlamesLine};
use crate::sheet::stamp::{BAR_AND_BEAT, Stamp};
use crate::sheet::time_signals::ON_DROP;
use crate::sheet::words::{count, plain};
use crate::sheet::{caution, words};

use super::heading_text;
use super::table::{GAP, NARROWEST_SHEET, NONE, labelled, paragraph, row, stacked};

/// A rule is drawn after so many cues, to keep the eye in its line.
const RULE_EVERY: usize = 3;

/// The cue sheet of all crews, or of one, for a terminal `width` columns wide.
#[must_use]
pub fn text(act: &Act, crew: Option<Crew>, width: u16) -> String {
    of_sheet(&compose(act, crew), width)
}

/// A composed cue sheet for a terminal `width` columns wide.
#[must_use]
pub fn of_sheet(sheet: &CueSheet, width: u16) -> String {
    let columns = Columns::of(sheet, width);
    let mut text = heading_text::heading(&sheet.heading, &what(sheet), columns.width());
    text += &paragraph(columns.width(), 0, &clock_line(sheet));
    text.push('\n');
    for line in opening(sheet, columns.width()) {
        text += &(line + "\n");
    }
    if sheet.all_lines().next().is_none() && sheet.cut.is_empty() && sheet.flames.is_empty() {
        return text + "No cues.\n";
    }
    for line in columns.headings().into_iter().chain(blocks(&columns, sheet).concat()) {
        text += &(line + "\n");
    }
    text.push('\n');
    for line in closing(sheet, columns.width()) {
        text += &(line + "\n");
    }
    text
}

/// What the sheet is, and whose.
pub(super) fn what(sheet: &CueSheet) -> String {
    match sheet.crew {
        Some(crew) => format!("cue sheet, {}", crew.label()),
        None => "cue sheet".to_owned(),
    }
}

/// Which clock its times are on.
pub(super) fn clock_line(sheet: &CueSheet) -> String {
    let mut line = format!(
        "Times are on the show clock: 0:00.0 is {}. Counts are seconds from GO.",
        sheet.zero
    );
    if sheet.all_lines().any(|line| line.go.range().uncertain().is_some()) {
        line += " A time with two ends is the earliest and the latest: go by what you see, hear or \
                 are called, not by the clock.";
    }
    if let Some(clock) = &sheet.timecode {
        line += &format!(" {}", clock.words());
    }
    line
}

/// The columns of a cue sheet.
pub(super) struct Columns {
    widths: [u16; 6],
    timecodes: bool,
    bars: bool,
}

impl Columns {
    /// Time, cue, when, does, count, note: the words share what the figures leave.
    pub(super) fn of(sheet: &CueSheet, width: u16) -> Columns {
        // 8 columns hold `-99:59.9` and `LX 100.5`; a time code and the bar stand under the time.
        let (timecodes, bars) = (sheet.timecode.is_some(), sheet.any_bars());
        // Of a time code with two ends a dash stands behind the first.
        let two_ends =
            |line: &CueLine| line.go.timecode.as_ref().is_some_and(|code| code.latest.is_some());
        let time = match timecodes {
            true => 11 + u16::from(sheet.all_lines().any(two_ends)),
            false => 8 + u16::from(bars),
        };
        let (cue, count) = (8, 5);
        let words = width.max(NARROWEST_SHEET) - time - cue - count - 5 * GAP;
        // A note is never narrower than its longest figure, `stand by -10:00.0`.
        let note = (words / 4).max(16);
        let does = (words - note) / 2;
        Columns { widths: [time, cue, words - note - does, does, count, note], timecodes, bars }
    }

    /// Columns and gaps together.
    pub(super) fn width(&self) -> u16 {
        self.widths.iter().sum::<u16>() + 5 * GAP
    }

    /// The heading row and the rule under it.
    pub(super) fn headings(&self) -> Vec<String> {
        let mut time = "TIME".to_owned();
        if self.timecodes {
            time += "\nTIME CODE";
        }
        if self.bars {
            time = format!("{time}\n{}", BAR_AND_BEAT.to_uppercase());
        }
        let names = ["CUE", "WHEN", "DOES", "COUNT", "NOTE"].map(str::to_owned);
        let [cue, when, does, count, note] = names;
        let names = [time, cue, when, does, count, note];
        let mut lines = row(&self.widths, &names);
        lines.push(self.rule('═'));
        lines
    }

    /// A rule from edge to edge.
    pub(super) fn rule(&self, with: char) -> String {
        with.to_string().repeat(usize::from(self.width()))
    }

    /// A stand-by on a row of its own.
    fn standby(&self, line: &CueLine, standby: &Stamp) -> Vec<String> {
        row(
            &self.widths,
            &[
                stacked(&standby.range().clock()),
                line.label.clone(),
                "STAND BY".to_owned(),
                format!("for GO at {}", line.go.range().clock())
                    .trim_end_matches(" at ")
                    .to_owned(),
                String::new(),
                String::new(),
            ],
        )
    }

    /// Flames, on a row of their own.
    fn flames(&self, line: &FlamesLine) -> Vec<String> {
        let what = match line.what {
            FlamesChange::Alight => "FLAMES ALIGHT",
            FlamesChange::Out => "FLAMES OUT",
            FlamesChange::NotOut => "FLAMES NOT OUT",
        };
        let does = match line.what {
            FlamesChange::NotOut => format!("nothing says that \"{}\" is put out", line.set),
            _ => format!("\"{}\"", line.set),
        };
        let when = format!("{what} {}", line.place);
        let time = stacked(&line.at.range().clock());
        row(&self.widths, &[time, "FIRE".to_owned(), when, does, String::new(), String::new()])
    }

    /// The lines of one cue; `same_go` where the cue on whose GO it goes stands above it.
    fn cue(&self, line: &CueLine, same_go: bool) -> Vec<String> {
        let mut notes = Vec::new();
        match line.told {
            Told::Same => {}
            Told::New => notes.push("NEW".to_owned()),
            Told::Changed(_) => notes.push("CHANGED".to_owned()),
        }
        let standby = line.standby.iter().map(|time| time.range().clock());
        let standby = standby.filter(|time| !time.is_empty());
        notes.extend(standby.map(|standby| format!("stand by {standby}")));
        notes.extend(line.notes.iter().cloned());
        if line.on_drop_written {
            notes.push(format!("DROP: {}", line.on_drop.plain()));
        }
        let trigger = line.trigger.word().to_uppercase();
        let timecode = match line.go.timecode_words() {
            Some(code) => format!("\n{}", stacked(&code)),
            // Empty where it is not known, not where there is none.
            None if self.timecodes && line.go.range().is_known() => format!("\n{NONE}"),
            None => String::new(),
        };
        let bar = line.go.bar_words().filter(|_| self.bars);
        let bar = bar.map(|bar| format!("\n{}", stacked(&bar))).unwrap_or_default();
        let (time, when) = match &line.with {
            Some(with) if same_go => {
                let of = format!("{} {}", with.crew.label(), with.of);
                ("same GO".to_owned(), format!("with {of}"))
            }
            _ => (stacked(&line.go.range().clock()), line.when.plain()),
        };
        row(
            &self.widths,
            &[
                time + &timecode + &bar,
                line.label.clone(),
                format!("{trigger} {when}"),
                line.does.plain(),
                line.count.as_ref().map(count).unwrap_or_default(),
                notes.join("\n"),
            ],
        )
    }
}

/// The lines that belong together: each row of the act, then those of the encore under a heading
/// of their own; after every few rows but the last a rule.
pub(super) fn blocks(columns: &Columns, sheet: &CueSheet) -> Vec<Vec<String>> {
    let mut blocks = rows_of(columns, sheet, &sheet.lines, &sheet.flames);
    if sheet.lines.is_empty() {
        blocks.push(vec!["No cues in the act.".to_owned()]);
    }
    if let Some(encore) = &sheet.encore {
        let mut heading = format!(
            "ENCORE · only if it is called for. Its own clock reads 0:00.0 at {}.",
            encore.zero
        );
        if let Some(clock) = &encore.timecode {
            heading += &format!(" {}", clock.words());
        }
        let mut first = vec![String::new()];
        first.extend(paragraph(columns.width(), 0, &heading).lines().map(str::to_owned));
        first.push(columns.rule('═'));
        let mut rows = rows_of(columns, sheet, &encore.lines, &encore.flames).into_iter();
        // A heading is never the last of a page.
        first.extend(rows.next().unwrap_or_default());
        blocks.push(first);
        blocks.extend(rows);
    }
    blocks
}

fn rows_of(
    columns: &Columns,
    sheet: &CueSheet,
    lines: &[CueLine],
    flames: &[FlamesLine],
) -> Vec<Vec<String>> {
    let rows = rows(lines, flames);
    let last = rows.len();
    let block = |(index, one): (usize, &Row<'_>)| {
        let mut lines = match one {
            Row::StandBy(line, standby) => columns.standby(line, standby),
            Row::Flames(line) => columns.flames(line),
            Row::Go(together) => {
                // On the sheet of one crew the cue that it goes with may stand elsewhere.
                let cue = |(place, line): (usize, &CueLine)| {
                    columns.cue(line, place > 0 && sheet.crew.is_none())
                };
                together.iter().enumerate().flat_map(cue).collect()
            }
        };
        if (index + 1).is_multiple_of(RULE_EVERY) && index + 1 < last {
            lines.push(columns.rule('─'));
        }
        lines
    };
    rows.iter().enumerate().map(block).collect()
}

/// What stands above the cues, on the first page: the cautions.
pub(super) fn opening(sheet: &CueSheet, width: u16) -> Vec<String> {
    if sheet.cautions.is_empty() {
        return Vec::new();
    }
    let mut text = "CAUTIONS\n".to_owned();
    for caution in &sheet.cautions {
        text += &labelled(width, LABEL_WIDTH, caution.heading(), caution.text());
    }
    text += &paragraph(width, 0, caution::DEFERS);
    text.push('\n');
    text.lines().map(str::to_owned).collect()
}

/// Columns of the words that stand before what they mean, above the cues and under them.
const LABEL_WIDTH: u16 = 9;

/// What stands under the cues: what a drop means for them.
pub(super) fn closing(sheet: &CueSheet, width: u16) -> Vec<String> {
    let mut text = changes(sheet, width, LABEL_WIDTH);
    text += "WHEN A PROP DROPS\n";
    if sheet.all_lines().any(|line| line.on_drop_written) {
        let means = "in a note is what becomes of that one cue; it comes before these.";
        text += &labelled(width, LABEL_WIDTH, "DROP", means);
    }
    if sheet.all_lines().any(|line| line.dark) {
        text += &labelled(width, LABEL_WIDTH, "DARK", DARK_WHEN_A_PROP_DROPS);
    }
    for (taken, means) in WHEN_A_PROP_DROPS {
        text += &labelled(width, LABEL_WIDTH, taken, means);
    }
    if sheet.all_lines().any(|line| line.trigger == TriggerKind::Clock) {
        text += &labelled(width, LABEL_WIDTH, "CLOCK", &format!("{ON_DROP}."));
    }
    if sheet.cautions.is_empty() {
        text += &paragraph(width, 0, caution::VENUE_FIRST);
    }
    text += &paragraph(width, 0, words::PERFORMERS_SIDES);
    text.lines().map(str::to_owned).collect()
}

/// What has changed since the issue before: nothing where there is none.
fn changes(sheet: &CueSheet, width: u16, label_width: u16) -> String {
    let Some(since) = sheet.since else { return String::new() };
    let mut text = format!("CHANGED SINCE ISSUE {since}\n");
    let head = text.len();
    for line in sheet.all_lines() {
        let what = match &line.told {
            Told::Same => continue,
            Told::New => format!("NEW: {}", line.does.plain()),
            Told::Changed(what) => plain(&what.join("; ")),
        };
        text += &labelled(width, label_width, &line.label, &what);
    }
    for cue in &sheet.cut {
        let number = cue.number.map(|number| cue.crew.cue(number));
        let label = number.unwrap_or_else(|| cue.crew.label().to_owned());
        let what = format!("CUT: {}, was at {}", plain(&cue.does), plain(&cue.go));
        text += &labelled(width, label_width, &label, &what);
    }
    if text.len() == head {
        text += "Nothing.\n";
    }
    text + "\n"
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn the_cue_sheet_of_the_worked_example_reads_well_at_80_columns() {
        let quay = lantern_quay();
        let text = text(&compiled(&quay), None, 80);
        assert!(text.lines().all(|line| line.width() <= 80), "{text}");
        insta::assert_snapshot!(text);
    }

    #[test]
    fn an_act_without_cues_says_so() {
        let mut quay = lantern_quay();
        quay.cues.clear();
        assert!(text(&compiled(&quay), None, 80).ends_with("\nNo cues.\n"));
    }
}
