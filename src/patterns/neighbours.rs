//! Valid patterns near one that is not: what the juggler may have meant.
//!
//! One written throw is changed, or two; of all the valid patterns that this gives the nearest are
//! offered, so many steps of value away in all (a straight throw made a crossing one is one step).
//! Both halves of a starred pattern change together.

use crate::notation::{HIGHEST_VALUE, Kind, Sequence, Throw};

use super::landing::Landings;

/// The most patterns that are offered.
const MOST_OFFERED: usize = 4;

/// Longer sequences are not searched: nobody reads them throw by throw.
const LONGEST_FOR_ONE_CHANGE: usize = 1_000;

/// Two changes are tried in shorter ones only.
const LONGEST_FOR_TWO_CHANGES: usize = 24;

/// When two throws change, each changes by so much at most.
const FARTHEST_OF_TWO: u32 = 3;

/// A throw that changes moves its landing from one slot to another, and may leave or enter a slot
/// that was empty.
const SLOTS_OF_A_CHANGE: usize = 3;

/// A valid pattern and how far it is from what was written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Neighbour {
    /// Whether it needs another number of props.
    other_props: bool,
    /// How many throws change.
    count: usize,
    /// Steps of value, both throws together.
    steps: u32,
    /// Whether other throws are used, not the same ones in another order.
    other_throws: bool,
    /// The throws that change, by their place among the written ones, and what they become.
    changes: Vec<(usize, Throw)>,
}

/// A valid pattern near one that is not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Offer {
    /// Its text.
    pub(super) text: String,
    /// How many props it needs.
    pub(super) props: u32,
    /// What to do where the text is too long to be repeated, as in `Make throw 991 a 3`.
    pub(super) instead: Option<String>,
}

/// Longer texts are not repeated in a sentence.
const LONGEST_IN_A_SENTENCE: usize = 40;

/// The nearest valid patterns, the nearest first: those for the same props before others, one
/// changed throw before two, few steps before many, the same throws in another order before
/// other throws.
pub(super) fn nearest(sequence: &Sequence, landings: &Landings) -> Vec<Offer> {
    let written = written_throws(sequence);
    if written.len() > LONGEST_FOR_ONE_CHANGE {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mut trial = landings.clone();
    let halves = if sequence.starred { 2 } else { 1 };
    let mendable = SLOTS_OF_A_CHANGE * halves;
    for (place, places) in written.iter().enumerate() {
        if trial.unbalanced() > mendable {
            break;
        }
        let before = landings.tosses()[places[0]].throw;
        for throw in throws_of(landings.kind(), HIGHEST_VALUE) {
            change(&mut trial, places, throw);
            if throw != before && trial.all_fit() {
                let changes = vec![(place, throw)];
                found.push(neighbour(landings, &trial, steps(before, throw), changes));
            }
        }
        change(&mut trial, places, before);
    }
    // Where the average is whole, exchanging a step between two throws keeps the props.
    let keeps_props = landings.props().is_some();
    if (keeps_props || found.len() < MOST_OFFERED) && written.len() <= LONGEST_FOR_TWO_CHANGES {
        found.extend(two_changes(landings, &written, mendable));
    }
    found.sort();
    let offers = found.iter().filter_map(|neighbour| {
        let (text, props) = read_again(changed(sequence, neighbour))?;
        let instead = (text.len() > LONGEST_IN_A_SENTENCE).then(|| in_words(neighbour));
        Some(Offer { text, props, instead })
    });
    offers.take(MOST_OFFERED).collect()
}

/// The changes as a sentence part.
fn in_words(neighbour: &Neighbour) -> String {
    let change = |(place, throw): &(usize, Throw)| format!("throw {} a {throw}", place + 1);
    let changes: Vec<String> = neighbour.changes.iter().map(change).collect();
    format!("Make {}", changes.join(" and "))
}

/// The text with its props, if the reader takes it without a word and it needs any props at all.
fn read_again(text: String) -> Option<(String, u32)> {
    let (sequence, warnings) = Sequence::read(&text).ok()?;
    let landings = Landings::of(&sequence, sequence.kind()?);
    let props = landings.props().filter(|&props| props > 0)?;
    (warnings.is_empty() && landings.all_fit()).then_some((text, props))
}

fn neighbour(
    before: &Landings,
    after: &Landings,
    steps: u32,
    changes: Vec<(usize, Throw)>,
) -> Neighbour {
    let mut were: Vec<Throw> = Vec::new();
    let mut are: Vec<Throw> = Vec::new();
    for (was, is) in before.tosses().iter().zip(after.tosses()) {
        if was.throw != is.throw {
            were.push(was.throw);
            are.push(is.throw);
        }
    }
    were.sort_unstable();
    are.sort_unstable();
    Neighbour {
        other_props: before.sum() != after.sum(),
        count: changes.len(),
        steps,
        other_throws: were != are,
        changes,
    }
}

/// Neighbours in which two written throws change, each a little. `mendable` slots out of balance
/// are the most that the second change can mend.
fn two_changes(landings: &Landings, written: &[Vec<usize>], mendable: usize) -> Vec<Neighbour> {
    let mut found = Vec::new();
    let mut trial = landings.clone();
    for first in 0..written.len() {
        let before = landings.tosses()[written[first][0]].throw;
        for one in near(landings.kind(), before) {
            change(&mut trial, &written[first], one);
            if trial.unbalanced() > mendable {
                continue;
            }
            for (second, places) in written.iter().enumerate().skip(first + 1) {
                let was = landings.tosses()[places[0]].throw;
                for other in near(landings.kind(), was) {
                    change(&mut trial, places, other);
                    if trial.all_fit() {
                        let changes = vec![(first, one), (second, other)];
                        let steps = steps(before, one) + steps(was, other);
                        found.push(neighbour(landings, &trial, steps, changes));
                    }
                }
                change(&mut trial, places, was);
            }
        }
        change(&mut trial, &written[first], before);
    }
    found
}

/// For each throw that stands in the text, its places among the tosses: two in a starred pattern.
fn written_throws(sequence: &Sequence) -> Vec<Vec<usize>> {
    let mut numbered: Vec<(u32, usize)> =
        sequence.throws().enumerate().map(|(place, written)| (written.number, place)).collect();
    numbered.sort_unstable();
    let halves = if sequence.starred { 2 } else { 1 };
    let written = numbered.len() / halves;
    (0..written)
        .map(|place| (0..halves).map(|half| numbered[place + half * written].1).collect())
        .collect()
}

fn change(landings: &mut Landings, places: &[usize], throw: Throw) {
    for &place in places {
        landings.change(place, throw);
    }
}

/// All throws that a notation can write, up to a value.
fn throws_of(kind: Kind, highest: u8) -> impl Iterator<Item = Throw> {
    (0..=highest).flat_map(move |value| {
        let straight = (kind == Kind::Async || value % 2 == 0).then(|| Throw::straight(value));
        let crossing =
            (kind == Kind::Sync && value % 2 == 0 && value > 0).then(|| Throw::crossing(value));
        straight.into_iter().chain(crossing)
    })
}

/// Other throws not far from one.
fn near(kind: Kind, throw: Throw) -> impl Iterator<Item = Throw> {
    let farthest = u8::try_from(FARTHEST_OF_TWO).unwrap_or(u8::MAX);
    throws_of(kind, HIGHEST_VALUE.min(throw.value.saturating_add(farthest)))
        .filter(move |&other| other != throw && steps(throw, other) <= FARTHEST_OF_TWO)
}

/// How far one throw is from another.
fn steps(from: Throw, to: Throw) -> u32 {
    u32::from(from.value.abs_diff(to.value)) + u32::from(from.crossing != to.crossing)
}

/// The text of the sequence with its changes.
fn changed(sequence: &Sequence, neighbour: &Neighbour) -> String {
    let mut sequence = sequence.clone();
    let written = sequence.throws().count() / if sequence.starred { 2 } else { 1 };
    for step in &mut sequence.steps {
        for throw in step.throws_mut() {
            let place = (throw.number as usize - 1) % written;
            if let Some(&(_, becomes)) = neighbour.changes.iter().find(|change| change.0 == place) {
                throw.throw = becomes;
            }
        }
    }
    sequence.to_string()
}
