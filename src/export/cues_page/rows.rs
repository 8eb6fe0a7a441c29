//! The rows of the cue page, and what stands above and under them.

use crate::sheet::cue_line::CueLine;
use crate::sheet::cue_rows::{Row, RowOf, labels, rows as rows_of, standbys_of};
use crate::sheet::cues::{CuePart, CueSheet};
use crate::sheet::stamp::{BAR_AND_BEAT, Stamp};
use crate::strip::millimetres::Mm;
use crate::strip::paper::{MARGIN, PAGE};

use super::super::cue_words::{
    self, CueWords, Said, closing, cut, cut_label, flames, may_come_before, no_cues, opening,
    standby,
};
use super::super::table::{NONE, stacked};
use super::block::{BESIDE, Block, NUMBER, SMALL, Type, WORDS, bold, plain};

/// The rows of a sheet and the headings that stand above them.
pub(super) struct Rows {
    pub(super) headings: Block,
    pub(super) blocks: Vec<Block>,
}

/// Everything that stands on the pages below their heads, in order.
pub(super) fn rows(sheet: &CueSheet) -> Rows {
    let columns = Columns::of(sheet);
    let mut blocks = said(&opening(sheet));
    blocks.extend(columns.part(sheet, &sheet.act, false));
    blocks.extend(no_cues(sheet).map(|words| columns.spanning(&words)));
    if let Some(encore) = &sheet.encore {
        let mut heading = columns.spanning(&cue_words::encore(encore));
        heading.with_next = true;
        blocks.push(heading);
        blocks.extend(columns.part(sheet, encore, true));
    }
    blocks.extend(said(&closing(sheet)));
    Rows { headings: columns.headings(), blocks }
}

/// White above the words of a row.
const PAD: Mm = Mm(2.0);
/// White below them; what hangs below a line adds to it.
const PAD_BELOW: Mm = Mm(0.9);
/// White between columns.
const GAP: Mm = Mm(3.0);

/// A column: where it begins, and how wide its words may be.
type Column = (Mm, Mm);

/// The columns of the page.
struct Columns {
    number: Column,
    time: Column,
    bar: Option<Column>,
    does: Column,
    count: Column,
    when: Column,
    standby: Column,
    timecodes: bool,
}

impl Columns {
    /// The words share what the figures leave.
    fn of(sheet: &CueSheet) -> Columns {
        let timecodes = sheet.act.timecode.is_some();
        let mut left = MARGIN;
        let mut column = |wide: Mm| {
            let column = (left, wide - GAP);
            left += wide;
            column
        };
        let number = column(Mm(38.0));
        let time = column(if timecodes { Mm(34.0) } else { Mm(28.0) });
        let bar = sheet.any_bars().then(|| column(Mm(27.0)));
        let (count_wide, standby_wide) = (Mm(18.5), Mm(27.0));
        let words = PAGE.0
            - MARGIN
            - number.1
            - GAP
            - time.1
            - GAP
            - count_wide
            - standby_wide
            - MARGIN
            - bar.map_or(Mm(0.0), |bar| bar.1 + GAP);
        let does = column(words / 2.0);
        let count = column(count_wide);
        let when = column(words / 2.0);
        let standby = (column(standby_wide).0, standby_wide);
        Columns { number, time, bar, does, count, when, standby, timecodes }
    }

    /// The columns from the words on as one.
    fn words(&self) -> Column {
        (self.does.0, PAGE.0 - MARGIN - self.does.0)
    }

    fn headings(&self) -> Block {
        let mut block = Block::new();
        let time = if self.timecodes { "TIME, CODE" } else { "TIME" };
        let bar = BAR_AND_BEAT.to_uppercase();
        let named = [
            (Some(self.number), "CUE"),
            (Some(self.time), time),
            (self.bar, bar.as_str()),
            (Some(self.does), "DOES"),
            (Some(self.count), "COUNT"),
            (Some(self.when), "WHEN"),
            (Some(self.standby), "STAND BY"),
        ];
        for (column, name) in named {
            if let Some((x, room)) = column {
                block.set((x, Mm(0.5)), room, bold(SMALL), name);
            }
        }
        block.height += Mm(1.4);
        let y = block.height;
        block.stroke((MARGIN, y), (PAGE.0 - MARGIN, y), "K");
        block.height = y + Mm(0.6);
        block
    }

    /// A row that is finished: a rule under it.
    fn ruled(mut block: Block) -> Block {
        block.is_row = true;
        block.height += PAD_BELOW;
        let y = block.height;
        block.stroke((MARGIN, y), (PAGE.0 - MARGIN, y), "k");
        block
    }

    /// Words over the whole width.
    fn spanning(&self, words: &str) -> Block {
        let mut block = Block::new();
        block.set((MARGIN, PAD), PAGE.0 - MARGIN * 2.0, bold(WORDS), words);
        Columns::ruled(block)
    }

    /// A time, its time code under it, and its bar.
    fn at(&self, block: &mut Block, y: Mm, of: Type, at: &Stamp) {
        let time = stacked(&at.range().clock());
        let below = block.set((self.time.0, y), self.time.1, of, &time);
        let code = match at.timecode_words() {
            Some(code) => stacked(&code),
            // Empty where it is not known, not where there is none.
            None if self.timecodes && at.range().is_known() => NONE.to_owned(),
            None => String::new(),
        };
        block.set((self.time.0, below + Mm(1.0)), self.time.1, plain(BESIDE), &code);
        if let (Some((x, room)), Some(bar)) = (self.bar, at.bar_words()) {
            block.set((x, y), room, Type { bold: false, ..of }, &stacked(&bar));
        }
    }

    /// The number of a cue, the largest in its row, its crew before it.
    fn label(&self, block: &mut Block, label: &str) {
        let (x, room) = self.number;
        let (crew, number) = label.split_once(' ').unwrap_or(("", label));
        let after = match crew {
            "" => Mm(0.0),
            crew => bold(BESIDE).width(crew) + Mm(1.5),
        };
        if bold(NUMBER).width(number) + after <= room {
            let down = bold(NUMBER).capitals() - bold(BESIDE).capitals();
            block.set((x, PAD + down), room, bold(BESIDE), crew);
            block.set((x + after, PAD), room, bold(NUMBER), number);
        } else {
            let below = block.set((x, PAD), room, bold(BESIDE), crew);
            block.set((x, below + Mm(1.0)), room, bold(NUMBER), number);
        }
    }

    /// A row that is no cue: words beside a time.
    fn beside(&self, label: &str, at: &Stamp, of: Type, words: &str) -> Block {
        let mut block = Block::new();
        if !label.is_empty() {
            block.boxed((self.number.0, PAD), bold(WORDS), label);
        }
        self.at(&mut block, PAD, of, at);
        let (x, room) = self.words();
        block.set((x, PAD), room, of, words);
        block
    }

    /// Notes under the words.
    fn notes(&self, block: &mut Block, notes: &[String]) {
        let notes: Vec<String> = notes.iter().map(|note| format!("• {note}")).collect();
        let (x, room) = self.words();
        let y = block.height + Mm(1.4);
        block.set((x, y), room, bold(BESIDE), &notes.join(" "));
    }

    /// A cue that was cut, where it stood, struck out.
    fn cut(&self, label: &str, words: &str) -> Block {
        let mut block = Block::new();
        self.label(&mut block, label);
        let (x, room) = self.words();
        block.set((x, PAD), room, plain(WORDS), words);
        block.strike();
        block.boxed((self.time.0, PAD), bold(WORDS), "CUT");
        block
    }

    /// The rows of the act, or of its encore.
    fn part(&self, sheet: &CueSheet, part: &CuePart, is_encore: bool) -> Vec<Block> {
        let rows = rows_of(part, sheet.cut_of(is_encore));
        let mut blocks: Vec<Block> = rows.iter().map(|row| self.row(row, sheet)).collect();
        // A section is not parted from what comes next in it; of a long run of sections without a
        // cue the last two stay with it, or half a page would be white.
        let is_section = |row: &Row<'_>| matches!(row.what, RowOf::Section(_));
        for (index, block) in blocks.iter_mut().enumerate() {
            let run = rows[index..].iter().take(3).take_while(|row| is_section(row)).count();
            block.with_next = (1..3).contains(&run) && index + 1 < rows.len();
        }
        blocks
    }

    fn row(&self, row: &Row<'_>, sheet: &CueSheet) -> Block {
        let before = row.may_precede.as_deref();
        match &row.what {
            RowOf::Section(section) => {
                let words = section.words();
                let mut block = self.beside("", &section.starts, plain(BESIDE), &words);
                if let Some(before) = before {
                    self.notes(&mut block, &[may_come_before(before)]);
                }
                let bottom = block.height + PAD_BELOW;
                block.fill((MARGIN, Mm(0.0)), (PAGE.0 - MARGIN, bottom), "z");
                Columns::ruled(block)
            }
            RowOf::StandBy(lines, at) => {
                Columns::ruled(self.beside("", at, bold(BESIDE), &standby(lines)))
            }
            RowOf::Flames(line) => {
                Columns::ruled(self.beside("FIRE", &line.at, bold(WORDS), &flames(line)))
            }
            RowOf::Cut(cue) => Columns::ruled(self.cut(&cut_label(cue), &cut(cue))),
            RowOf::Go(together, standbys) => {
                let mut all = Block::new();
                for (place, line) in together.iter().enumerate() {
                    if place > 0 {
                        all.height += Mm(1.0);
                    }
                    // On the sheet of one crew the cue that it goes with may stand elsewhere.
                    let same_go = place > 0 && sheet.crew.is_none();
                    all.under(self.cue(line, same_go, before.filter(|_| place == 0), standbys));
                }
                if together.len() > 1 && sheet.crew.is_none() {
                    let x = MARGIN - Mm(3.0);
                    all.stroke((x, PAD), (x, all.height), "g");
                }
                Columns::ruled(all)
            }
        }
    }

    /// One cue; `same_go` where the cue on whose GO it goes stands above it.
    fn cue(
        &self,
        line: &CueLine,
        same_go: bool,
        before: Option<&str>,
        standbys: &[Vec<&CueLine>],
    ) -> Block {
        let said = CueWords::of(line, same_go, before);
        let mut block = Block::new();
        self.label(&mut block, &line.label);
        match said.at {
            Some(at) => self.at(&mut block, PAD, bold(WORDS), at),
            None => {
                block.set((self.time.0, PAD), self.time.1, plain(WORDS), "same GO");
            }
        }
        block.set((self.does.0, PAD), self.does.1, plain(WORDS), &said.does);
        block.set((self.count.0, PAD), self.count.1, plain(WORDS), &said.count);
        let when = format!("{} {}", said.trigger, said.when);
        block.set((self.when.0, PAD), self.when.1, bold(WORDS), &when);
        let mut y = PAD;
        for lines in standbys_of(standbys, line) {
            let at = lines.first().and_then(|line| line.standby.as_ref());
            let at = at.map(|at| stacked(&at.range().clock())).unwrap_or_default();
            y = block.set((self.standby.0, y), self.standby.1, plain(WORDS), &at) + Mm(1.0);
            if lines.len() > 1 {
                y = block.set((self.standby.0, y), self.standby.1, plain(BESIDE), &labels(lines));
            }
        }
        let notes = [said.marks, said.notes].concat();
        if !notes.is_empty() {
            self.notes(&mut block, &notes);
        }
        block
    }
}

/// Columns of the words that stand before what they mean.
const LABEL: Mm = Mm(28.0);
/// Columns of the clocks in the music list.
const CLOCK: Mm = Mm(34.0);

/// What stands above or under the cues.
fn said(pieces: &[Said]) -> Vec<Block> {
    let right = PAGE.0 - MARGIN;
    let piece = |piece: &Said| {
        let mut block = Block::new();
        let top = Mm(0.8);
        match piece {
            Said::Heading(heading) => {
                block.set((MARGIN, Mm(4.0)), right - MARGIN, bold(BESIDE), heading);
            }
            Said::Labelled(label, means) => {
                block.set((MARGIN, top), LABEL - GAP, bold(SMALL), label);
                let x = MARGIN + LABEL;
                block.set((x, top), right - x, plain(SMALL), means);
            }
            Said::Words(words) => {
                block.set((MARGIN, top), right - MARGIN, plain(SMALL), words);
            }
            Said::Point([clock, track, what]) => {
                let columns = [(Mm(0.0), clock), (CLOCK, track), (CLOCK * 2.0, what)];
                for (from, words) in columns {
                    let x = MARGIN + Mm(4.0) + from;
                    let room = if from < CLOCK * 2.0 { CLOCK - GAP } else { right - x };
                    block.set((x, top), room, plain(SMALL), words);
                }
            }
        }
        block.height += Mm(0.8);
        block
    };
    let mut blocks: Vec<Block> = pieces.iter().map(piece).collect();
    // What is about one thing stands on one page.
    for (block, next) in blocks.iter_mut().zip(pieces.iter().skip(1)) {
        block.with_next = !matches!(next, Said::Heading(_));
    }
    if let Some(last) = blocks.last_mut() {
        last.height += Mm(3.0);
    }
    blocks
}
