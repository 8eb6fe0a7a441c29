//! Pieces of a page that are not parted.

use svg::node::element::{Group, Path, Text};

use crate::appearance::Rgb;
use crate::strip::millimetres::{Mm, PathData};
use crate::strip::text::{clean, wrap_by};

use super::font::Fonts;
use super::sheet::Paper;

/// 28 pt: what is read from above while it lies on the floor.
pub(crate) const FLOOR: Mm = Mm(9.88);
/// 24 pt: the number of a cue.
pub(crate) const NUMBER: Mm = Mm(8.47);
/// 17 pt: what the page is.
pub(crate) const TITLE: Mm = Mm(6.0);
/// 14 pt: the words of a row.
pub(crate) const WORDS: Mm = Mm(4.94);
/// 11 pt: what stands above and under the rows. Nothing on a page is smaller.
pub(crate) const SMALL: Mm = Mm(3.88);

/// How text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Type {
    pub(crate) size: Mm,
    pub(crate) bold: bool,
}

/// Plain type of a size.
pub(crate) fn plain(size: Mm) -> Type {
    Type { size, bold: false }
}

/// Bold type of a size.
pub(crate) fn bold(size: Mm) -> Type {
    Type { size, bold: true }
}

impl Type {
    /// From one line to the next.
    pub(crate) fn pitch(self) -> Mm {
        self.size * 1.22
    }

    /// The height of its capitals.
    pub(crate) fn capitals(self) -> Mm {
        self.size * 0.73
    }

    /// How wide a line runs in it.
    pub(super) fn width(self, fonts: &Fonts, words: &str) -> Mm {
        self.size * fonts.ems(words, self.bold)
    }

    /// What hangs below its base line.
    pub(crate) fn below(self) -> Mm {
        self.size * 0.25
    }
}

/// What a mark is printed in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Ink {
    Black,
    White,
    /// A light ground behind black words.
    Ground,
    /// The colour of a prop.
    Colour(Rgb),
}

impl Ink {
    /// As it is written in a style.
    pub(crate) fn rgb(self) -> Rgb {
        let grey = |one: u8| Rgb { red: one, green: one, blue: one };
        match self {
            Ink::Black => grey(0),
            Ink::White => grey(255),
            Ink::Ground => grey(0xe9),
            Ink::Colour(rgb) => rgb,
        }
    }
}

/// How thick a stroke is, in millimetres.
pub(crate) mod stroke {
    use crate::strip::millimetres::Mm;

    /// A rule between rows.
    pub(crate) const FINE: Mm = Mm(0.25);
    /// The line through what was cut.
    pub(crate) const STRUCK: Mm = Mm(0.6);
    /// The rule under headings.
    pub(crate) const HEAVY: Mm = Mm(0.8);
    /// The bracket of what goes together.
    pub(crate) const BRACKET: Mm = Mm(1.4);
}

/// What a block is to somebody who does not see the page.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) enum Role {
    /// Words.
    #[default]
    Words,
    /// A heading of a level, 1 or more.
    Heading(u16),
    /// The headings of a table's columns.
    Headings,
    /// A row of a table; the columns' headings stand above it on its page.
    Row,
    /// Nothing: it stands somewhere else already.
    Hidden,
    /// A picture, with what it shows in words.
    Picture(String),
}

/// A mark of a block, its places counted from the block's upper edge.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Mark {
    /// A line of text on its base line.
    Words(Words),
    /// A stroke.
    Stroke { from: (Mm, Mm), to: (Mm, Mm), wide: Mm },
    /// A filled box, behind the text.
    Filled { from: (Mm, Mm), to: (Mm, Mm), ink: Ink },
    /// A drawing of its own, as SVG, that fills a box.
    Drawing { from: (Mm, Mm), to: (Mm, Mm), svg: String },
}

/// A line of text on its base line.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Words {
    pub(crate) x: Mm,
    pub(crate) y: Mm,
    pub(crate) of: Type,
    pub(crate) ink: Ink,
    pub(crate) text: String,
    /// How wide it runs.
    pub(crate) wide: Mm,
    /// The column of the table that it stands in, from 0.
    pub(crate) cell: usize,
    /// How it is spoken, where that is not how it is written; empty for nothing.
    pub(crate) spoken: Option<String>,
    /// Whether the next line goes on with its sentence.
    pub(crate) goes_on: bool,
}

/// What stands together on a page.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Block {
    /// How high it is.
    pub(crate) height: Mm,
    /// Whether the next one stands on the same page.
    pub(crate) with_next: bool,
    /// What it is to somebody who does not see the page.
    pub(crate) role: Role,
    /// The column that the next words stand in.
    cell: usize,
    fonts: Fonts,
    marks: Vec<Mark>,
}

impl Block {
    /// An empty block.
    pub(crate) fn new(paper: &Paper) -> Block {
        Block {
            height: Mm(0.0),
            with_next: false,
            role: Role::default(),
            cell: 0,
            fonts: paper.fonts.clone(),
            marks: Vec::new(),
        }
    }

    /// An empty block that is something.
    pub(crate) fn of(paper: &Paper, role: Role) -> Block {
        Block { role, ..Block::new(paper) }
    }

    /// A block of one text, in lines from `y` down.
    pub(crate) fn text(paper: &Paper, at: (Mm, Mm), room: Mm, of: Type, words: &str) -> Block {
        let mut block = Block::new(paper);
        block.set(at, room, of, words);
        block
    }

    /// The words that come next stand in this column of the table, from 0.
    pub(crate) fn cell(&mut self, column: usize) -> &mut Block {
        self.cell = column;
        self
    }

    /// Whether the columns' headings stand above it on its page.
    pub(crate) fn is_row(&self) -> bool {
        self.role == Role::Row
    }

    /// Sets a text in lines from `y` down, line ends of its own kept; where it ends.
    pub(crate) fn set(&mut self, at: (Mm, Mm), room: Mm, of: Type, words: &str) -> Mm {
        self.set_spoken(at, room, of, words, None)
    }

    /// As [`Block::set`], with how it is spoken.
    pub(crate) fn set_spoken(
        &mut self,
        (x, y): (Mm, Mm),
        room: Mm,
        of: Type,
        words: &str,
        spoken: Option<&str>,
    ) -> Mm {
        let fonts = self.fonts.clone();
        let fits = |line: &str| of.width(&fonts, &clean(line)) <= room;
        let mut bottom = y;
        let mut index = 0.0;
        for paragraph in words.lines() {
            let lines = wrap_by(paragraph, fits);
            let count = lines.len();
            for (place, line) in lines.into_iter().enumerate() {
                let base = y + of.capitals() + of.pitch() * index;
                // Its first line says all of it aloud, and the others nothing.
                let spoken = spoken.map(|spoken| if index == 0.0 { spoken } else { "" });
                self.words((x, base), of, Ink::Black, &line);
                if let Some(Mark::Words(words)) = self.marks.last_mut() {
                    words.goes_on = place + 1 < count;
                    words.spoken = spoken.map(str::to_owned);
                }
                bottom = base + of.below();
                index += 1.0;
            }
        }
        self.height = self.height.max(bottom);
        bottom
    }

    /// Sets one line on its base line, as wide as it runs.
    pub(crate) fn words(&mut self, (x, y): (Mm, Mm), of: Type, ink: Ink, text: &str) {
        let text = clean(text);
        let wide = of.width(&self.fonts, &text);
        let (spoken, cell) = (None, self.cell);
        let words = Words { x, y, of, ink, text, wide, cell, spoken, goes_on: false };
        self.marks.push(Mark::Words(words));
    }

    /// The same, ending at `right`.
    pub(crate) fn words_to(&mut self, (right, y): (Mm, Mm), of: Type, text: &str) {
        let x = right - of.width(&self.fonts, &clean(text));
        self.words((x, y), of, Ink::Black, text);
    }

    /// A word in white on black, its capitals at `y`; where it ends at the right.
    pub(crate) fn boxed(&mut self, (x, y): (Mm, Mm), of: Type, words: &str) -> Mm {
        let right = x + of.width(&self.fonts, &clean(words)) + Mm(3.0);
        let bottom = y + of.capitals() + Mm(1.2);
        self.fill((x, y - Mm(1.2)), (right, bottom), Ink::Black);
        self.words((x + Mm(1.5), y + of.capitals()), of, Ink::White, words);
        self.height = self.height.max(bottom);
        right
    }

    /// Draws a stroke.
    pub(crate) fn stroke(&mut self, from: (Mm, Mm), to: (Mm, Mm), wide: Mm) {
        self.marks.push(Mark::Stroke { from, to, wide });
    }

    /// Draws the outline of a box.
    pub(crate) fn outline(&mut self, (left, top): (Mm, Mm), (right, bottom): (Mm, Mm), wide: Mm) {
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        for pair in corners.windows(2) {
            self.stroke(pair[0], pair[1], wide);
        }
        self.height = self.height.max(bottom);
    }

    /// Fills a box.
    pub(crate) fn fill(&mut self, from: (Mm, Mm), to: (Mm, Mm), ink: Ink) {
        self.marks.push(Mark::Filled { from, to, ink });
    }

    /// Puts a drawing of its own, as SVG, into a box.
    pub(crate) fn drawing(&mut self, from: (Mm, Mm), to: (Mm, Mm), svg: String) {
        self.height = self.height.max(to.1);
        self.marks.push(Mark::Drawing { from, to, svg });
    }

    /// Strikes out every line of text that stands on it.
    pub(crate) fn strike(&mut self) {
        let struck = self.marks.iter().filter_map(|mark| {
            let Mark::Words(words) = mark else { return None };
            let middle = words.y - words.of.size * 0.27;
            let (from, to) = (words.x - Mm(0.6), words.x + words.wide + Mm(0.6));
            Some(Mark::Stroke { from: (from, middle), to: (to, middle), wide: stroke::STRUCK })
        });
        let struck: Vec<Mark> = struck.collect();
        self.marks.extend(struck);
    }

    /// Puts another block under it.
    pub(crate) fn under(&mut self, other: Block) {
        let down = self.height;
        self.height = down + other.height;
        self.marks.extend(other.marks.into_iter().map(|mark| mark.moved((Mm(0.0), down))));
    }

    /// The same further to the right.
    pub(crate) fn shifted(mut self, right: Mm) -> Block {
        self.marks = self.marks.into_iter().map(|mark| mark.moved((right, Mm(0.0)))).collect();
        self
    }

    /// Its marks in the order in which they are printed: what lies behind comes first.
    pub(crate) fn marks(&self) -> impl Iterator<Item = &Mark> {
        let is_behind = |mark: &&Mark| matches!(mark, Mark::Filled { .. });
        let behind = self.marks.iter().filter(is_behind);
        behind.chain(self.marks.iter().filter(move |mark| !is_behind(mark)))
    }

    /// Its lines of text.
    #[cfg(feature = "paper")]
    pub(crate) fn texts(&self) -> impl Iterator<Item = &str> {
        self.marks.iter().filter_map(|mark| match mark {
            Mark::Words(words) => Some(words.text.as_str()),
            _ => None,
        })
    }

    /// Whether nothing stands on it.
    pub(crate) fn is_empty(&self) -> bool {
        self.marks.is_empty()
    }

    /// The part that fits into `room`, and the rest; no line of text is cut.
    pub(super) fn cut(self, room: Mm) -> (Block, Block) {
        let rest = Block { with_next: false, marks: Vec::new(), ..self.clone() };
        let (mut above, mut below) = (Vec::new(), Vec::new());
        for mark in self.marks {
            match mark.cut(room) {
                (Some(first), rest) => {
                    above.push(first);
                    below.extend(rest);
                }
                (None, rest) => below.extend(rest),
            }
        }
        let top = below.iter().map(Mark::top).fold(self.height, Mm::min);
        let rest = Block {
            height: self.height - top,
            marks: below.into_iter().map(|mark| mark.moved((Mm(0.0), -top))).collect(),
            ..rest
        };
        let first = Block { height: room.min(self.height), marks: above, ..rest.clone() };
        (Block { with_next: self.with_next, ..first }, rest)
    }

    /// Draws it as SVG from `y` on down.
    pub(super) fn draw(&self, y: Mm) -> Group {
        let group = Group::new().set("transform", format!("translate(0 {y})"));
        self.marks().fold(group, |group, mark| match mark {
            Mark::Words(words) if words.text.is_empty() => group,
            Mark::Words(words) => group.add(words.draw()),
            Mark::Stroke { from, to, wide } => {
                let mut data = PathData::default();
                data.go(from.0, from.1).line(to.0, to.1);
                let style = format!("stroke:#000;stroke-width:{wide}");
                group.add(Path::new().set("d", data).set("style", style))
            }
            Mark::Filled { from, to, ink } => {
                let mut data = PathData::default();
                data.rectangle(from.0, from.1, to.0, to.1);
                group.add(Path::new().set("d", data).set("style", format!("fill:{}", ink.rgb())))
            }
            Mark::Drawing { from, to, svg } => {
                group.add(svg::node::Blob::new(placed(svg, *from, *to)))
            }
        })
    }
}

/// A drawing as it stands in a box of another: its own width and height give way to the box's.
fn placed(svg: &str, from: (Mm, Mm), to: (Mm, Mm)) -> String {
    let (head, rest) = svg.split_once('>').unwrap_or((svg, ""));
    let is_size = |one: &&str| one.starts_with("width=") || one.starts_with("height=");
    let attributes = head.trim_start_matches("<svg ").split_inclusive("\" ");
    let kept: String = attributes.filter(|one| !is_size(one)).collect();
    let (wide, high) = (to.0 - from.0, to.1 - from.1);
    let (x, y) = from;
    let box_of = format!("x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\"");
    format!("<svg {box_of} {kept}>{}", without_paper(rest))
}

/// A drawing that says nothing of the paper it stands on. Its classes stay as they are: the marks of a
/// page have none.
fn without_paper(svg: &str) -> String {
    let Some((before, after)) = svg.split_once("<style>") else { return svg.to_owned() };
    let Some((style, after)) = after.split_once("</style>") else { return svg.to_owned() };
    let rules = style.split_inclusive('}').filter(|rule| !rule.trim_start().starts_with("@page"));
    format!("{before}<style>{}</style>{after}", rules.collect::<String>())
}

impl Words {
    /// As SVG, as wide in every typeface as it was measured.
    fn draw(&self) -> Text {
        let weight = if self.of.bold { ";font-weight:700" } else { "" };
        let style = format!("font-size:{}px;fill:{}{weight}", self.of.size, self.ink.rgb());
        Text::new(self.text.as_str())
            .set("x", self.x)
            .set("y", self.y)
            .set("textLength", self.wide)
            .set("lengthAdjust", "spacingAndGlyphs")
            .set("style", style)
    }
}

impl Mark {
    fn moved(mut self, (right, down): (Mm, Mm)) -> Mark {
        let shift = |x: &mut Mm, y: &mut Mm| {
            *x += right;
            *y += down;
        };
        match &mut self {
            Mark::Words(words) => shift(&mut words.x, &mut words.y),
            Mark::Stroke { from, to, .. }
            | Mark::Filled { from, to, .. }
            | Mark::Drawing { from, to, .. } => {
                shift(&mut from.0, &mut from.1);
                shift(&mut to.0, &mut to.1);
            }
        }
        self
    }

    /// What stands above `room`, and the rest; a line of text or a drawing is not cut.
    fn cut(self, room: Mm) -> (Option<Mark>, Option<Mark>) {
        if self.bottom() <= room {
            return (Some(self), None);
        }
        let is_whole = matches!(self, Mark::Words(_) | Mark::Drawing { .. });
        if is_whole || self.top() >= room {
            return (None, Some(self));
        }
        let (mut above, mut below) = (self.clone(), self);
        if let Mark::Stroke { to, .. } | Mark::Filled { to, .. } = &mut above {
            to.1 = room;
        }
        if let Mark::Stroke { from, .. } | Mark::Filled { from, .. } = &mut below {
            from.1 = room;
        }
        (Some(above), Some(below))
    }

    fn top(&self) -> Mm {
        match self {
            Mark::Words(words) => words.y - words.of.size,
            Mark::Stroke { from, to, .. } => from.1.min(to.1),
            Mark::Filled { from, .. } | Mark::Drawing { from, .. } => from.1,
        }
    }

    fn bottom(&self) -> Mm {
        match self {
            Mark::Words(words) => words.y + words.of.below(),
            Mark::Stroke { from, to, .. } => from.1.max(to.1),
            Mark::Filled { to, .. } | Mark::Drawing { to, .. } => to.1,
        }
    }
}
