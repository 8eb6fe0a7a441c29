//! What stands on every page of a sheet: at its head the mark of a draft or of changes and what the
//! sheet is, at its foot the issue, the date and the page.

use crate::paper::block::{Block, Role, SMALL, TITLE, bold, plain, stroke};
use crate::paper::lay::pages;
use crate::paper::{Page, Paper, Part};
use crate::sheet::heading::Heading;
use crate::strip::millimetres::Mm;

use super::heading_text::mark_words;

/// White above and below.
const EDGE: Mm = Mm(9.0);
/// White at the left and right.
pub(super) const MARGIN: Mm = Mm(10.0);
/// Height of the foot of a page.
const FOOT: Mm = Mm(6.0);
/// The least that a page leaves to its blocks, however long its head is.
const LEAST_ROOM: Mm = Mm(80.0);

/// A sheet that is laid on pages.
pub(super) struct Paged<'a> {
    pub(super) paper: &'a Paper,
    /// Width and height of its pages.
    pub(super) size: (Mm, Mm),
    pub(super) heading: &'a Heading,
    /// What it is, as in `cue sheet, LX`.
    pub(super) what: &'a str,
    /// What stands under its title on every page; empty for nothing.
    pub(super) beneath: &'a str,
}

impl Paged<'_> {
    /// The pages, with the headings of the columns above the first row on each.
    pub(super) fn part(&self, blocks: Vec<Block>, headings: &Block) -> Part {
        let head = self.head();
        let high = self.size.1;
        let room = (high - EDGE * 2.0 - FOOT - head.height).max(LEAST_ROOM);
        let laid = pages(blocks, headings, room);
        let of = laid.len();
        let line = self.heading.marked_line(self.what);
        let page = |(index, blocks): (usize, Vec<(Mm, Block)>)| {
            let place = format!("page {} of {of}", index + 1);
            let mut all = vec![(EDGE, head.clone())];
            let top = EDGE + head.height;
            all.extend(blocks.into_iter().map(|(y, block)| (top + y, block)));
            all.push((high - EDGE - FOOT, self.foot(&place)));
            Page { size: self.size, name: format!("{line} · {place}"), blocks: all }
        };
        let pages = laid.into_iter().enumerate().map(page).collect();
        Part { name: self.what.to_owned(), pages, two_sided: false }
    }

    /// How wide the words between the margins may run.
    fn room(&self) -> Mm {
        self.size.0 - MARGIN * 2.0
    }

    fn head(&self) -> Block {
        let mut head = Block::of(self.paper, Role::Heading(1));
        let mut y = Mm(0.0);
        if let Some(words) = mark_words(self.heading) {
            let mark = self.heading.mark().unwrap_or_default();
            let rest = words.strip_prefix(&mark).unwrap_or(&words).trim_start_matches(['.', ' ']);
            let right = head.boxed((MARGIN, y + Mm(1.2)), bold(TITLE), &mark) + Mm(3.0);
            let room = MARGIN + self.room() - right;
            let below = head.set((right, y + Mm(1.2)), room, plain(SMALL), rest);
            y = head.height.max(below) + Mm(2.0);
        }
        let line = self.heading.line(self.what);
        y = head.set((MARGIN, y), self.room(), bold(TITLE), &line) + Mm(1.5);
        if !self.beneath.is_empty() {
            head.set((MARGIN, y), self.room(), plain(SMALL), self.beneath);
        }
        head.height += Mm(3.0);
        head
    }

    fn foot(&self, place: &str) -> Block {
        let mut foot = Block::of(self.paper, Role::Hidden);
        let right = self.size.0 - MARGIN;
        foot.stroke((MARGIN, Mm(1.0)), (right, Mm(1.0)), stroke::FINE);
        let date = self.paper.dated.as_ref().map(|date| format!(" · {date}")).unwrap_or_default();
        let line = format!("{}{date} · {place}", self.heading.issue_words());
        foot.words_to((right, Mm(5.5)), bold(SMALL), &line);
        let room = self.room() - self.paper.width(&line, bold(SMALL)) - Mm(5.0);
        let title = self.paper.shortened(&self.heading.title, plain(SMALL), room);
        foot.set((MARGIN, Mm(5.5) - plain(SMALL).capitals()), room, plain(SMALL), &title);
        foot
    }
}
