//! The cue sheet as a page of plain text to print: one act on one side where it fits.
//!
//! A page is at most [`LINES`] lines of [`WIDTH`] columns. Title, issue, page number and the show
//! clock's zero stand on every page; pages are parted by a form feed.

use crate::act::Act;
use crate::routine::Crew;
use crate::sheet::cues::{CueSheet, compose};

use super::cues_text::{Columns, blocks, clock_line, closing, opening, what};
use super::heading_text;
use super::table::paragraph;

/// Lines on a page.
pub const LINES: usize = 66;

/// Columns on a page.
pub const WIDTH: u16 = 88;

/// The cue sheet of all crews, or of one, as pages.
#[must_use]
pub fn page(act: &Act, crew: Option<Crew>) -> String {
    of_sheet(&compose(act, crew))
}

/// A composed cue sheet as pages.
#[must_use]
pub fn of_sheet(sheet: &CueSheet) -> String {
    let bodies = bodies(sheet);
    let pages: Vec<String> = bodies
        .iter()
        .enumerate()
        .map(|(index, body)| {
            let mut lines = head(sheet, index + 1, bodies.len());
            lines.extend(body.iter().cloned());
            lines.join("\n") + "\n"
        })
        .collect();
    pages.join("\u{c}")
}

/// What stands at the top of every page.
fn head(sheet: &CueSheet, page: usize, of: usize) -> Vec<String> {
    let line = format!("{} · page {page} of {of}", sheet.heading.line(&what(sheet)));
    let mut text = heading_text::mark(&sheet.heading, WIDTH) + &paragraph(WIDTH, 0, &line);
    text += &paragraph(WIDTH, 0, &clock_line(sheet));
    text.push('\n');
    text.lines().map(str::to_owned).collect()
}

/// The lines of each page below its head: cues, with their headings on every page that has any,
/// then the closing blocks.
fn bodies(sheet: &CueSheet) -> Vec<Vec<String>> {
    let columns = Columns::of(sheet, WIDTH);
    // Page numbers of six figures would not make the head longer than this.
    let room = LINES.saturating_sub(head(sheet, 999_999, 999_999).len()).max(20);
    let mut first = opening(sheet, columns.width());
    first.extend(columns.headings());
    let mut pages = vec![first];
    for block in blocks(&columns, sheet) {
        add(&mut pages, room, &block, &columns.headings());
    }
    let mut closing_lines = vec![String::new()];
    closing_lines.extend(closing(sheet, columns.width()));
    add(&mut pages, room, &closing_lines, &[]);
    // A rule that only parts a cue from the next page parts nothing.
    let rule = columns.rule('─');
    for page in &mut pages {
        if page.last() == Some(&rule) {
            page.pop();
        }
    }
    pages
}

/// Adds lines that belong together, on a new page where they no longer fit; what is longer than a
/// page is broken.
fn add(pages: &mut Vec<Vec<String>>, room: usize, lines: &[String], headings: &[String]) {
    let is_full = |page: &Vec<String>, more: usize| page.len() + more > room;
    if pages.last().is_some_and(|page| is_full(page, lines.len()) && page.len() > headings.len()) {
        pages.push(headings.to_vec());
    }
    for line in lines {
        if pages.last().is_some_and(|page| is_full(page, 1)) {
            pages.push(headings.to_vec());
        }
        if let Some(page) = pages.last_mut() {
            page.push(line.clone());
        }
    }
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;
    use crate::measure::examples::{compiled, cue, lantern_quay, ms, when};
    use crate::routine::{Moment, Trigger};

    /// The page of the worked example with so many called cues instead of its own.
    fn with_cues(count: u32) -> String {
        let mut quay = lantern_quay();
        quay.cues = (1..=count)
            .map(|number| {
                let go = when(Moment::At(ms(i64::from(number) * 1000)), 0);
                cue(Crew::Light, number, Some(go), Trigger::Called, "a word or two to wrap about")
            })
            .collect();
        page(&compiled(&quay), None)
    }

    #[test]
    fn the_worked_example_prints_on_one_side() {
        let quay = lantern_quay();
        let page = page(&compiled(&quay), None);
        assert!(page.starts_with("Lantern Quay · cue sheet · issue 3 · page 1 of 1\n"), "{page}");
        insta::assert_snapshot!(page);
    }

    #[test]
    fn a_long_sheet_is_broken_into_pages_that_each_say_what_they_are() {
        for count in [1, 20, 26, 27, 28, 29, 30, 60, 200] {
            let text = with_cues(count);
            let pages: Vec<&str> = text.split('\u{c}').collect();
            for (index, page) in pages.iter().enumerate() {
                assert!(page.lines().count() <= LINES, "{count} cues: {page}");
                assert!(page.lines().all(|line| line.width() <= usize::from(WIDTH)), "{page}");
                let place = format!("issue 3 · page {} of {}\n", index + 1, pages.len());
                assert!(page.contains(&place), "{page}");
                assert!(page.contains("0:00.0 is track start"), "{page}");
            }
            for number in 1..=count {
                let label = format!("\nLX {number} ");
                assert_eq!(text.matches(&label).count(), 1, "{count} cues: {label}");
            }
            assert_eq!(text.matches("WHEN A PROP DROPS").count(), 1, "{count} cues");
        }
    }
}
