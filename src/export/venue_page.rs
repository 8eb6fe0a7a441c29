//! The venue page to print: what a venue asks before the act arrives, with the stage seen from above.
//!
//! A question stands at the left and its answer beside it; a line to write on stands where neither
//! the file nor the act knows it.

use crate::act::Act;
use crate::paper::block::{Block, Ink, Role, SMALL, WORDS, bold, plain, stroke};
use crate::paper::{Paper, Part};
use crate::routine::{StageDepth, StageSide};
use crate::sheet::caution::{DEFERS, VENUE_FIRST};
use crate::sheet::venue::{Fact, PlanBox, StagePlan, VenueSheet, compose};
use crate::sheet::words::PERFORMERS_SIDES;
use crate::strip::millimetres::Mm;

use super::paged::{MARGIN, Paged};

/// Columns of the questions.
const LABEL: Mm = Mm(54.0);
/// White between columns.
const GAP: Mm = Mm(4.0);
/// White above a fact.
const PAD: Mm = Mm(1.7);
/// Where the line to write on lies.
const LINE: Mm = Mm(7.0);
/// The least height of a box of the plan.
const BOX: Mm = Mm(19.0);
/// White within a box.
const IN_BOX: Mm = Mm(2.0);

/// The venue page of an act, on upright paper.
#[must_use]
pub fn pages(act: &Act, paper: &Paper) -> Part {
    of_sheet(&compose(act), paper)
}

/// A composed venue page.
#[must_use]
pub fn of_sheet(sheet: &VenueSheet, paper: &Paper) -> Part {
    let page = OnPage { paper, right: paper.upright().0 - MARGIN };
    let mut blocks = page.cautions(sheet);
    for part in &sheet.parts {
        blocks.push(page.heading(part.title));
        blocks.extend(part.facts.iter().map(|fact| page.fact(fact)));
    }
    blocks.push(page.heading("STAGE PLAN"));
    blocks.push(page.plan(&sheet.plan));
    blocks.extend(page.beside(&sheet.plan));
    let beneath = format!(
        "Times are minutes and seconds; those with a place are on the show clock: 0:00.0 is {}. A \
         line without words is to be filled in.",
        sheet.zero
    );
    let size = paper.upright();
    let what = "venue page";
    let paged = Paged { paper, size, heading: &sheet.heading, what, beneath: &beneath };
    paged.part(blocks, &Block::new(paper))
}

/// Where everything stands.
struct OnPage<'a> {
    paper: &'a Paper,
    right: Mm,
}

impl OnPage<'_> {
    /// Says so over what comes next.
    fn heading(&self, words: &str) -> Block {
        let mut block = Block::of(self.paper, Role::Heading(2));
        block.set((MARGIN, Mm(4.2)), self.right - MARGIN, bold(WORDS), words);
        let y = block.height + Mm(0.6);
        block.stroke((MARGIN, y), (self.right, y), stroke::HEAVY);
        (block.height, block.with_next) = (y + Mm(0.4), true);
        block
    }

    /// A question and its answer, or a line to write on.
    fn fact(&self, fact: &Fact) -> Block {
        let mut block = Block::new(self.paper);
        let x = MARGIN + LABEL;
        if fact.is_blank() {
            let spoken = format!("{}: to be filled in", fact.label);
            let room = LABEL - GAP;
            block.set_spoken((MARGIN, PAD), room, bold(SMALL), &fact.label, Some(&spoken));
            let y = LINE.max(block.height - Mm(0.5));
            block.stroke((x, y), (self.right, y), stroke::FINE);
            block.height = y + Mm(0.6);
            return block;
        }
        block.set((MARGIN, PAD), LABEL - GAP, bold(SMALL), &fact.label);
        block.cell(1).set((x, PAD), self.right - x, plain(SMALL), &fact.says.join("\n"));
        block
    }

    /// Words over the whole width.
    fn words(&self, words: &str) -> Block {
        Block::text(self.paper, (MARGIN, PAD), self.right - MARGIN, plain(SMALL), words)
    }

    /// The cautions and who decides.
    fn cautions(&self, sheet: &VenueSheet) -> Vec<Block> {
        if sheet.cautions.is_empty() {
            return vec![self.words(VENUE_FIRST)];
        }
        let mut blocks = vec![self.heading("CAUTIONS")];
        blocks.extend(sheet.cautions.iter().map(|caution| {
            let mut block = Block::new(self.paper);
            block.boxed((MARGIN, PAD + Mm(1.0)), bold(SMALL), caution.heading());
            let x = MARGIN + Mm(28.0);
            block.cell(1).set((x, PAD + Mm(1.0)), self.right - x, plain(SMALL), caution.text());
            block.with_next = true;
            block
        }));
        blocks.push(self.words(DEFERS));
        blocks
    }

    /// The stage from above: nine boxes, the audience below.
    fn plan(&self, plan: &StagePlan) -> Block {
        let mut block = Block::of(self.paper, Role::Picture(in_words(plan)));
        let room = self.right - MARGIN;
        let of = bold(SMALL);
        let base = PAD + of.capitals();
        block.words((MARGIN, base), of, Ink::Black, "performer's right");
        block.words_to((self.right, base), of, "performer's left");
        let mut top = base + Mm(3.0);
        let wide = room / 3.0;
        for row in plan.boxes.chunks(StageSide::ALL.len()) {
            let mut bottom = top + BOX;
            for (column, one) in row.iter().enumerate() {
                let x = MARGIN + wide * column as f64 + IN_BOX;
                let words = wide - IN_BOX * 2.0;
                let mut y = block.set((x, top + IN_BOX), words, of, &one.place.to_string());
                for what in &one.what {
                    y = block.set((x, y + Mm(0.8)), words, plain(SMALL), what);
                }
                bottom = bottom.max(y + IN_BOX);
            }
            for column in 0..row.len() {
                let left = MARGIN + wide * column as f64;
                block.outline((left, top), (left + wide, bottom), stroke::FINE);
            }
            top = bottom;
        }
        // The edge of the stage, and who sits before it.
        block.stroke((MARGIN, top + Mm(1.2)), (self.right, top + Mm(1.2)), stroke::BRACKET);
        let audience = "AUDIENCE";
        let middle = MARGIN + room / 2.0 - self.paper.width(audience, of) / 2.0;
        let base = top + Mm(4.0) + of.capitals();
        block.words((middle, base), of, Ink::Black, audience);
        block.height = base + of.below() + Mm(1.0);
        block
    }

    /// What stands beside the stage, where the sections are, and which side is which.
    fn beside(&self, plan: &StagePlan) -> Vec<Block> {
        let line = |place: &String, says: String| {
            self.fact(&Fact { label: place.clone(), says: vec![says] })
        };
        let mut blocks = vec![self.words(PERFORMERS_SIDES)];
        if !plan.beside.is_empty() {
            blocks.push(self.heading("BESIDE THE STAGE"));
        }
        blocks.extend(plan.beside.iter().map(|(place, what)| line(place, what.clone())));
        if !plan.sections.is_empty() {
            blocks.push(self.heading("WHERE THE SECTIONS ARE"));
        }
        blocks.extend(plan.sections.iter().map(|(place, names)| line(place, names.join(", "))));
        blocks
    }
}

/// The plan for who does not see it.
fn in_words(plan: &StagePlan) -> String {
    let filled = plan.boxes.iter().filter(|one| !one.what.is_empty());
    let told = |one: &PlanBox| format!("{}: {}", one.place, one.what.join(", "));
    let filled: Vec<String> = filled.map(told).collect();
    let places = StageDepth::ALL.len() * StageSide::ALL.len();
    match filled.is_empty() {
        true => format!("stage plan of {places} places, nothing on it, to be drawn on"),
        false => {
            format!("stage plan of {places} places, the audience below; {}", filled.join("; "))
        }
    }
}
