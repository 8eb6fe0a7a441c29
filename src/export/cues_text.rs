//! The cue sheet for a terminal.

use crate::act::Act;
use crate::routine::{Crew, CueOnPaper};
use crate::sheet::cue_line::CueLine;
use crate::sheet::cue_rows::{Row, RowOf, labels, rows, standbys_of};
use crate::sheet::cues::{CuePart, CueSheet, compose};
use crate::sheet::stamp::{BAR_AND_BEAT, Stamp};

use super::cue_words::{
    self, CueWords, Said, clock_line, closing, cut, cut_label, flames, may_come_before, no_cues,
    opening, standby, what,
};
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
    let above = said(&opening(sheet), columns.width());
    if !above.is_empty() {
        text += &(above + "\n");
    }
    if sheet.cut.is_empty() && sheet.parts().all(|(part, _)| part.is_empty()) {
        return text + "No cues.\n";
    }
    for line in columns.headings().into_iter().chain(blocks(&columns, sheet).concat()) {
        text += &(line + "\n");
    }
    text.push('\n');
    text + &said(&closing(sheet), columns.width())
}

/// Pieces of what stands above or under the cues, an empty line between those with a heading.
fn said(pieces: &[Said], width: u16) -> String {
    let mut text = String::new();
    for (index, piece) in pieces.iter().enumerate() {
        text += &match piece {
            Said::Heading(heading) if index > 0 => format!("\n{heading}\n"),
            Said::Heading(heading) => format!("{heading}\n"),
            Said::Labelled(label, means) => labelled(width, LABEL_WIDTH, label, means),
            Said::Words(words) => paragraph(width, 0, words),
            Said::Point(cells) => {
                let what = width - POINT[0] - POINT[1] - 3 * GAP;
                let lines = row(&[POINT[0], POINT[1], what], cells);
                lines.iter().fold(String::new(), |all, line| all + "  " + line + "\n")
            }
        };
    }
    text
}

/// Columns of the clocks in the music list.
const POINT: [u16; 2] = [15, 15];

/// Columns of the words that stand before what they mean, above the cues and under them.
const LABEL_WIDTH: u16 = 9;

/// The columns of a cue sheet: the cue's number, its time, the bar where there is music, when, what is
/// done, and the count. Notes stand under the words.
struct Columns {
    /// Of the number, the time and, where there are bars, the bar.
    figures: Vec<u16>,
    /// Of when, what is done, and the count.
    words: [u16; 3],
    timecodes: bool,
    bars: bool,
}

impl Columns {
    /// The words share what the figures leave.
    fn of(sheet: &CueSheet, width: u16) -> Columns {
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
    fn width(&self) -> u16 {
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
    fn headings(&self) -> Vec<String> {
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
    fn rule(&self, with: char) -> String {
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
        let mut cells = self.figures(&cut_label(cue), "CUT".to_owned(), None);
        cells.push(cut(cue));
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

    /// The lines of one cue; `same_go` where the cue on whose GO it goes stands above it, `before` is
    /// what it may come before, `standbys` are the stand-bys in its row.
    fn cue(
        &self,
        line: &CueLine,
        same_go: bool,
        before: Option<&str>,
        standbys: Vec<String>,
    ) -> Vec<String> {
        let said = CueWords::of(line, same_go, before);
        let mut cells = match said.at {
            Some(at) => self.figures(&line.label, self.time(at), at.bar_words()),
            None => self.figures(&line.label, "same GO".to_owned(), None),
        };
        cells.extend([format!("{} {}", said.trigger, said.when), said.does, said.count]);
        let mut lines = row(&[&self.figures[..], &self.words].concat(), &cells);
        lines.extend(self.notes(&[said.marks, standbys, said.notes].concat()));
        lines
    }
}

/// The lines that belong together: each row of the act, then those of the encore under a heading
/// of their own; a rule between rows.
fn blocks(columns: &Columns, sheet: &CueSheet) -> Vec<Vec<String>> {
    let mut blocks = rows_of(columns, sheet, &sheet.act, false);
    if let Some(no_cues) = no_cues(sheet) {
        blocks.push(paragraph(columns.width(), 0, &no_cues).lines().map(str::to_owned).collect());
    }
    if let Some(encore) = &sheet.encore {
        let mut first = vec![String::new()];
        first.extend(
            paragraph(columns.width(), 0, &cue_words::encore(encore)).lines().map(str::to_owned),
        );
        first.push(columns.rule('═'));
        let mut rows = rows_of(columns, sheet, encore, true).into_iter();
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
    part: &CuePart,
    is_encore: bool,
) -> Vec<Vec<String>> {
    let rows = rows(part, sheet.cut_of(is_encore), true);
    let last = rows.len();
    let block = |(index, one): (usize, &Row<'_>)| {
        let before = one.may_precede.as_deref();
        let mut lines = match &one.what {
            RowOf::Section(section) => {
                let mut lines = columns.spanned("", &section.starts, &section.words());
                lines.extend(columns.notes(before.map(may_come_before).as_slice()));
                lines
            }
            RowOf::StandBy(lines, at) => columns.spanned("", at, &standby(lines)),
            RowOf::Flames(line) => columns.spanned("FIRE", &line.at, &flames(line)),
            RowOf::Cut(cue) => columns.cut(cue),
            RowOf::Go(together, standbys) => {
                // On the sheet of one crew the cue that it goes with may stand elsewhere.
                let cue = |(place, line): (usize, &CueLine)| {
                    let of = standbys_of(standbys, line).filter_map(beside).collect();
                    let before = before.filter(|_| place == 0);
                    columns.cue(line, place > 0 && sheet.crew.is_none(), before, of)
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
        // Its music is still told.
        let text = text(&compiled(&quay), None, 80);
        assert!(text.contains("\nNo cues in the act.\n") && text.contains("\nMUSIC\n"), "{text}");
    }
}
