//! Tables of plain text: the one place that knows how columns are laid out and text is wrapped.
//!
//! Widths are in terminal columns. No colour, no trailing spaces: what a table says, it says in
//! words and position.

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle, Width,
};
use unicode_width::UnicodeWidthStr;

/// The narrowest width that anything is laid out for: below it lines run over rather than break
/// words letter by letter.
pub(super) const NARROWEST: u16 = 40;

/// The same for sheets whose tables have many columns.
pub(super) const NARROWEST_SHEET: u16 = 72;

/// Stands where nothing applies.
pub(super) const NONE: &str = "–";

/// Only a rule under the headings: columns are told apart by their gaps.
const RULE_UNDER_HEADINGS: TableStyle =
    TableStyle::new().header_separator(LineStyle::none().fill('─'));

/// How a column is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    /// Words: to the left, wrapped where the width is short.
    Words,
    /// Words in a column of at least this width.
    WordsOf(u16),
    /// Words that are never wrapped.
    Label,
    /// Figures: to the right, never wrapped.
    Figure,
    /// Figures that belong to the column after them: as [`Column::Figure`], with a small gap.
    PairedFigure,
}

/// A table with headings; rows as wide as the headings.
pub(super) fn table(
    width: u16,
    columns: &[(Column, &str)],
    rows: impl IntoIterator<Item = Vec<String>>,
) -> String {
    let mut table = Table::new();
    table.load_style(RULE_UNDER_HEADINGS);
    table.set_header(columns.iter().map(|(_, heading)| *heading).collect::<Vec<_>>());
    table.add_rows(rows);
    lay_out(&mut table, width.max(NARROWEST));
    for ((column, _), layout) in columns.iter().zip(table.column_iter_mut()) {
        let gap = if *column == Column::PairedFigure { 1 } else { 2 };
        layout.set_padding((0, gap));
        if matches!(column, Column::Figure | Column::PairedFigure) {
            layout.set_cell_alignment(CellAlignment::Right);
        }
        match *column {
            Column::Words => {}
            Column::WordsOf(least) => {
                let least = Width::Fixed(least + gap);
                layout.set_constraint(ColumnConstraint::LowerBoundary(least));
            }
            Column::Label | Column::Figure | Column::PairedFigure => {
                layout.set_constraint(ColumnConstraint::ContentWidth);
            }
        }
    }
    if let Some(last) = table.column_iter_mut().last() {
        last.set_padding((0, 0));
    }
    finish(&table.to_string())
}

/// One row in columns of fixed widths with a gap of two between them, wrapped to as many lines as
/// it needs.
pub(super) fn row(widths: &[u16], cells: &[String]) -> Vec<String> {
    let mut table = Table::new();
    table.load_style(TableStyle::new());
    table.add_row(cells.to_vec());
    lay_out(&mut table, widths.iter().map(|width| width + GAP).sum());
    for (width, layout) in widths.iter().zip(table.column_iter_mut()) {
        layout.set_padding((0, GAP));
        layout.set_constraint(ColumnConstraint::Absolute(Width::Fixed(width + GAP)));
    }
    table.to_string().lines().map(|line| line.trim_end().to_owned()).collect()
}

/// The gap between the columns of a [`row`].
pub(super) const GAP: u16 = 2;

/// A paragraph wrapped to a width, every line after so many spaces.
pub(super) fn paragraph(width: u16, indent: u16, text: &str) -> String {
    let lines = row(&[width.max(NARROWEST) - indent], &[text.to_owned()]);
    let indent = " ".repeat(usize::from(indent));
    lines.iter().fold(String::new(), |all, line| all + &indent + line + "\n")
}

/// A label and what it says, the words wrapped beside it.
pub(super) fn labelled(width: u16, label_width: u16, label: &str, text: &str) -> String {
    let words = width.max(NARROWEST).saturating_sub(label_width + GAP);
    let lines = row(&[label_width, words], &[label.to_owned(), text.to_owned()]);
    lines.iter().fold(String::new(), |all, line| all + line + "\n")
}

/// A name cut to so many columns; where it was cut it ends in `…`.
pub(super) fn shortened(name: &str, room: usize) -> String {
    if name.width() <= room {
        return name.to_owned();
    }
    let mut cut = String::new();
    for character in name.chars() {
        cut.push(character);
        if cut.width() + 1 > room {
            cut.pop();
            break;
        }
    }
    cut + "…"
}

fn lay_out(table: &mut Table, width: u16) {
    table.set_content_arrangement(ContentArrangement::Dynamic);
    table.set_width(width);
}

fn finish(text: &str) -> String {
    text.lines().fold(String::new(), |all, line| all + line.trim_end() + "\n")
}

/// Two ends in a narrow column, one below the other.
pub(super) fn stacked(text: &str) -> String {
    text.replace('–', "–\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_keeps_to_its_width_and_never_breaks_a_figure() {
        let columns = [(Column::Words, "what"), (Column::Figure, "throws"), (Column::Words, "why")];
        let rows = vec![vec![
            "a section with a name that goes on for a while and a while".to_owned(),
            "123456".to_owned(),
            "and a reason that is no shorter than the name of the section is".to_owned(),
        ]];
        let text = table(48, &columns, rows);
        assert!(text.contains("123456"), "{text}");
        assert!(text.lines().all(|line| line.width() <= 48), "{text}");
        assert!(text.lines().all(|line| line == line.trim_end()), "{text}");
    }

    #[test]
    fn a_row_wraps_each_cell_in_its_own_column() {
        let cells = ["0:07.5".to_owned(), "sides up, front low".to_owned(), "1".to_owned()];
        let lines = row(&[7, 10, 3], &cells);
        assert_eq!(lines, ["0:07.5   sides up,   1", "         front low"]);
    }
}
