//! The search through what the sections leave open: cheapest first, and exact.
//!
//! A *place* is where the routine stands, colours apart: what is due in which hand and how it goes
//! on. A *node* is a place together with what is known of the props that stand there: the looks
//! that each may still have. Same place, same knowledge: same future, so the later one is dropped;
//! props of one look are never told apart. Nodes are taken by their cost:
//! beats of transition, then the number of things that are otherwise than written.

use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap};

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Freedom, Part, Routine, Section, Transition};
use crate::timeline::Draft;

use super::Bound;
use super::as_good::as_good_as;
use super::colouring::Domains;
use super::demand::{Demand, Requirement, about};
use super::knowledge::Knowledge;
use super::look_back::Asked;
use super::looks::{LookMask, Looks};
use super::options::{Variant, starts, variants};
use super::place::{Place, PlaceKey, Props, Step};

/// How much is gone through, and how much of it is kept in memory.
#[derive(Clone, Debug)]
pub(super) struct Budget {
    /// Nodes, a place counting for as many as it costs more to make.
    nodes: Cell<usize>,
    /// Bytes.
    memory: Cell<usize>,
}

/// About how many bytes a node keeps, in the list, in the queue and among those that are known.
const BYTES_OF_A_NODE: usize = size_of::<Node>() + size_of::<Queued>() + 48;

/// A section that is laid out costs about as much as so many nodes.
pub(super) const PLACE: usize = 100;

/// A way that is followed costs about as much as so many nodes.
pub(super) const WAY: usize = 4;

/// After so many nodes it is found what every place asks of the props that come to it.
const LOOK_BACK: usize = 300;

/// So much is kept at most, about, of one search.
pub(super) const MOST_BYTES: usize = 160 << 20;

impl Budget {
    fn of(nodes: usize) -> Budget {
        Budget { nodes: Cell::new(nodes), memory: Cell::new(MOST_BYTES) }
    }

    /// For the choices of a routine.
    pub(super) fn whole() -> Budget {
        Budget::of(6_000_000)
    }

    /// For saying why there are none, and what would help.
    pub(super) fn explaining() -> Budget {
        Budget::of(150_000)
    }

    pub(super) fn spend(&self, much: usize) -> Result<(), GaveUp> {
        let left = self.nodes.get().checked_sub(much);
        self.nodes.set(left.ok_or(GaveUp(Bound::All))?);
        Ok(())
    }

    /// How much is left.
    pub(super) fn left(&self) -> usize {
        self.nodes.get()
    }

    /// So much is left again.
    pub(super) fn restore(&self, left: usize) {
        self.nodes.set(left);
    }

    /// How many bytes are kept.
    pub(super) fn kept(&self) -> usize {
        MOST_BYTES - self.memory.get()
    }

    /// Keeps so many bytes more.
    pub(super) fn keep(&self, bytes: usize) -> Result<(), GaveUp> {
        let left = self.memory.get().checked_sub(bytes);
        self.memory.set(left.ok_or(GaveUp(Bound::Memory))?);
        Ok(())
    }

    /// So many bytes are no longer kept.
    pub(super) fn free(&self, bytes: usize) {
        self.memory.set((self.memory.get() + bytes).min(MOST_BYTES));
    }

    /// A search is over, and nothing of it is kept.
    pub(super) fn free_all(&self) {
        self.memory.set(MOST_BYTES);
    }
}

/// What is chosen for a section.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Choice {
    /// The section, as an index into the score.
    pub(super) section: usize,
    /// The variant of it.
    pub(super) variant: usize,
    /// The colour with which each of its lists starts.
    pub(super) starts: Vec<usize>,
    /// The way into it, where that or its order was free: its throws, and the hand of its own first
    /// throw.
    pub(super) way: Option<(Sequence, Option<Hand>)>,
}

/// Too many possibilities to go through, and which bound they pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct GaveUp(pub(super) Bound);

struct Node {
    place: usize,
    set: Option<usize>,
    /// What is known of the props.
    known: u32,
    /// What of that decides how the node goes on.
    matters: u32,
    beats: u32,
    changes: u32,
    /// The node before, and the step from it: the beats of the ways that were looked at, and its
    /// place among them.
    parent: Option<(usize, u32, u32)>,
}

/// A node in the queue; the order of the fields is that in which nodes are looked at: by cost, then
/// what is further on, then what was found first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Queued {
    beats: u32,
    changes: u32,
    further: Reverse<usize>,
    node: usize,
    /// The beats of the ways that are to be looked at.
    ways: u32,
}

pub(super) struct Search<'a> {
    pub(super) routine: &'a Routine,
    pub(super) requirements: &'a [Requirement],
    /// Which of them are asked this time.
    asked: Vec<bool>,
    pub(super) variants: &'a [Vec<Variant>],
    pub(super) budget: &'a Budget,
    pub(super) starts: Vec<Vec<Vec<usize>>>,
    /// For each set its looks.
    pub(super) looks: Vec<Looks>,
    pub(super) places: Vec<Place<'a>>,
    pub(super) known_places: HashMap<PlaceKey, usize>,
    known: Knowledge,
    /// See [`as_good_as`].
    pub(super) as_good_as: Vec<Vec<Vec<LookMask>>>,
    /// Whether something is asked of catches that only the whole run tells.
    pub(super) asks_late: bool,
}

/// The variants of every section; a pause has none.
pub(super) fn all_variants(routine: &Routine) -> Result<Vec<Vec<Variant>>, GaveUp> {
    let of = |(index, section): (usize, &Section)| match &section.part {
        Part::Juggle(juggle) => variants(juggle).ok_or(GaveUp(Bound::Variants(index))),
        Part::Pause(_) | Part::Unread(_) => Ok(Vec::new()),
    };
    routine.score.iter().enumerate().map(of).collect()
}

impl<'a> Search<'a> {
    pub(super) fn new(
        routine: &'a Routine,
        requirements: &'a [Requirement],
        variants: &'a [Vec<Variant>],
        budget: &'a Budget,
    ) -> Result<Search<'a>, GaveUp> {
        let of = |(index, section): (usize, &Section)| match &section.part {
            Part::Juggle(juggle) => starts(juggle).ok_or(GaveUp(Bound::Variants(index))),
            Part::Pause(_) | Part::Unread(_) => Ok(Vec::new()),
        };
        let starts = routine.score.iter().enumerate().map(of).collect::<Result<_, _>>()?;
        let asks_late = requirements.iter().any(|&asked| about(routine, asked).is_none());
        let looks: Vec<Looks> =
            (0..routine.sets.len()).map(|set| Looks::of(routine, set)).collect();
        let as_good_as = as_good_as(routine, requirements, &looks);
        Ok(Search {
            routine,
            requirements,
            asked: vec![true; requirements.len()],
            variants,
            budget,
            starts,
            looks,
            as_good_as,
            places: Vec::new(),
            known_places: HashMap::new(),
            known: Knowledge::default(),
            asks_late,
        })
    }

    /// The cheapest choices that meet every requirement, of some if only some are `asked`, and that
    /// `settles` takes; `None` when there are none. What was made of the places is kept for the next
    /// time.
    pub(super) fn run(
        &mut self,
        asked: &[Requirement],
        settles: impl Fn(&[Choice]) -> bool,
    ) -> Result<Option<Vec<Choice>>, GaveUp> {
        self.asked = self.requirements.iter().map(|one| asked.contains(one)).collect();
        let mut nodes = Vec::new();
        let outcome = self.cheapest(&mut nodes, settles);
        self.budget.free(nodes.len() * BYTES_OF_A_NODE);
        outcome
    }

    fn cheapest(
        &mut self,
        nodes: &mut Vec<Node>,
        settles: impl Fn(&[Choice]) -> bool,
    ) -> Result<Option<Vec<Choice>>, GaveUp> {
        let (first, _) = self.place(Draft::begin(self.routine), 0, None, None)?;
        let nothing = self.known.id(Domains { masks: Vec::new(), ties: Vec::new() });
        let root = Node {
            place: first,
            set: None,
            known: nothing,
            matters: nothing,
            beats: 0,
            changes: 0,
            parent: None,
        };
        nodes.push(root);
        let mut queue = BinaryHeap::from([Reverse(self.queued(nodes, 0, 0))]);
        // The least that it costs to come to a place with that known, as far as was found.
        let mut least: HashMap<(usize, u32), (u32, u32)> = HashMap::new();
        let mut asked: Option<Asked> = None;
        while let Some(Reverse(Queued { node, ways, .. })) = queue.pop() {
            if asked.is_none() && nodes.len() > LOOK_BACK && !self.asks_late {
                asked = Some(self.look_back());
            }
            let from = &nodes[node];
            if let Some(asked) = asked.as_ref().filter(|_| ways == 0) {
                let known = self.known.of(from.known);
                if !self.can_go_on(asked, from.place, (from.set, known)) {
                    continue;
                }
            }
            let (place, cost) = (from.place, (from.beats, from.changes));
            let dearer = |found: &(u32, u32)| *found < cost;
            if !self.asks_late && least.get(&(place, from.matters)).is_some_and(dearer) {
                continue;
            }
            if self.section(place) == self.routine.score.len() {
                // Each is a whole act compiled.
                self.budget.spend(PLACE)?;
                let choices = self.choices(nodes, node);
                if settles(&choices) {
                    return Ok(Some(choices));
                }
                continue;
            }
            let steps = self.steps(place, ways)?;
            for (step, index) in steps.iter().zip(0..) {
                let from = &nodes[node];
                let (beats, changes) = (from.beats + step.beats, from.changes + step.changes);
                let Some((set, known)) = self.taken(from, step) else { continue };
                self.budget.spend(1)?;
                let known = self.known.id(known);
                self.budget.keep(self.known.grown())?;
                let matters = self.matters(step.to, set, known);
                if !self.asks_late {
                    let state = (step.to, matters);
                    if least.get(&state).is_some_and(|found| *found <= (beats, changes)) {
                        continue;
                    }
                    least.insert(state, (beats, changes));
                }
                let parent = Some((node, ways, index));
                nodes.push(Node { place: step.to, set, known, matters, beats, changes, parent });
                self.budget.keep(BYTES_OF_A_NODE)?;
                queue.push(Reverse(self.queued(nodes, nodes.len() - 1, 0)));
            }
            if ways < self.longest_way(place) {
                queue.push(Reverse(self.queued(nodes, node, ways + 1)));
            }
        }
        Ok(None)
    }

    /// A node in the queue, for a look at its ways of so many beats.
    fn queued(&self, nodes: &[Node], node: usize, ways: u32) -> Queued {
        let Node { place, beats, changes, .. } = nodes[node];
        let further = Reverse(self.section(place));
        Queued { beats: beats + ways, changes, further, node, ways }
    }

    /// The section that comes next at a place.
    fn section(&self, place: usize) -> usize {
        self.places[place].section
    }

    /// The most beats of the ways that may be chosen at a place; 0 where none may.
    pub(super) fn longest_way(&self, place: usize) -> u32 {
        match self.way_is_free(self.section(place)) {
            true => self.routine.transitions.beats,
            false => 0,
        }
    }

    /// Whether a section's way is free: an `Auto` junction that the routine leaves open.
    pub(super) fn way_is_free(&self, section: usize) -> bool {
        self.is_found(section, Freedom::Transition)
    }

    /// Whether the order of the multiplexes on a section's way is free: it is that of what `Auto`
    /// finds; what is written stays.
    pub(super) fn way_order_is_free(&self, section: usize) -> bool {
        self.is_found(section, Freedom::MultiplexOrder)
    }

    fn is_found(&self, section: usize, freedom: Freedom) -> bool {
        self.routine.juggle(section).is_some_and(|juggle| {
            juggle.is_free(freedom) && juggle.transition.value == Transition::Auto
        })
    }

    /// What of the knowledge decides how a node goes on. Where every prop has one look, looks that
    /// no later request names are as good as each other.
    fn matters(&mut self, place: usize, set: Option<usize>, known: u32) -> u32 {
        let section = self.section(place);
        let Some(set) = set.filter(|_| self.known.of(known).is_settled()) else { return known };
        let as_good = &self.as_good_as[section][set];
        let look = |mask: &LookMask| as_good[mask.trailing_zeros() as usize];
        let masks = self.known.of(known).masks.iter().map(look).collect();
        self.known.id(Domains { masks, ties: Vec::new() })
    }

    /// What a step demands this time.
    pub(super) fn demanded<'s>(&'s self, step: &'s Step) -> impl Iterator<Item = Demand> + 's {
        let asks = |by: Option<u16>| by.is_none_or(|by| self.asked[usize::from(by)]);
        step.demands.iter().filter(move |(by, _)| asks(*by)).map(|&(_, one)| one)
    }

    /// Takes a step with what is known of the props; `None` when no prop set can.
    fn taken(&self, node: &Node, step: &Step) -> Option<(Option<usize>, Domains)> {
        let known = self.known.of(node.known);
        let demands = || self.demanded(step);
        let (set, moved, mut domains) = match &step.props {
            Props::Moved(moved) => {
                // Most steps fail by a prop that is known already.
                if !demands().all(|demand| known.may(demand)) {
                    return None;
                }
                (node.set, moved, known.clone())
            }
            Props::Loaded { set, held, moved } => {
                if let (Some((right, left)), Some(before)) = (held, node.set) {
                    let looks = &self.looks[before];
                    if !known.is_possible_parted(looks, right, left) {
                        return None;
                    }
                }
                let looks = &self.looks[*set];
                (Some(*set), moved, Domains::open(looks.of_prop.len(), looks))
            }
        };
        if let Some(set) = set {
            let looks = &self.looks[set];
            if !demands().all(|demand| domains.demand(demand, looks))
                || (demands().next().is_some() && !domains.is_possible(looks))
            {
                return None;
            }
        }
        Some((set, domains.reordered(moved)))
    }

    /// What was chosen on the way to a node, in the order of the score.
    fn choices(&self, nodes: &[Node], mut node: usize) -> Vec<Choice> {
        let mut choices = Vec::new();
        while let Some((before, ways, index)) = nodes[node].parent {
            let step = self.places[nodes[before].place].step(ways, index);
            if let Some(chosen) = step.and_then(|step| step.choice.as_ref()) {
                choices.push(Choice {
                    section: chosen.section,
                    variant: chosen.variant,
                    starts: self.starts[chosen.section][chosen.starts].clone(),
                    way: chosen.way.as_deref().cloned(),
                });
            }
            node = before;
        }
        choices.reverse();
        choices
    }
}
