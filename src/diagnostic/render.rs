//! Diagnostics for people: the sentence, an excerpt of the file, notes and ways out.
//!
//! The excerpts are drawn by annotate-snippets, which gets only the lines that it draws. Width
//! and colour are inputs; nothing here knows of a terminal.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Patch, Renderer, Snippet};
use unicode_width::UnicodeWidthStr;

use crate::time::{Seconds, seconds_text};

use super::lines::Lines;
use super::words::visible;
use super::{Diagnostic, Edit, Effects, Help, Place, Severity};

/// A marked place of more lines is marked on its first line only.
const MOST_LINES: usize = 8;
/// Of a line that is longer than this, in bytes, only the part around the place is drawn.
const LONGEST_LINE: usize = 2000;
/// So many bytes of it are drawn before and after the place.
const AROUND: usize = 500;
/// Stands where a line is cut.
const ELLIPSIS: &str = "...";
/// After so many diagnostics the rest is counted, not drawn.
const MOST_DRAWN: usize = 1000;

/// Draws diagnostics and counts them in a last line; nothing for none.
#[must_use]
pub fn render(
    diagnostics: &[Diagnostic],
    file_name: &str,
    text: &str,
    width: usize,
    colour: bool,
) -> String {
    if diagnostics.is_empty() {
        return String::new();
    }
    let width = width.clamp(40, 400);
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.term_width(width).decor_style(DecorStyle::Unicode);
    let page = Page { lines: Lines::new(text), text, width };
    let mut drawn = String::new();
    for diagnostic in diagnostics.iter().take(MOST_DRAWN) {
        drawn.push_str(&without_high_controls(&renderer.render(&page.groups(diagnostic))));
        drawn.push_str(&format!("\n{}\n\n", page.place_and_code(diagnostic, file_name)));
    }
    if let Some(rest) = diagnostics.len().checked_sub(MOST_DRAWN).filter(|&rest| rest > 0) {
        drawn.push_str(&format!("… and {rest} more of them.\n\n"));
    }
    drawn.push_str(&tally(diagnostics));
    drawn.push('\n');
    drawn
}

/// How many there are, as in `2 errors, 1 warning`.
#[must_use]
pub fn tally(diagnostics: &[Diagnostic]) -> String {
    let count = |severity| diagnostics.iter().filter(|one| one.severity == severity).count();
    let some = |count: usize, word: &str| match count {
        0 => None,
        1 => Some(format!("1 {word}")),
        _ => Some(format!("{count} {word}s")),
    };
    let counts = [some(count(Severity::Error), "error"), some(count(Severity::Warning), "warning")];
    let counts: Vec<String> = counts.into_iter().flatten().collect();
    if counts.is_empty() { "no errors, no warnings".to_owned() } else { counts.join(", ") }
}

/// What everything is drawn on.
struct Page<'p> {
    lines: Lines<'p>,
    text: &'p str,
    width: usize,
}

impl<'p> Page<'p> {
    fn groups(&self, diagnostic: &'p Diagnostic) -> Vec<Group<'p>> {
        let (level, name) = match diagnostic.severity {
            Severity::Error => (Level::ERROR, "Error"),
            Severity::Warning => (Level::WARNING, "Warning"),
        };
        let because = || Level::NOTE.with_name(Some("Because"));
        let fix = || Level::HELP.with_name(Some("Fix"));
        let title = self.wrapped(&diagnostic.message, name.len() + 2);
        let at = self.shown(&diagnostic.at);
        let label = printable(&diagnostic.label);
        let label = (!label.is_empty()).then_some(label);
        let mut first = level.with_name(Some(name)).primary_title(title).element(
            self.excerpt(&at)
                .annotation(AnnotationKind::Primary.span(self.within(&at, &at)).label(label)),
        );
        for note in diagnostic.notes.iter().filter(|note| note.at.is_none()) {
            first = first.element(because().message(self.wrapped(&note.text, 14)));
        }
        for help in diagnostic.helps.iter().filter(|help| help.edits.is_empty()) {
            first = first.element(fix().message(self.wrapped(&said(help), 14)));
        }
        let mut groups = vec![first];
        for note in &diagnostic.notes {
            let Some(at) = &note.at else { continue };
            let at = self.shown(at);
            let title = because().secondary_title(self.wrapped(&note.text, 14));
            let mark = AnnotationKind::Context.span(self.within(&at, &at));
            groups.push(title.element(self.excerpt(&at).annotation(mark)));
        }
        for help in diagnostic.helps.iter().filter(|help| !help.edits.is_empty()) {
            let title = fix().secondary_title(self.wrapped(&said(help), 14));
            groups.push(match self.patched(&help.edits) {
                Some(patched) => title.element(patched),
                None => Group::with_title(title),
            });
        }
        groups
    }

    /// The part of a place that is marked: all of it, or its first line where it is long.
    fn shown(&self, place: &Place) -> Place {
        let place = self.lines.clamp(place);
        let first = self.lines.line_of(place.start);
        let last = self.lines.line_of(place.end);
        let line = self.lines.bytes(first, first);
        let end = if last - first >= MOST_LINES { line.end.max(place.start) } else { place.end };
        if end - place.start > LONGEST_LINE {
            let end = self.text.floor_char_boundary(place.start + AROUND);
            return Place { start: place.start, end };
        }
        Place { start: place.start, end }
    }

    /// The bytes that are drawn for a place: its lines, or a part of them where they are long.
    fn drawn(&self, place: &Place) -> Place {
        let (first, last) = (self.lines.line_of(place.start), self.lines.line_of(place.end));
        let Place { mut start, mut end } = self.lines.bytes(first, last);
        // A byte-order mark and a line end are drawn only where they are what is marked.
        start = start.min(place.start);
        end = end.max(place.end);
        if end - start > LONGEST_LINE {
            start = self.text.ceil_char_boundary(start.max(place.start.saturating_sub(AROUND)));
            end = self.text.floor_char_boundary(end.min(place.end + AROUND));
        }
        Place { start, end }
    }

    /// Where it is, and where to read on.
    fn place_and_code(&self, diagnostic: &Diagnostic, file_name: &str) -> String {
        let position = self.lines.position(self.lines.clamp(&diagnostic.at).start);
        let (line, column) = (position.line, position.column);
        let file_name = visible(file_name);
        format!("at {file_name}:{line}:{column} · throwbook explain {}", diagnostic.code)
    }

    fn excerpt<T: Clone>(&self, at: &Place) -> Snippet<'p, T> {
        let drawn = self.drawn(at);
        let source = self.text.get(drawn.start..drawn.end).unwrap_or_default();
        Snippet::source(source).line_start(self.lines.line_of(drawn.start) + 1)
    }

    /// A place counted from the first byte that is drawn for `shown`.
    fn within(&self, place: &Place, shown: &Place) -> std::ops::Range<usize> {
        let drawn = self.drawn(shown);
        let into = |byte: usize| byte.clamp(drawn.start, drawn.end) - drawn.start;
        into(place.start)..into(place.end)
    }

    /// The lines as they are after some edits; `None` where they lie too far apart to be drawn.
    fn patched(&self, edits: &'p [Edit]) -> Option<Snippet<'p, Patch<'p>>> {
        let mut edits: Vec<(Place, &str)> =
            edits.iter().map(|edit| (self.lines.clamp(&edit.at), edit.insert.as_str())).collect();
        edits.sort();
        let whole =
            Place { start: edits.first()?.0.start, end: edits.iter().map(|(at, _)| at.end).max()? };
        if whole.end - whole.start > LONGEST_LINE {
            return None;
        }
        let inserted = edits.iter().map(|(_, insert)| insert.width()).sum();
        let (source, from, before) = self.cut(&whole, inserted);
        let line = self.lines.line_of(whole.start) + 1;
        let mut snippet = Snippet::source(source).line_start(line);
        let within = |at: &Place| at.start - from + before..at.end - from + before;
        let mut done = None;
        for (at, insert) in edits {
            // Edits that overlap are a slip of ours that must not stop the page.
            if done.is_some_and(|done| at.start < done) {
                continue;
            }
            done = Some(at.end);
            snippet = snippet.patch(Patch::new(within(&at), insert));
        }
        Some(snippet)
    }

    /// What is drawn of the line that edits change: all of it, or what has room around them
    /// between ellipses. With the byte of the file at which it begins, and the bytes before that.
    fn cut(&self, whole: &Place, inserted: usize) -> (String, usize, usize) {
        let drawn = self.drawn(whole);
        let source = self.text.get(drawn.start..drawn.end).unwrap_or_default();
        let room = self.width.saturating_sub(8);
        let changed = self.text.get(whole.start..whole.end).unwrap_or_default();
        let needed = source.width().saturating_sub(changed.width()) + changed.width().max(inserted);
        if needed <= room || changed.contains('\n') {
            return (source.to_owned(), drawn.start, 0);
        }
        let around = room.saturating_sub(changed.width().max(inserted)) / 2;
        let around = around.saturating_sub(2 * ELLIPSIS.width()).max(8);
        let left = self.text.get(drawn.start..whole.start).unwrap_or_default();
        let right = self.text.get(whole.end..drawn.end).unwrap_or_default();
        let start = left.char_indices().rev().take(around).last().map_or(left.len(), |(at, _)| at);
        let end = right.char_indices().nth(around).map_or(right.len(), |(at, _)| at);
        let before = if start > 0 { ELLIPSIS } else { "" };
        let after = if end < right.len() { ELLIPSIS } else { "" };
        let (from, to) = (drawn.start + start, whole.end + end);
        let part = self.text.get(from..to).unwrap_or_default();
        (format!("{before}{part}{after}"), from, before.len())
    }

    /// A sentence in lines that end before the right margin.
    fn wrapped(&self, sentence: &str, indent: usize) -> String {
        let room = self.width.saturating_sub(indent).max(24);
        let mut wrapped = String::new();
        let mut used = 0;
        for word in printable(sentence).split(' ') {
            let needed = word.width();
            if used > 0 && used + 1 + needed > room {
                wrapped.push('\n');
                used = 0;
            } else if used > 0 {
                wrapped.push(' ');
                used += 1;
            }
            wrapped.push_str(word);
            used += needed;
        }
        wrapped
    }
}

/// A text without characters that would move the terminal's cursor or turn the text around them.
fn printable(text: &str) -> String {
    let spaced: String = text.chars().map(|one| if one.is_control() { ' ' } else { one }).collect();
    visible(&spaced)
}

/// What was drawn, without the controls above 127 of a file's own lines: the drawing library replaces
/// the others.
fn without_high_controls(drawn: &str) -> String {
    let is_high = |one: char| matches!(one, '\u{80}'..='\u{9f}');
    drawn.chars().map(|one| if is_high(one) { char::REPLACEMENT_CHARACTER } else { one }).collect()
}

/// A way out and its side effects, in words.
pub(super) fn said(help: &Help) -> String {
    match help.effects.as_ref().map(effects).filter(|said| !said.is_empty()) {
        Some(effects) => format!("{} ({effects}).", help.text.trim_end_matches('.')),
        None => help.text.clone(),
    }
}

fn effects(effects: &Effects) -> String {
    let time = |adds_s: f64| {
        let time = Seconds::Near(adds_s.abs());
        if time == Seconds::zero() {
            "adds no time".to_owned()
        } else if adds_s < 0.0 {
            format!("takes {} off", seconds_text(&time))
        } else {
            format!("adds {}", seconds_text(&time))
        }
    };
    let changes = effects.flips_lead == Some(true) || effects.moves_colours == Some(true);
    let adds_s =
        effects.adds_s.filter(|adds_s| changes || Seconds::Near(*adds_s) != Seconds::zero());
    let mut said: Vec<String> = adds_s.map(time).into_iter().collect();
    if effects.flips_lead == Some(true) {
        said.push("flips the lead hand".to_owned());
    }
    if effects.moves_colours == Some(true) {
        said.push("moves the colours".to_owned());
    }
    said.join(", ")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const FILE: &str = "Routine(\r\n    title: \"Lantern\",\r\n\tlead: Rigth, // é\r\n)";

    fn place(sought: &str) -> Place {
        let start = FILE.find(sought).unwrap();
        Place { start, end: start + sought.len() }
    }

    #[test]
    fn a_fault_is_drawn_with_its_excerpt_its_notes_and_its_ways_out() {
        let mut clash = Diagnostic::error(
            "unknown-word",
            place("Rigth"),
            "`Rigth` is no hand, and this sentence is so long that it needs a second line.",
        )
        .label("not known")
        .note("Hands are Left and Right.")
        .note_at(place("title"), "The title stands before it.")
        .help("Ask a juggler.")
        .help_edit("Write `Right`.", place("Rigth"), "Right");
        clash.helps[1].effects = Some(Effects {
            adds_s: Some(0.3),
            flips_lead: Some(true),
            moves_colours: Some(false),
            is_safe: false,
        });
        let warning = Diagnostic::warning("w", place("Routine"), "Only a warning.");
        insta::assert_snapshot!(render(&[clash, warning], "lantern.ron", FILE, 60, false));
    }

    #[test]
    fn counts_are_in_words() {
        let error = Diagnostic::error("e", Place::default(), "E.");
        let warning = Diagnostic::warning("w", Place::default(), "W.");
        for (diagnostics, words) in [
            (vec![], "no errors, no warnings"),
            (vec![error.clone()], "1 error"),
            (vec![error.clone(), error.clone(), warning.clone()], "2 errors, 1 warning"),
            (vec![warning.clone(), warning], "2 warnings"),
        ] {
            assert_eq!(tally(&diagnostics), words);
        }
        assert_eq!(render(&[], "a", "", 80, false), "");
    }

    #[test]
    fn colour_is_an_input() {
        let fault = [Diagnostic::error("e", place("Rigth"), "E.")];
        assert!(!render(&fault, "a", FILE, 80, false).contains('\u{1b}'));
        assert!(render(&fault, "a", FILE, 80, true).contains('\u{1b}'));
    }

    #[test]
    fn a_very_long_line_is_cut_around_its_place() {
        let text = format!("{}☂{}", "é".repeat(50_000), "z".repeat(50_000));
        let start = text.find('☂').unwrap();
        let fault = Diagnostic::error("e", Place { start, end: start + 3 }, "E.").help_edit(
            "Write `x`.",
            Place { start, end: start + 3 },
            "x",
        );
        let drawn = render(&[fault], "a.ron", &text, 80, false);
        assert!(drawn.contains("a.ron:1:50001"), "{drawn}");
        assert!(drawn.len() < 8000, "{} bytes", drawn.len());
    }

    #[test]
    fn a_line_with_an_edit_is_cut_to_the_width() {
        let text = format!("a: {}, wrong: 1, b: {}", "x".repeat(90), "y".repeat(90));
        let start = text.find("wrong").unwrap();
        let at = Place { start, end: start + 5 };
        let fault = Diagnostic::error("e", at.clone(), "E.").help_edit("Write it.", at, "right");
        let drawn = render(&[fault], "a.ron", &text, 60, false);
        assert!(drawn.contains("+ ...xx"), "{drawn}");
        assert!(drawn.contains("x, right: 1, b: yy"), "{drawn}");
        assert!(drawn.lines().all(|line| line.width() <= 60), "{drawn}");
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn no_place_stops_the_page(
            text in "[a\t\r\né☂\u{feff}\u{7}\u{1b}]{0,60}",
            at in (0..80usize, 0..80usize),
            edit in (0..80usize, 0..80usize),
            insert in "[a\r\né\u{1b}]{0,4}",
            width in 0..200usize,
        ) {
            let at = Place { start: at.0, end: at.1 };
            let edit = Place { start: edit.0, end: edit.1 };
            let fault = Diagnostic::error("e", at.clone(), text.clone())
                .label(insert.clone())
                .note_at(edit.clone(), insert.clone())
                .help_edit(text.clone(), edit.clone(), insert.clone());
            let mut fault = fault;
            fault.helps[0].edits.push(Edit { at, insert });
            let drawn = render(&[fault.clone()], "f", &text, width, false);
            prop_assert!(drawn.contains("1 error"));
            prop_assert!(!drawn.contains('\u{1b}'), "{drawn:?}");
            let _ = crate::diagnostic::json(&[fault], "f", &text);
        }
    }
}
