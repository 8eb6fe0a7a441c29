//! The cue sheet for a terminal.

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::issue::Told;
use crate::routine::{Crew, CueOnPaper};
use crate::sheet::cue_line::{CueLine, TriggerKind};
use crate::sheet::cue_rows::{Row, RowOf, labels, rows};
use crate::sheet::cues::{CuePart, CueSheet, DARK_WHEN_A_PROP_DROPS, WHEN_A_PROP_DROPS, compose};
use crate::sheet::flames::{FlamesChange, FlamesLine};
use crate::sheet::heading::UNISSUED;
use crate::sheet::stamp::{BAR_AND_BEAT, Stamp};
use crate::sheet::time_signals::ON_DROP;
use crate::sheet::words::{count, plain};
use crate::sheet::{caution, words};

use super::heading_text;
use super::table::{GAP, NARROWEST_SHEET, NONE, labelled, paragraph, row, stacked};

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
    let no_flames = sheet.parts().all(|(part, _)| part.flames.is_empty());
    if sheet.all_lines().next().is_none() && sheet.cut.is_empty() && no_flames {
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
        sheet.act.zero
    );
    if sheet.all_lines().any(|line| line.go.range().uncertain().is_some()) {
        line += " A time with two ends is the earliest and the latest: go by what you see, hear or \
                 are called, not by the clock.";
    }
    if let Some(clock) = &sheet.act.timecode {
        line += &format!(" {}", clock.words());
    }
    line
}

/// The columns of a cue sheet: the cue's number, its time, the bar where there is music, when, what is
/// done, and the count. Notes stand under the words.
pub(super) struct Columns {
    /// Of the number, the time and, where there are bars, the bar.
    figures: Vec<u16>,
    /// Of when, what is done, and the count.
    words: [u16; 3],
    timecodes: bool,
    bars: bool,
}

impl Columns {
    /// The words share what the figures leave.
    pub(super) fn of(sheet: &CueSheet, width: u16) -> Columns {
        // 8 columns hold `-99:59.9` and `LX 100.5`, 9 `-99:59.9–` and `116, 1.50`; a time code
        // stands under the time.
        let (timecodes, bars) = (sheet.act.timecode.is_some(), sheet.any_bars());
        // Of a time code with two ends a dash stands behind the first.
        let two_ends =
            |line: &CueLine| line.go.timecode.as_ref().is_some_and(|code| code.latest.is_some());
        let time = match timecodes {
            true => 11 + u16::from(sheet.all_lines().any(two_ends)),
            false => 9,
        };
        let mut figures = vec![8, time];
        figures.extend(bars.then_some(9));
        let count = 5;
        let taken = figures.iter().map(|width| width + GAP).sum::<u16>() + count + 2 * GAP;
        let words = width.max(NARROWEST_SHEET) - taken;
        Columns { figures, words: [words - words / 2, words / 2, count], timecodes, bars }
    }

    /// Columns and gaps together.
    pub(super) fn width(&self) -> u16 {
        self.indent() + self.spanning()
    }

    /// What stands before the words.
    fn indent(&self) -> u16 {
        self.figures.iter().map(|width| width + GAP).sum()
    }

    /// The columns of the words as one.
    fn spanning(&self) -> u16 {
        self.words.iter().sum::<u16>() + 2 * GAP
    }

    /// The heading row and the rule under it.
    pub(super) fn headings(&self) -> Vec<String> {
        let time = if self.timecodes { "TIME\nTIME CODE" } else { "TIME" };
        let bar = self.bars.then(|| BAR_AND_BEAT.to_uppercase());
        let mut names = vec!["CUE".to_owned(), time.to_owned()];
        names.extend(bar);
        names.extend(["WHEN", "DOES", "COUNT"].map(str::to_owned));
        let mut lines = row(&[&self.figures[..], &self.words].concat(), &names);
        lines.push(self.rule('═'));
        lines
    }

    /// A rule from edge to edge.
    pub(super) fn rule(&self, with: char) -> String {
        with.to_string().repeat(usize::from(self.width()))
    }

    /// What stands in the figures' columns.
    fn figures(&self, label: &str, time: String, bar: Option<String>) -> Vec<String> {
        let mut cells = vec![label.to_owned(), time];
        cells.extend(self.bars.then(|| bar.map(|bar| stacked(&bar)).unwrap_or_default()));
        cells
    }

    /// A time and, under it, its time code.
    fn time(&self, at: &Stamp) -> String {
        let timecode = match at.timecode_words() {
            Some(code) => format!("\n{}", stacked(&code)),
            // Empty where it is not known, not where there is none.
            None if self.timecodes && at.range().is_known() => format!("\n{NONE}"),
            None => String::new(),
        };
        stacked(&at.range().clock()) + &timecode
    }

    /// A row that is no cue: words beside a time.
    fn spanned(&self, label: &str, at: &Stamp, words: &str) -> Vec<String> {
        let mut cells = self.figures(label, self.time(at), at.bar_words());
        cells.push(words.to_owned());
        row(&[&self.figures[..], &[self.spanning()]].concat(), &cells)
    }

    /// A cue that was cut, where it stood: its time and its words are not those of a cue.
    fn cut(&self, cue: &CueOnPaper) -> Vec<String> {
        let trigger = cue.trigger.to_uppercase();
        let was = format!("was {}, {trigger} {}: {}", cue.go, cue.when, cue.does);
        let mut cells = self.figures(&cut_label(cue), "CUT".to_owned(), None);
        cells.push(plain(&was));
        row(&[&self.figures[..], &[self.spanning()]].concat(), &cells)
    }

    /// Notes under the words.
    fn notes(&self, notes: &[String]) -> Vec<String> {
        if notes.is_empty() {
            return Vec::new();
        }
        let text: Vec<String> = notes.iter().map(|note| format!("• {note}")).collect();
        let lines = row(&[self.spanning()], &[text.join(" ")]);
        let indent = " ".repeat(usize::from(self.indent()));
        lines.into_iter().map(|line| indent.clone() + &line).collect()
    }

    /// The lines of one cue; `same_go` where the cue on whose GO it goes stands above it. `first` are
    /// the notes that stand before its own.
    fn cue(&self, line: &CueLine, same_go: bool, first: Vec<String>) -> Vec<String> {
        let mut notes = Vec::new();
        match line.told {
            Told::Same => {}
            Told::New => notes.push("NEW".to_owned()),
            Told::Changed(_) => notes.push("CHANGED".to_owned()),
        }
        notes.extend(first);
        notes.extend(line.notes.iter().cloned());
        if line.on_drop_written {
            notes.push(format!("DROP: {}", line.on_drop.plain()));
        }
        let trigger = line.trigger.word().to_uppercase();
        let (mut cells, when) = match &line.with {
            Some(with) if same_go => {
                let of = format!("{} {}", with.crew.label(), with.of);
                let cells = self.figures(&line.label, "same GO".to_owned(), None);
                (cells, format!("with {of}"))
            }
            _ => {
                let bar = line.go.bar_words();
                (self.figures(&line.label, self.time(&line.go), bar), line.when.plain())
            }
        };
        cells.push(format!("{trigger} {when}"));
        cells.push(line.does.plain());
        cells.push(line.count.as_ref().map(count).unwrap_or_default());
        let mut lines = row(&[&self.figures[..], &self.words].concat(), &cells);
        lines.extend(self.notes(&notes));
        lines
    }
}

/// What a cue that was cut was called.
fn cut_label(cue: &CueOnPaper) -> String {
    let number = cue.number.map(|number| cue.crew.cue(number));
    number.unwrap_or_else(|| cue.crew.label().to_owned())
}

/// Flames in words.
fn flames(line: &FlamesLine) -> String {
    let (set, place) = (&line.set, &line.place);
    match line.what {
        FlamesChange::Alight => format!("FLAMES ALIGHT \"{set}\": {place}"),
        FlamesChange::Out => format!("FLAMES OUT \"{set}\": {place}"),
        FlamesChange::NotOut => {
            format!("FLAMES NOT OUT \"{set}\": nothing says that they are put out by the {place}")
        }
    }
}

/// A stand-by on a row of its own, as in `STAND BY LX 50 and SND 5 for GO at 0:32.0`.
fn standby(lines: &[&CueLine]) -> String {
    let go = |line: &CueLine| line.go.range().clock();
    let first = lines.first().map(|line| go(line)).unwrap_or_default();
    let each = |line: &&CueLine| format!("{} for GO at {}", line.label, go(line));
    match lines.iter().all(|line| go(line) == first) {
        true => format!("STAND BY {} for GO at {first}", labels(lines)),
        false => format!("STAND BY {}", all_of(&lines.iter().map(each).collect::<Vec<_>>())),
    }
}

/// The lines that belong together: each row of the act, then those of the encore under a heading
/// of their own; a rule between rows.
pub(super) fn blocks(columns: &Columns, sheet: &CueSheet) -> Vec<Vec<String>> {
    let mut blocks = rows_of(columns, sheet, &sheet.act, false);
    if let Some(all_cut) = all_cut(sheet) {
        blocks.push(paragraph(columns.width(), 0, &all_cut).lines().map(str::to_owned).collect());
    } else if sheet.act.lines.is_empty() {
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
        let mut rows = rows_of(columns, sheet, encore, true).into_iter();
        // A heading is never the last of a page.
        first.extend(rows.next().unwrap_or_default());
        blocks.push(first);
        blocks.extend(rows);
    }
    blocks
}

/// That a crew has nothing to do any more.
fn all_cut(sheet: &CueSheet) -> Option<String> {
    let (crew, since) = (sheet.crew?, sheet.since?);
    let cues = format!("Every cue of {} was cut since issue {since}", crew.label());
    sheet.all_cut().then(|| format!("{cues}: {} has nothing to do now.", crew.label()))
}

fn rows_of(
    columns: &Columns,
    sheet: &CueSheet,
    part: &CuePart,
    is_encore: bool,
) -> Vec<Vec<String>> {
    let rows = rows(part, sheet.cut_of(is_encore));
    let last = rows.len();
    let block = |(index, one): (usize, &Row<'_>)| {
        let before = one.may_precede.as_ref().map(|what| format!("may come before {what}"));
        let mut lines = match &one.what {
            RowOf::Section(section) => {
                let mut lines = columns.spanned("", &section.starts, &section.words());
                lines.extend(columns.notes(before.as_slice()));
                lines
            }
            RowOf::StandBy(lines, at) => columns.spanned("", at, &standby(lines)),
            RowOf::Flames(line) => columns.spanned("FIRE", &line.at, &flames(line)),
            RowOf::Cut(cue) => columns.cut(cue),
            RowOf::Go(together, standbys) => {
                // On the sheet of one crew the cue that it goes with may stand elsewhere.
                let cue = |(place, line): (usize, &CueLine)| {
                    let mut first: Vec<String> =
                        before.iter().filter(|_| place == 0).cloned().collect();
                    let of =
                        standbys.iter().filter(|of| of.first().is_some_and(|one| **one == *line));
                    first.extend(of.filter_map(|of| beside(of)));
                    columns.cue(line, place > 0 && sheet.crew.is_none(), first)
                };
                together.iter().enumerate().flat_map(cue).collect()
            }
        };
        if index + 1 < last {
            lines.push(columns.rule('─'));
        }
        lines
    };
    rows.iter().enumerate().map(block).collect()
}

/// A stand-by in its cue's row.
fn beside(lines: &[&CueLine]) -> Option<String> {
    let at = lines.first()?.standby.as_ref()?.range().clock();
    Some(match lines {
        [_] => format!("stand by at {at}"),
        _ => format!("stand by {} at {at}", labels(lines)),
    })
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
    let mut text = match sheet.heading.is_unissued() {
        true => format!("{UNISSUED}, HELD AGAINST ISSUE {since}\n"),
        false => format!("CHANGED SINCE ISSUE {since}\n"),
    };
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
        let what = format!("CUT: {}, was at {}", plain(&cue.does), plain(&cue.go));
        text += &labelled(width, label_width, &cut_label(cue), &what);
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
