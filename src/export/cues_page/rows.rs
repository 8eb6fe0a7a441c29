//! The rows of the cue page, and what stands above and under them.

use crate::paper::Paper;
use crate::paper::block::{Block, Ink, NUMBER, Role, SMALL, Type, WORDS, bold, plain, stroke};
use crate::sheet::cue_line::CueLine;
use crate::sheet::cue_rows::{Row, RowOf, labels, rows as rows_of, standbys_of};
use crate::sheet::cues::{CuePart, CueSheet};
use crate::sheet::section_row::SectionRow;
use crate::sheet::stamp::{BAR_AND_BEAT, Stamp};
use crate::strip::millimetres::Mm;

use super::super::cue_words::{
    self, CueWords, Said, closing, cut, cut_label, flames, may_come_before, no_cues, opening,
    standby,
};
use super::super::paged::MARGIN;
use super::super::table::{NONE, stacked};

/// The rows of a sheet and the headings that stand above them.
pub(super) struct Rows {
    pub(super) headings: Block,
    pub(super) blocks: Vec<Block>,
}

/// How a sheet saves room, so that an act stands on fewer sides. Type never shrinks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Saves {
    /// It does not have to.
    Nothing,
    /// Every stand-by stands in the row of its cue.
    StandBys,
    /// Sections without a cue between them share a row too.
    Sections,
}

impl Saves {
    /// From the sheet that is easiest to read on.
    pub(super) const ALL: [Saves; 3] = [Saves::Nothing, Saves::StandBys, Saves::Sections];
}

/// Everything that stands on the pages below their heads, in order.
pub(super) fn rows(sheet: &CueSheet, paper: &Paper, saves: Saves) -> Rows {
    let columns = Columns::of(sheet, paper, saves);
    let mut blocks = columns.said(&opening(sheet));
    blocks.extend(columns.part(sheet, &sheet.act, false));
    blocks.extend(no_cues(sheet).map(|words| columns.spanning(&words)));
    if let Some(encore) = &sheet.encore {
        let mut heading = columns.spanning(&cue_words::encore(encore));
        heading.with_next = true;
        blocks.push(heading);
        blocks.extend(columns.part(sheet, encore, true));
    }
    blocks.extend(columns.said(&closing(sheet)));
    Rows { headings: columns.headings(), blocks }
}

/// White above the words of a row.
const PAD: Mm = Mm(2.0);
/// White below them; what hangs below a line adds to it.
const PAD_BELOW: Mm = Mm(0.9);
/// White between columns.
const GAP: Mm = Mm(3.0);
/// White at the right for a pencil.
const PENCIL: Mm = Mm(23.0);
/// 16 pt: what a cue is taken on.
const TRIGGER: Mm = Mm(5.64);

/// A column: its place in the table, where it begins, and how wide its words may be.
#[derive(Clone, Copy)]
struct Column {
    cell: usize,
    x: Mm,
    room: Mm,
}

impl Column {
    /// Sets words from `y` down; where they end.
    fn set(self, block: &mut Block, y: Mm, of: Type, words: &str) -> Mm {
        block.cell(self.cell).set((self.x, y), self.room, of, words)
    }
}

/// The columns of the page.
struct Columns<'a> {
    paper: &'a Paper,
    saves: Saves,
    /// Where the last column ends.
    right: Mm,
    number: Column,
    time: Column,
    bar: Option<Column>,
    does: Column,
    count: Column,
    when: Column,
    standby: Column,
    notes: Column,
    timecodes: bool,
}

impl<'a> Columns<'a> {
    /// The words share what the figures and the pencil leave.
    fn of(sheet: &CueSheet, paper: &'a Paper, saves: Saves) -> Columns<'a> {
        let right = paper.on_side().0 - MARGIN;
        let timecodes = sheet.act.timecode.is_some();
        let mut next = (0, MARGIN);
        let mut column = |wide: Mm| {
            let (cell, x) = next;
            next = (cell + 1, x + wide);
            Column { cell, x, room: wide - GAP }
        };
        let number = column(Mm(36.0));
        let time = column(if timecodes { Mm(34.0) } else { Mm(27.0) });
        let bar = sheet.any_bars().then(|| column(Mm(26.0)));
        let (count_wide, standby_wide) = (Mm(18.5), Mm(26.0));
        let taken = bar.unwrap_or(time);
        let left = taken.x + taken.room + GAP;
        let words = right - left - count_wide - standby_wide - PENCIL;
        // What a cue is taken on is set larger than what it does.
        let does = column(words * 0.43);
        let count = column(count_wide);
        let when = column(words * 0.57);
        let standby = column(standby_wide);
        let notes = column(PENCIL + GAP);
        Columns {
            paper,
            saves,
            right,
            number,
            time,
            bar,
            does,
            count,
            when,
            standby,
            notes,
            timecodes,
        }
    }

    /// The columns from the words on as one.
    fn words(&self) -> Column {
        Column { room: self.notes.x - GAP - self.does.x, ..self.does }
    }

    fn headings(&self) -> Block {
        let mut block = Block::new(self.paper);
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
            (Some(self.notes), "NOTES"),
        ];
        block.role = Role::Headings;
        for (column, name) in named {
            if let Some(column) = column {
                column.set(&mut block, Mm(0.5), bold(SMALL), name);
            }
        }
        block.height += Mm(1.4);
        let y = block.height;
        block.stroke((MARGIN, y), (self.right, y), stroke::HEAVY);
        block.height = y + Mm(0.6);
        block
    }

    /// A row that is finished: a rule under it.
    fn ruled(&self, mut block: Block) -> Block {
        block.role = Role::Row;
        block.height += PAD_BELOW;
        let y = block.height;
        block.stroke((MARGIN, y), (self.right, y), stroke::FINE);
        block
    }

    /// Words over the whole width.
    fn spanning(&self, words: &str) -> Block {
        let mut block = Block::new(self.paper);
        block.set((MARGIN, PAD), self.right - MARGIN, bold(WORDS), words);
        self.ruled(block)
    }

    /// A time, its time code under it, and its bar.
    fn at(&self, block: &mut Block, y: Mm, of: Type, at: &Stamp) {
        let time = stacked(&at.range().clock());
        let below = self.time.set(block, y, of, &time);
        let code = match at.timecode_words() {
            Some(code) => stacked(&code),
            // Empty where it is not known, not where there is none.
            None if self.timecodes && at.range().is_known() => NONE.to_owned(),
            None => String::new(),
        };
        self.time.set(block, below + Mm(1.0), plain(WORDS), &code);
        if let (Some(column), Some(bar)) = (self.bar, at.bar_words()) {
            column.set(block, y, Type { bold: false, ..of }, &stacked(&bar));
        }
    }

    /// The number of a cue, the largest in its row, its crew before it.
    fn label(&self, block: &mut Block, label: &str) {
        let Column { x, room, cell } = self.number;
        block.cell(cell);
        let (crew, number) = label.split_once(' ').unwrap_or(("", label));
        let after = match crew {
            "" => Mm(0.0),
            crew => self.paper.width(crew, bold(WORDS)) + Mm(1.5),
        };
        if self.paper.width(number, bold(NUMBER)) + after <= room {
            let down = bold(NUMBER).capitals() - bold(WORDS).capitals();
            block.set((x, PAD + down), room, bold(WORDS), crew);
            block.set((x + after, PAD), room, bold(NUMBER), number);
        } else {
            let below = block.set((x, PAD), room, bold(WORDS), crew);
            block.set((x, below + Mm(1.0)), room, bold(NUMBER), number);
        }
    }

    /// A row that is no cue: words beside a time.
    fn beside(&self, label: &str, at: &Stamp, of: Type, words: &str) -> Block {
        let mut block = Block::new(self.paper);
        if !label.is_empty() {
            block.cell(self.number.cell).boxed((self.number.x, PAD), bold(WORDS), label);
        }
        self.at(&mut block, PAD, of, at);
        self.words().set(&mut block, PAD, of, words);
        block
    }

    /// Notes under the words.
    fn notes(&self, block: &mut Block, notes: &[String]) {
        let notes: Vec<String> = notes.iter().map(|note| format!("• {note}")).collect();
        let y = block.height + Mm(1.4);
        self.words().set(block, y, bold(WORDS), &notes.join(" "));
    }

    /// A cue that was cut, where it stood, struck out.
    fn cut(&self, label: &str, words: &str) -> Block {
        let mut block = Block::new(self.paper);
        self.label(&mut block, label);
        self.words().set(&mut block, PAD, plain(WORDS), words);
        block.strike();
        block.cell(self.time.cell).boxed((self.time.x, PAD), bold(WORDS), "CUT");
        block
    }

    /// The rows of the act, or of its encore.
    fn part(&self, sheet: &CueSheet, part: &CuePart, is_encore: bool) -> Vec<Block> {
        let apart = self.saves < Saves::StandBys;
        let rows = rows_of(part, sheet.cut_of(is_encore), apart);
        if self.saves >= Saves::Sections {
            return self.tight(&rows, sheet);
        }
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

    /// The rows, sections without a cue between them in one.
    fn tight(&self, rows: &[Row<'_>], sheet: &CueSheet) -> Vec<Block> {
        let is_shared =
            |row: &Row<'_>| matches!(row.what, RowOf::Section(_)) && row.may_precede.is_none();
        let run = |run: &[Row<'_>]| {
            let sections = run.iter().filter_map(|row| match row.what {
                RowOf::Section(section) => Some(section),
                _ => None,
            });
            match run {
                [only] => self.row(only, sheet),
                _ => self.sections(&sections.collect::<Vec<_>>()),
            }
        };
        let runs = || rows.chunk_by(|one, next| is_shared(one) && is_shared(next));
        let mut blocks: Vec<Block> = runs().map(run).collect();
        // A section is not parted from what comes next in it.
        let last = blocks.len().saturating_sub(1);
        for (block, run) in blocks.iter_mut().zip(runs()).take(last) {
            block.with_next = run.iter().all(|row| matches!(row.what, RowOf::Section(_)));
        }
        blocks
    }

    /// Sections that follow each other, each with its time.
    fn sections(&self, sections: &[&SectionRow]) -> Block {
        let mut block = Block::new(self.paper);
        let each = |section: &&SectionRow| {
            let at = &section.starts;
            let bar = at.bar_words().map(|bar| format!(" ({bar})")).unwrap_or_default();
            format!("{}{bar} {}", at.range().clock(), section.short_words())
        };
        let words = sections.iter().map(each).collect::<Vec<_>>().join(" · ");
        let room = self.notes.x - GAP - self.time.x;
        Column { room, ..self.time }.set(&mut block, PAD, plain(WORDS), &words);
        self.grey(block)
    }

    fn section(&self, section: &SectionRow, before: Option<&str>) -> Block {
        let mut block = self.beside("", &section.starts, plain(WORDS), &section.words());
        if let Some(before) = before {
            self.notes(&mut block, &[may_come_before(before)]);
        }
        self.grey(block)
    }

    /// A row on a ground of its own, a rule under it.
    fn grey(&self, mut block: Block) -> Block {
        let bottom = block.height + PAD_BELOW;
        block.fill((MARGIN, Mm(0.0)), (self.right, bottom), Ink::Ground);
        self.ruled(block)
    }

    fn row(&self, row: &Row<'_>, sheet: &CueSheet) -> Block {
        let before = row.may_precede.as_deref();
        match &row.what {
            RowOf::Section(section) => self.section(section, before),
            RowOf::StandBy(lines, at) => {
                self.ruled(self.beside("", at, bold(WORDS), &standby(lines)))
            }
            RowOf::Flames(line) => {
                self.ruled(self.beside("FIRE", &line.at, bold(WORDS), &flames(line)))
            }
            RowOf::Cut(cue) => self.ruled(self.cut(&cut_label(cue), &cut(cue))),
            RowOf::Go(together, standbys) => {
                let mut all = Block::new(self.paper);
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
                    all.stroke((x, PAD), (x, all.height), stroke::BRACKET);
                }
                self.ruled(all)
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
        let mut block = Block::new(self.paper);
        self.label(&mut block, &line.label);
        match said.at {
            Some(at) => self.at(&mut block, PAD, bold(WORDS), at),
            None => {
                self.time.set(&mut block, PAD, plain(WORDS), "same GO");
            }
        }
        self.does.set(&mut block, PAD, plain(WORDS), &said.does);
        self.count.set(&mut block, PAD, plain(WORDS), &said.count);
        let when = format!("{} {}", said.trigger, said.when);
        self.when.set(&mut block, PAD, bold(TRIGGER), &when);
        let mut y = PAD;
        for lines in standbys_of(standbys, line) {
            let at = lines.first().and_then(|line| line.standby.as_ref());
            let at = at.map(|at| stacked(&at.range().clock())).unwrap_or_default();
            y = self.standby.set(&mut block, y, plain(WORDS), &at) + Mm(1.0);
            if lines.len() > 1 {
                y = self.standby.set(&mut block, y, plain(WORDS), &labels(lines));
            }
        }
        let notes = [said.marks, said.notes].concat();
        if !notes.is_empty() {
            self.notes(&mut block, &notes);
        }
        block
    }

    /// What stands above or under the cues.
    fn said(&self, pieces: &[Said]) -> Vec<Block> {
        let right = self.right;
        let piece = |piece: &Said| {
            let mut block = Block::new(self.paper);
            let top = Mm(0.8);
            match piece {
                Said::Heading(heading) => {
                    block.role = Role::Heading(2);
                    block.set((MARGIN, Mm(4.0)), right - MARGIN, bold(WORDS), heading);
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
}

/// Columns of the words that stand before what they mean.
const LABEL: Mm = Mm(28.0);
/// Columns of the clocks in the music list.
const CLOCK: Mm = Mm(34.0);
