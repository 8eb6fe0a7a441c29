//! Pieces of a page that are not parted, and how they are laid on pages.

use svg::node::element::{Group, Path, Text};

use crate::strip::millimetres::{Mm, PathData};
use crate::strip::text;

/// 24 pt: the number of a cue.
pub(super) const NUMBER: Mm = Mm(8.47);
/// 17 pt: what the page is.
pub(super) const TITLE: Mm = Mm(6.0);
/// 14 pt: the words of a cue.
pub(super) const WORDS: Mm = Mm(4.94);
/// 12 pt: sections, stand-bys and notes.
pub(super) const BESIDE: Mm = Mm(4.23);
/// 11 pt: what stands above and under the cues.
pub(super) const SMALL: Mm = Mm(3.88);

/// How text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Type {
    pub(super) size: Mm,
    pub(super) bold: bool,
}

/// Plain type of a size.
pub(super) fn plain(size: Mm) -> Type {
    Type { size, bold: false }
}

/// Bold type of a size.
pub(super) fn bold(size: Mm) -> Type {
    Type { size, bold: true }
}

impl Type {
    /// From one line to the next.
    fn pitch(self) -> Mm {
        self.size * 1.22
    }

    /// The height of its capitals.
    pub(super) fn capitals(self) -> Mm {
        self.size * 0.73
    }

    /// How wide a text runs.
    pub(super) fn width(self, words: &str) -> Mm {
        text::width(words, self.size, self.bold)
    }
}

/// A mark of a block, its places counted from the block's upper edge.
#[derive(Clone, Debug, PartialEq)]
enum Mark {
    /// A line of text on its base line.
    Words { x: Mm, y: Mm, of: Type, class: &'static str, words: String },
    /// A stroke.
    Stroke { from: (Mm, Mm), to: (Mm, Mm), class: &'static str },
    /// A filled box, behind the text.
    Filled { from: (Mm, Mm), to: (Mm, Mm), class: &'static str },
}

/// What stands together on a page.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Block {
    /// How high it is.
    pub(super) height: Mm,
    /// Whether the next one stands on the same page.
    pub(super) with_next: bool,
    /// Whether the columns' headings stand above it on its page.
    pub(super) is_row: bool,
    marks: Vec<Mark>,
}

impl Block {
    /// An empty block.
    pub(super) fn new() -> Block {
        Block { height: Mm(0.0), with_next: false, is_row: false, marks: Vec::new() }
    }

    /// Sets a text in lines from `y` down, line ends of its own kept; where it ends.
    pub(super) fn set(&mut self, (x, y): (Mm, Mm), room: Mm, of: Type, words: &str) -> Mm {
        let lines = words.lines().flat_map(|line| text::wrap(line, of.size, of.bold, room));
        let mut bottom = y;
        for (index, line) in lines.enumerate() {
            let base = y + of.capitals() + of.pitch() * index as f64;
            self.words((x, base), of, "", line);
            bottom = base + of.size * 0.25;
        }
        self.height = self.height.max(bottom);
        bottom
    }

    /// Sets one line on its base line, as wide as it runs.
    pub(super) fn words(&mut self, (x, y): (Mm, Mm), of: Type, class: &'static str, words: String) {
        self.marks.push(Mark::Words { x, y, of, class, words });
    }

    /// A word in white on black, its capitals at `y`; where it ends at the right.
    pub(super) fn boxed(&mut self, (x, y): (Mm, Mm), of: Type, words: &str) -> Mm {
        let right = x + of.width(words) + Mm(3.0);
        let bottom = y + of.capitals() + Mm(1.2);
        self.fill((x, y - Mm(1.2)), (right, bottom), "i");
        self.words((x + Mm(1.5), y + of.capitals()), of, "w", words.to_owned());
        self.height = self.height.max(bottom);
        right
    }

    /// Draws a stroke.
    pub(super) fn stroke(&mut self, from: (Mm, Mm), to: (Mm, Mm), class: &'static str) {
        self.marks.push(Mark::Stroke { from, to, class });
    }

    /// Fills a box.
    pub(super) fn fill(&mut self, from: (Mm, Mm), to: (Mm, Mm), class: &'static str) {
        self.marks.push(Mark::Filled { from, to, class });
    }

    /// Strikes out every line of text that stands on it.
    pub(super) fn strike(&mut self) {
        let struck = self.marks.iter().filter_map(|mark| {
            let Mark::Words { x, y, of, words, .. } = mark else { return None };
            let middle = *y - of.size * 0.27;
            let to = (*x + of.width(words) * 0.94, middle);
            Some(Mark::Stroke { from: (*x - Mm(0.6), middle), to, class: "s" })
        });
        let struck: Vec<Mark> = struck.collect();
        self.marks.extend(struck);
    }

    /// Puts another block under it.
    pub(super) fn under(&mut self, other: Block) {
        let down = self.height;
        self.height = down + other.height;
        self.marks.extend(other.marks.into_iter().map(|mark| mark.moved(down)));
    }

    /// The part that fits into `room`, and the rest; no line of text is cut.
    fn cut(self, room: Mm) -> (Block, Block) {
        let mut parts = [Block { marks: Vec::new(), ..self.clone() }, Block::new()];
        let (above, below): (Vec<Mark>, Vec<Mark>) =
            self.marks.into_iter().partition(|mark| mark.bottom() <= room);
        let top = below.iter().map(Mark::top).fold(self.height, Mm::min);
        let [first, rest] = &mut parts;
        (first.marks, first.height) = (above, room.min(self.height));
        rest.is_row = first.is_row;
        rest.height = self.height - top;
        rest.marks = below.into_iter().map(|mark| mark.moved(-top)).collect();
        let [first, rest] = parts;
        (first, rest)
    }

    /// Draws it from `y` on down.
    pub(super) fn draw(&self, y: Mm) -> Group {
        let filled = self.marks.iter().filter(|mark| matches!(mark, Mark::Filled { .. }));
        let others = self.marks.iter().filter(|mark| !matches!(mark, Mark::Filled { .. }));
        let group = Group::new().set("transform", format!("translate(0 {y})"));
        filled.chain(others).fold(group, |group, mark| match mark {
            Mark::Words { x, y, of, class, words } => {
                let weight = if of.bold { " b" } else { "" };
                let size = format!("font-size:{}px", of.size);
                let class = format!("{class}{weight}");
                let text = Text::new(text::clean(words)).set("x", *x).set("y", *y);
                group.add(text.set("style", size).set("class", class.trim()))
            }
            Mark::Stroke { from, to, class } => {
                let mut data = PathData::default();
                data.go(from.0, from.1).line(to.0, to.1);
                group.add(Path::new().set("d", data).set("class", *class))
            }
            Mark::Filled { from, to, class } => {
                let mut data = PathData::default();
                data.rectangle(from.0, from.1, to.0, to.1);
                group.add(Path::new().set("d", data).set("class", *class))
            }
        })
    }
}

impl Mark {
    fn moved(mut self, down: Mm) -> Mark {
        match &mut self {
            Mark::Words { y, .. } => *y += down,
            Mark::Stroke { from, to, .. } | Mark::Filled { from, to, .. } => {
                from.1 += down;
                to.1 += down;
            }
        }
        self
    }

    fn top(&self) -> Mm {
        match self {
            Mark::Words { y, of, .. } => *y - of.size,
            Mark::Stroke { from, .. } | Mark::Filled { from, .. } => from.1,
        }
    }

    fn bottom(&self) -> Mm {
        match self {
            Mark::Words { y, of, .. } => *y + of.size * 0.25,
            Mark::Stroke { to, .. } | Mark::Filled { to, .. } => to.1,
        }
    }
}

/// Lays blocks on pages with so much room: each block with where it begins. What belongs together
/// stands on one page; only what is higher than a page is cut. The headings stand above the first
/// row of every page.
pub(super) fn pages(blocks: Vec<Block>, headings: &Block, room: Mm) -> Vec<Vec<(Mm, Block)>> {
    let mut pages: Vec<Vec<(Mm, Block)>> = vec![Vec::new()];
    let (mut y, mut headed) = (Mm(0.0), false);
    // How many of those that come next were found to fit on this page together.
    let mut fit = 0;
    for index in 0..blocks.len() {
        let block = &blocks[index];
        let over = |headed: bool| if block.is_row && !headed { headings.height } else { Mm(0.0) };
        if fit == 0 {
            let more = blocks[index..].iter().take_while(|block| block.with_next).count();
            let together = &blocks[index..blocks.len().min(index + more + 1)];
            let high = |of: &[Block]| of.iter().fold(Mm(0.0), |sum, one| sum + one.height);
            let chain =
                if high(together) + over(false) <= room { together } else { &together[..1] };
            fit = chain.len();
            if y + over(headed) + high(chain) > room && y > Mm(0.0) {
                pages.push(Vec::new());
                (y, headed) = (Mm(0.0), false);
            }
        }
        fit -= 1;
        let mut left = Some(block.clone());
        while let Some(mut block) = left.take() {
            if let Some(page) = pages.last_mut() {
                if block.is_row && !headed {
                    page.push((y, headings.clone()));
                    y += headings.height;
                    headed = true;
                }
                // No page has room for less than a line; a cut leaves at least as much on it.
                if y + block.height > room && block.height > room - headings.height {
                    let (first, rest) = block.cut(room - y);
                    block = first;
                    left = Some(rest).filter(|rest| !rest.marks.is_empty());
                }
                let high = block.height;
                page.push((y, block));
                y += high;
            }
            if left.is_some() {
                pages.push(Vec::new());
                (y, headed) = (Mm(0.0), false);
            }
        }
    }
    pages
}
