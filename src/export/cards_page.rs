//! The practice cards to print: four to a sheet, the backs on the sheet behind it, mirrored so that
//! both sides of a card match when the sheet is turned over its long edge.
//!
//! A front lies on the floor, so nothing on it but its foot is smaller than 28 pt. What one card has no
//! room for goes on on the next.

use crate::act::Act;
use crate::hand::Hand;
use crate::paper::block::{Block, FLOOR, Ink, Role, SMALL, WORDS, bold, plain, stroke};
use crate::paper::lay::pages as lay;
use crate::paper::{Page, Paper, Part};
use crate::sheet::cards::{Card, CardSheet, compose};
use crate::sheet::colour_chart::{Made, SectionChart};
use crate::sheet::loading::PropName;
use crate::sheet::words::isolated;
use crate::strip::millimetres::Mm;

/// White between a card's edge and its words: no printer reaches the edge of its paper.
const EDGE: Mm = Mm(8.0);
/// Height of a card's foot.
const FOOT: Mm = Mm(7.0);
/// Cards of a sheet, beside and below each other.
const GRID: (usize, usize) = (2, 2);
/// 44 pt: a pattern that fits on one line so.
const LARGE: Mm = Mm(15.5);
/// The most cycles of a colour chart; the sheet of colours has all of them.
const MOST_CYCLES: usize = 8;
/// A colour beside its name.
const SWATCH: Mm = Mm(4.6);

/// The practice cards of an act, its sections first and then its moves alone.
#[must_use]
pub fn pages(act: &Act, paper: &Paper) -> Part {
    of_sheet(&compose(act), paper)
}

/// Composed practice cards.
#[must_use]
pub fn of_sheet(sheet: &CardSheet, paper: &Paper) -> Part {
    let size = paper.upright();
    let table = Table { sheet, paper, size, card: (size.0 / 2.0, size.1 / 2.0) };
    let mut pages = table.pages(&sheet.sections, "section");
    pages.extend(table.pages(&sheet.alone, "move"));
    if pages.is_empty() {
        pages.push(table.nothing());
    }
    let of = pages.len();
    for (index, page) in pages.iter_mut().enumerate() {
        page.name = format!("{} · page {} of {of}", table.line(), index + 1);
    }
    Part { name: WHAT.to_owned(), pages, two_sided: true }
}

const WHAT: &str = "practice cards";

/// The two sides of a card.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Front,
    Back,
}

/// One side of one card, from its upper edge down.
type Face = Vec<(Mm, Block)>;

/// A card, or what one of its parts holds.
struct Piece {
    /// Which it is, as in `section 3 of 9`.
    place: String,
    /// Its front and its back, as they stand in the left column.
    faces: [Face; 2],
}

/// What all cards share.
struct Table<'a> {
    sheet: &'a CardSheet,
    paper: &'a Paper,
    size: (Mm, Mm),
    /// Width and height of a card.
    card: (Mm, Mm),
}

impl Table<'_> {
    fn line(&self) -> String {
        self.sheet.heading.marked_line(WHAT)
    }

    /// Sheets of cards of one kind: the fronts of four, then their backs.
    fn pages(&self, cards: &[Card], kind: &str) -> Vec<Page> {
        let pieces: Vec<Piece> =
            cards.iter().flat_map(|card| self.pieces(card, kind, cards.len())).collect();
        let both = |four: &[Piece]| [Side::Front, Side::Back].map(|side| self.page(four, side));
        pieces.chunks(GRID.0 * GRID.1).flat_map(both).collect()
    }

    /// A card that has more to say than one side holds is several.
    fn pieces(&self, card: &Card, kind: &str, of: usize) -> Vec<Piece> {
        let mut sides = [Side::Front, Side::Back].map(|side| self.faces(card, side).into_iter());
        let most = sides.iter().map(ExactSizeIterator::len).max().unwrap_or(0);
        let piece = |index: usize| {
            let part =
                if most > 1 { format!(", part {} of {most}", index + 1) } else { String::new() };
            let faces = sides.each_mut().map(|side| side.next().unwrap_or_default());
            Piece { place: format!("{kind} {} of {of}{part}", card.number), faces }
        };
        (0..most).map(piece).collect()
    }

    fn page(&self, four: &[Piece], side: Side) -> Page {
        let mut blocks = vec![(Mm(0.0), self.cuts())];
        for (index, piece) in four.iter().enumerate() {
            let (column, row) = (index % GRID.0, index / GRID.0);
            let column = if side == Side::Front { column } else { GRID.0 - 1 - column };
            let top = self.card.1 * row as f64 + EDGE;
            let right = self.card.0 * column as f64;
            let face = piece.faces[side as usize].iter().cloned();
            blocks.extend(face.map(|(y, block)| (top + y, block.shifted(right))));
            let foot = self.foot(&piece.place).shifted(right);
            blocks.push((top + self.card.1 - EDGE * 2.0 - FOOT, foot));
        }
        Page { size: self.size, name: String::new(), blocks }
    }

    /// A page that says that there are none.
    fn nothing(&self) -> Page {
        let mut block = Block::new(self.paper);
        let room = self.size.0 - EDGE * 2.0;
        block.set((EDGE, EDGE), room, bold(WORDS), &self.line());
        let y = block.height + Mm(4.0);
        block.set((EDGE, y), room, plain(WORDS), "Nothing is juggled, so there are no cards.");
        Page { size: self.size, name: String::new(), blocks: vec![(Mm(0.0), block)] }
    }

    /// Where the cards are cut apart.
    fn cuts(&self) -> Block {
        let mut block = Block::of(self.paper, Role::Hidden);
        let (wide, high) = self.size;
        block.stroke((wide / 2.0, Mm(5.0)), (wide / 2.0, high - Mm(5.0)), stroke::FINE);
        block.stroke((Mm(5.0), high / 2.0), (wide - Mm(5.0), high / 2.0), stroke::FINE);
        block
    }

    /// How wide the words of a card may run.
    fn room(&self) -> Mm {
        self.card.0 - EDGE * 2.0
    }

    /// The number of the card, its act, and the mark where nobody may work from it yet.
    fn foot(&self, place: &str) -> Block {
        let mut block = Block::new(self.paper);
        let (left, right) = (EDGE, EDGE + self.room());
        block.stroke((left, Mm(0.6)), (right, Mm(0.6)), stroke::FINE);
        block.words_to((right, Mm(5.2)), bold(SMALL), place);
        let mut room = self.room() - self.paper.width(place, bold(SMALL)) - Mm(3.0);
        let mut x = left;
        if let Some(mark) = self.sheet.heading.mark() {
            // The mark stands alone in its corner: it is never shortened.
            let mark = if self.sheet.heading.draft().is_some() { "DRAFT".to_owned() } else { mark };
            x = block.boxed((left, Mm(5.2) - bold(SMALL).capitals()), bold(SMALL), &mark) + Mm(2.0);
            room = room - (x - left);
        }
        let heading = &self.sheet.heading;
        let title = format!("{} · {}", heading.title, heading.issue_words());
        let title = self.paper.shortened(&title, plain(SMALL), room);
        if !title.is_empty() {
            block.words((x, Mm(5.2)), plain(SMALL), Ink::Black, &title);
        }
        block
    }

    /// One side of a card, in as many pieces as it needs.
    fn faces(&self, card: &Card, side: Side) -> Vec<Face> {
        let room = self.card.1 - EDGE * 2.0 - FOOT - Mm(1.0);
        let lay = |blocks| lay(blocks, &Block::new(self.paper), room);
        if side == Side::Front {
            return lay(self.front(card));
        }
        let back = lay(self.back(card, WORDS));
        if back.len() < 2 {
            return back;
        }
        // The smaller type only where it saves a piece.
        let smaller = lay(self.back(card, SMALL));
        if smaller.len() < back.len() { smaller } else { back }
    }

    fn front(&self, card: &Card) -> Vec<Block> {
        let set = |role: Role, of, words: &str, above: Mm, spoken: Option<&str>| {
            let mut block = Block::of(self.paper, role);
            block.set_spoken((EDGE, above), self.room(), of, words, spoken);
            block.height += Mm(1.0);
            block
        };
        let encore = if card.in_encore { "encore: " } else { "" };
        let name = format!("{encore}{}", card.name);
        let mut blocks = vec![set(Role::Heading(2), plain(FLOOR), &name, Mm(0.0), None)];
        if !card.pattern.is_empty() {
            let often =
                card.how_often.as_ref().map(|often| format!(" {often}")).unwrap_or_default();
            let words = format!("{}{often}", card.pattern);
            let fits = self.paper.width(&words, bold(LARGE)) <= self.room();
            let of = bold(if fits { LARGE } else { FLOOR });
            blocks.push(set(Role::Words, of, &words, Mm(4.0), Some(&card.spoken)));
        } else {
            blocks.push(set(Role::Words, bold(FLOOR), &card.spoken, Mm(3.0), None));
        }
        for (place, words) in card.way_in.iter().enumerate() {
            let above = if place == 0 { Mm(4.0) } else { Mm(0.6) };
            blocks.push(set(Role::Words, plain(FLOOR), words, above, None));
        }
        blocks
    }

    /// The back, its figures in type of a size.
    fn back(&self, card: &Card, figures_in: Mm) -> Vec<Block> {
        let set = |of, words: &str, above: Mm| {
            Block::text(self.paper, (EDGE, above), self.room(), of, words)
        };
        let often = card.how_often.as_ref().map(|often| format!(" {often}")).unwrap_or_default();
        let title = match card.pattern.is_empty() {
            true => isolated(&card.name),
            false => format!("{} · {}{often}", isolated(&card.name), card.pattern),
        };
        let mut blocks = vec![set(bold(WORDS), &title, Mm(0.0))];
        if card.pattern.is_empty() {
            blocks.push(set(plain(WORDS), &card.spoken, Mm(2.0)));
            return blocks;
        }
        blocks.extend(self.loading(card));
        blocks.extend(card.chart.as_ref().into_iter().flat_map(|chart| self.chart(chart)));
        let unknown = "____";
        let figures = [("tempo", card.tempo.as_deref()), ("highest", card.height.as_deref())];
        for (place, (label, says)) in figures.into_iter().enumerate() {
            let words = format!("{label}: {}", says.unwrap_or(unknown));
            blocks.push(set(plain(figures_in), &words, if place == 0 { Mm(4.0) } else { Mm(1.2) }));
        }
        let counts = match card.counts.is_empty() {
            true => vec![format!("counts: {unknown}")],
            false => card.counts.clone(),
        };
        blocks.extend(counts.iter().map(|words| set(plain(figures_in), words, Mm(1.2))));
        blocks
    }

    /// What each hand holds, left and right as the juggler sees them, first to leave first.
    fn loading(&self, card: &Card) -> Vec<Block> {
        let start =
            if card.starts_cold { "in the hands" } else { "in the hands, to start it alone" };
        let title = format!("{}, {start}, first to leave on top", card.props);
        let at = (EDGE, Mm(3.0));
        let mut head = Block::text(self.paper, at, self.room(), plain(SMALL), &title);
        head.with_next = true;
        let mut picture = Block::new(self.paper);
        let half = self.room() / 2.0;
        for (place, hand) in [Hand::Left, Hand::Right].into_iter().enumerate() {
            let x = EDGE + half * place as f64;
            let name = format!("{hand} hand");
            picture.cell(place);
            let mut y = picture.set((x, Mm(1.5)), half - Mm(2.0), bold(SMALL), &name) + Mm(1.0);
            let held = card.loading.as_ref().map(|rest| rest.in_hand(hand));
            match held {
                None => {
                    y = picture.set((x, y), half - Mm(2.0), plain(WORDS), "____");
                }
                Some([]) => {
                    y = picture.set((x, y), half - Mm(2.0), plain(WORDS), "empty");
                }
                Some(held) => {
                    for prop in held {
                        y = self.prop(&mut picture, (x, y), half - Mm(2.0), prop) + Mm(1.0);
                    }
                }
            }
            picture.height = picture.height.max(y);
        }
        vec![head, picture]
    }

    /// A prop: its colour in an outline, its letter and its name.
    fn prop(&self, block: &mut Block, (x, y): (Mm, Mm), room: Mm, prop: &PropName) -> Mm {
        let letter = self.sheet.letters.get(prop.colour).map_or("", String::as_str);
        let words = format!("{letter} {}", prop.in_full());
        let right = x + SWATCH + Mm(2.0);
        let below = block.set((right, y + Mm(0.4)), room - SWATCH - Mm(2.0), plain(WORDS), &words);
        if let Some(rgb) = self.sheet.shades.get(prop.colour) {
            block.fill((x, y), (x + SWATCH, y + SWATCH), Ink::Colour(*rgb));
            block.outline((x, y), (x + SWATCH, y + SWATCH), stroke::FINE);
        }
        below.max(y + SWATCH)
    }

    /// The colours throw by throw: a row for each throw, a column for each cycle until they repeat.
    fn chart(&self, chart: &SectionChart) -> Vec<Block> {
        let cycles = chart.repeats.min(chart.cycles.len()).min(MOST_CYCLES);
        let all = chart.cycles.len();
        let title = match (chart.is_known, cycles) {
            (false, _) | (_, 0) => "colours: ____".to_owned(),
            (true, 1) if chart.repeats < all => "colours, the same in every cycle".to_owned(),
            (true, _) if chart.repeats < all && cycles == chart.repeats => {
                let hands = if chart.changes_hands { ", the hands exchanged" } else { "" };
                format!("colours by cycle, again after {cycles}{hands}")
            }
            (true, _) if cycles < all => {
                format!(
                    "colours of the first {cycles} of {all} cycles; the rest is on the sheet of colours"
                )
            }
            (true, _) => "colours by cycle".to_owned(),
        };
        let at = (EDGE, Mm(3.5));
        let mut head = Block::text(self.paper, at, self.room(), plain(SMALL), &title);
        if !chart.is_known || cycles == 0 {
            return vec![head];
        }
        head.with_next = true;
        let mut blocks = vec![head];
        let first = Mm(14.0);
        let wide = ((self.room() - first) / MOST_CYCLES as f64).max(Mm(8.0));
        for (number, value) in &chart.throws {
            let mut row = Block::text(self.paper, (EDGE, Mm(0.9)), first, bold(WORDS), value);
            for (column, cycle) in chart.cycles.iter().take(cycles).enumerate() {
                let x = EDGE + first + wide * column as f64;
                let place = usize::try_from(*number).unwrap_or(0).saturating_sub(1);
                let made = cycle.made.get(place).copied().unwrap_or(Made::Not);
                row.cell(column + 1);
                match made {
                    Made::Not => {}
                    Made::Empty => row.words(
                        (x, Mm(0.9) + plain(WORDS).capitals()),
                        plain(WORDS),
                        Ink::Black,
                        "–",
                    ),
                    Made::Colour(colour) => {
                        let letter = self.sheet.letters.get(colour).map_or("", String::as_str);
                        let name = self.sheet.colours.get(colour).map(String::as_str);
                        row.set_spoken((x, Mm(0.9)), wide, plain(WORDS), letter, name);
                    }
                }
            }
            row.height = row.height.max(bold(WORDS).pitch());
            blocks.push(row);
        }
        blocks
    }
}
