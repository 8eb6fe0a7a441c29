//! The line-up: what brings about the colours that the sections ask for.
//!
//! [`line_up`] takes a routine as it is written and gives it back with every open choice made: the
//! loadings that are to be found and, where a section lets it choose, where its pattern and its
//! colour lists begin, in which order a multiplex's values go, and which way into it is taken. It
//! is exact: where it says that nothing can, no choice within the bounds can. What is written is
//! kept. What is asked stands in `demand`, which prop may have which look in `colouring`, and
//! the search through what is open in `search`.

mod as_good;
mod clash;
mod colouring;
mod demand;
mod knowledge;
mod look_back;
mod looks;
mod options;
mod others;
mod place;
mod reason;
mod repair;
mod search;
mod settle;
mod verdict;

pub use demand::{Requirement, Wanted, requirements};
pub use options::MOST_VARIANTS;
pub use others::{MOST_TOLD, Others, others};
pub use place::MOST_WAYS;
pub use reason::words;
pub(crate) use repair::{Candidate, candidates};
pub use verdict::{Colours, Repair, Unmet, Verdict, side_effects};

use crate::diagnostic::Placed;
use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Juggle, Part, Routine, Transition, WrittenThrows};

use options::Variant;
use search::{Budget, Choice, GaveUp, Search, all_variants};

/// A routine with its open choices made.
#[derive(Clone, Debug, PartialEq)]
pub struct LineUp {
    /// The routine, every choice written out in it. Where nothing meets what is asked, the choices
    /// that are nearest to what is written.
    pub routine: Routine,
    /// What was chosen.
    pub choices: Choices,
}

/// What was chosen in a routine, and what came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Choices {
    /// What came of it.
    pub outcome: Outcome,
    /// What was chosen in a section otherwise than it is written, in the order of the score.
    pub chosen: Vec<Chosen>,
    /// What was chosen in its encore.
    pub encore: Option<Box<Choices>>,
}

/// What came of a line-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing was open: the routine is as it was written.
    AsWritten,
    /// The choices meet every request.
    Found,
    /// No choice within the bounds can.
    Impossible,
    /// There are more possibilities than are gone through.
    TooMany(Bound),
}

/// What is gone through at most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// The variants of a section, an index into the score.
    Variants(usize),
    /// The ways of one length into a section, an index into the score.
    Ways(usize),
    /// All possibilities together.
    All,
    /// What is kept in memory.
    Memory,
}

/// What was chosen in a section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The section, as an index into the score.
    pub section: usize,
    /// What it is.
    pub what: Choosing,
}

/// One choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choosing {
    /// The loading.
    Loading,
    /// The throw with which the pattern begins, by its number as written.
    StartingThrow(u32),
    /// The pattern with the values of its multiplexes in another order.
    MultiplexOrder(String),
    /// The colour with which the list of a throw starts: the throw's number, and the colour's place
    /// in the list from 0.
    List(u32, usize),
    /// The way into the section; empty for a direct join.
    Way(String),
}

/// Makes every open choice of a routine, and of its encore.
#[must_use]
pub fn line_up(routine: &Routine) -> LineUp {
    line_up_knowing(routine, None)
}

/// The same where it may be `known` what comes of it, of the act and then of the encore: what is
/// impossible is not looked for again.
pub(crate) fn line_up_knowing(routine: &Routine, known: Option<&[Outcome]>) -> LineUp {
    let known = |part: usize| known.and_then(|known| known.get(part)).copied();
    let mut line_up = of_act(routine, known(0));
    if let Some(encore) = &mut line_up.routine.encore {
        let of_encore = of_act(&encore.routine, known(1));
        encore.routine = of_encore.routine;
        line_up.choices.encore = Some(Box::new(of_encore.choices));
    }
    line_up
}

fn of_act(routine: &Routine, known: Option<Outcome>) -> LineUp {
    let asked = requirements(routine);
    let outcome = |routine: Routine, outcome| LineUp {
        routine,
        choices: Choices { outcome, chosen: Vec::new(), encore: None },
    };
    let free = routine.juggles().any(|juggle| !juggle.free.is_empty());
    if routine.score.iter().any(|section| section.unread().is_some()) {
        return outcome(routine.clone(), Outcome::AsWritten);
    }
    if (!free && !settle::is_open(routine)) || !settle::sets_known(routine) {
        return outcome(routine.clone(), Outcome::AsWritten);
    }
    if let Some(known @ (Outcome::Impossible | Outcome::TooMany(_))) = known {
        return outcome(settle::nearest(routine), known);
    }
    match choose(routine, &asked, &Budget::whole()) {
        Ok(Some(line_up)) => line_up,
        Ok(None) => outcome(settle::nearest(routine), Outcome::Impossible),
        Err(GaveUp(bound)) => outcome(settle::nearest(routine), Outcome::TooMany(bound)),
    }
}

/// The choices that meet what is asked; `None` where none do.
fn choose(
    routine: &Routine,
    asked: &[Requirement],
    budget: &Budget,
) -> Result<Option<LineUp>, GaveUp> {
    let variants = all_variants(routine)?;
    let settled =
        |choices: &[Choice]| settle::settled(&written_out(routine, &variants, choices), asked);
    let choices = match routine.juggles().any(|juggle| !juggle.free.is_empty()) {
        true => {
            let mut search = Search::new(routine, asked, &variants, budget)?;
            let choices = search.run(asked, |choices| settled(choices).is_some());
            budget.free_all();
            choices?
        }
        false => Some(Vec::new()),
    };
    let made = choices.and_then(|choices| Some((settled(&choices)?, choices)));
    Ok(made.map(|((routine_settled, loadings), choices)| {
        let mut chosen: Vec<Chosen> = choices
            .iter()
            .flat_map(|choice| named(routine, &variants, choice))
            .chain(loadings.into_iter().map(|section| Chosen { section, what: Choosing::Loading }))
            .collect();
        chosen.sort_by_key(|chosen| chosen.section);
        let choices = Choices { outcome: Outcome::Found, chosen, encore: None };
        LineUp { routine: routine_settled, choices }
    }))
}

/// The routine with choices written out in it; found loadings are still to be found.
fn written_out(routine: &Routine, variants: &[Vec<Variant>], choices: &[Choice]) -> Routine {
    let mut routine = routine.clone();
    for choice in choices {
        let variant = variants.get(choice.section).and_then(|all| all.get(choice.variant));
        let Some(Part::Juggle(juggle)) =
            routine.score.get_mut(choice.section).map(|section| &mut section.part)
        else {
            continue;
        };
        if let Some(variant) = variant {
            juggle.pattern = variant.juggle.pattern.clone();
        }
        for (shown, &start) in juggle.seen.shows.iter_mut().zip(&choice.starts) {
            let colours = shown.colours.len().max(1);
            shown.colours.rotate_left(start % colours);
        }
        if let Some((throws, lead)) = &choice.way {
            take_way(juggle, throws, *lead);
        }
    }
    routine
}

/// Writes a way into a section.
fn take_way(juggle: &mut Juggle, throws: &Sequence, lead: Option<Hand>) {
    let at = juggle.transition.at.clone();
    juggle.lead = juggle.lead.take().or(lead.map(|value| Placed { value, at: at.clone() }));
    juggle.transition.value = match throws.steps.is_empty() {
        true => Transition::Direct,
        false => {
            let throws = throws.clone();
            Transition::Throws(WrittenThrows { throws, at, characters: Vec::new() })
        }
    };
}

/// What of a choice is otherwise than written.
fn named(routine: &Routine, variants: &[Vec<Variant>], choice: &Choice) -> Vec<Chosen> {
    let Some(variant) = variants.get(choice.section).and_then(|all| all.get(choice.variant)) else {
        return Vec::new();
    };
    let mut named = Vec::new();
    let mut name = |what| named.push(Chosen { section: choice.section, what });
    let juggle = &variant.juggle;
    let sequence = juggle.pattern.pattern.sequence();
    if variant.begins > 0
        && let Some(first) = sequence.throws().next()
    {
        name(Choosing::StartingThrow(first.number));
    }
    if variant.is_reordered {
        name(Choosing::MultiplexOrder(sequence.to_string()));
    }
    for (shown, &start) in juggle.seen.shows.iter().zip(&choice.starts) {
        if start > 0 {
            name(Choosing::List(shown.throw.value, start));
        }
    }
    if let Some((throws, _)) = &choice.way
        && routine.juggle(choice.section).is_some()
    {
        name(Choosing::Way(throws.to_string()));
    }
    named
}
