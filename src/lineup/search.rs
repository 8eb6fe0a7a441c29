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
use std::rc::Rc;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Freedom, Part, Routine, Section, Transition};
use crate::timeline::Draft;

use super::as_good::as_good_as;
use super::colouring::Domains;
use super::demand::{Requirement, about};
use super::looks::{LookMask, Looks};
use super::options::{Variant, starts, variants};
use super::place::{At, Chosen, Place, Props, Step};

/// How much is gone through: nodes, a place counting for as many as it costs more to make.
#[derive(Clone, Debug)]
pub(super) struct Budget(Cell<usize>);

/// A place costs about as much as so many nodes.
pub(super) const PLACE: usize = 40;

impl Budget {
    /// For the choices of a routine.
    pub(super) fn whole() -> Budget {
        Budget(Cell::new(6_000_000))
    }

    /// For saying why there are none, and what would help.
    pub(super) fn explaining() -> Budget {
        Budget(Cell::new(600_000))
    }

    pub(super) fn spend(&self, much: usize) -> Result<(), GaveUp> {
        self.0.set(self.0.get().checked_sub(much).ok_or(GaveUp)?);
        Ok(())
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

/// Too many possibilities to go through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct GaveUp;

struct Node {
    place: usize,
    set: Option<usize>,
    domains: Domains,
    beats: u32,
    changes: u32,
    /// The node before, and the step from it.
    parent: Option<(usize, Rc<[Step]>, usize)>,
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
    pub(super) variants: &'a [Vec<Variant>],
    pub(super) budget: &'a Budget,
    pub(super) starts: Vec<Vec<Vec<usize>>>,
    /// For each set its looks.
    pub(super) looks: Vec<Looks>,
    pub(super) places: Vec<Place<'a>>,
    pub(super) known_places: HashMap<String, usize>,
    /// See [`as_good_as`].
    pub(super) as_good_as: Vec<Vec<Vec<LookMask>>>,
    /// Whether something is asked of catches that only the whole run tells.
    pub(super) asks_late: bool,
}

/// The variants of every section; a pause has none.
pub(super) fn all_variants(routine: &Routine) -> Result<Vec<Vec<Variant>>, GaveUp> {
    let of = |section: &Section| match &section.part {
        Part::Juggle(juggle) => variants(juggle).ok_or(GaveUp),
        Part::Pause(_) | Part::Unread(_) => Ok(Vec::new()),
    };
    routine.score.iter().map(of).collect()
}

impl<'a> Search<'a> {
    pub(super) fn new(
        routine: &'a Routine,
        requirements: &'a [Requirement],
        variants: &'a [Vec<Variant>],
        budget: &'a Budget,
    ) -> Result<Search<'a>, GaveUp> {
        let of = |section: &Section| match &section.part {
            Part::Juggle(juggle) => starts(juggle).ok_or(GaveUp),
            Part::Pause(_) | Part::Unread(_) => Ok(Vec::new()),
        };
        let starts = routine.score.iter().map(of).collect::<Result<_, _>>()?;
        let asks_late = requirements.iter().any(|&asked| about(routine, asked).is_none());
        let looks: Vec<Looks> =
            (0..routine.sets.len()).map(|set| Looks::of(routine, set)).collect();
        let as_good_as = as_good_as(routine, requirements, &looks);
        Ok(Search {
            routine,
            requirements,
            variants,
            budget,
            starts,
            looks,
            as_good_as,
            places: Vec::new(),
            known_places: HashMap::new(),
            asks_late,
        })
    }

    /// The cheapest choices that meet every requirement and that `settles` takes; `None` when there
    /// are none.
    pub(super) fn run(
        mut self,
        settles: impl Fn(&[Choice]) -> bool,
    ) -> Result<Option<Vec<Choice>>, GaveUp> {
        let draft = Draft::begin(self.routine, self.asks_late);
        let (first, _) = self.place(draft, At::Before { section: 0, lead_in: None }, None)?;
        let empty = Domains { masks: Vec::new(), ties: Vec::new() };
        let root =
            Node { place: first, set: None, domains: empty, beats: 0, changes: 0, parent: None };
        let mut nodes = vec![root];
        let mut queue = BinaryHeap::from([Reverse(self.queued(&nodes, 0, 0))]);
        // The least that it costs to come to a place with that known, as far as was found.
        let mut least: HashMap<(usize, Domains), (u32, u32)> = HashMap::new();
        while let Some(Reverse(Queued { node, ways, .. })) = queue.pop() {
            let from = &nodes[node];
            let (place, cost) = (from.place, (from.beats, from.changes));
            let section = self.section(place);
            let dearer = |found: &(u32, u32)| *found < cost;
            if !self.asks_late && least.get(&(place, self.matters(from))).is_some_and(dearer) {
                continue;
            }
            if section == self.routine.score.len() {
                let choices = choices(&nodes, node);
                if settles(&choices) {
                    return Ok(Some(choices));
                }
                continue;
            }
            let steps = self.steps(place, ways)?;
            for (index, step) in steps.iter().enumerate() {
                let from = &nodes[node];
                let Some((set, domains)) = self.taken(from, step) else { continue };
                let (beats, changes) = (from.beats + step.beats, from.changes + step.changes);
                let parent = Some((node, Rc::clone(&steps), index));
                let new = Node { place: step.to, set, domains, beats, changes, parent };
                if !self.asks_late {
                    let known = (step.to, self.matters(&new));
                    if least.get(&known).is_some_and(|found| *found <= (beats, changes)) {
                        continue;
                    }
                    least.insert(known, (beats, changes));
                }
                nodes.push(new);
                self.budget.spend(1)?;
                queue.push(Reverse(self.queued(&nodes, nodes.len() - 1, 0)));
            }
            if ways < self.longest_way(place) {
                queue.push(Reverse(self.queued(&nodes, node, ways + 1)));
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

    /// The section that comes next at a place, or is opened there.
    pub(super) fn section(&self, place: usize) -> usize {
        match self.places[place].at {
            At::Before { section, .. } | At::Opened { section, .. } => section,
        }
    }

    /// The most beats of the ways that may be chosen at a place; 0 where none may.
    fn longest_way(&self, place: usize) -> u32 {
        match self.places[place].at {
            At::Before { section, .. } if self.way_is_free(section) => {
                self.routine.transitions.beats
            }
            At::Before { .. } | At::Opened { .. } => 0,
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

    /// What decides how a node goes on. Where every prop has one look, looks that no later request
    /// names are as good as each other.
    fn matters(&self, node: &Node) -> Domains {
        let mut domains = node.domains.clone();
        let Some(set) = node.set.filter(|_| domains.is_settled()) else { return domains };
        let section = self.section(node.place);
        for mask in &mut domains.masks {
            *mask = self.as_good_as[section][set][mask.trailing_zeros() as usize];
        }
        domains.ties.clear();
        domains
    }

    /// Takes a step with what is known of the props; `None` when no prop set can.
    fn taken(&self, node: &Node, step: &Step) -> Option<(Option<usize>, Domains)> {
        let (set, mut domains) = match &step.props {
            Props::Moved(_) => (node.set, node.domains.clone()),
            Props::Loaded { set, held } => {
                if let (Some((right, left)), Some(before)) = (held, node.set) {
                    let looks = &self.looks[before];
                    if !node.domains.is_possible_parted(looks, right, left) {
                        return None;
                    }
                }
                (Some(*set), Domains::open(self.looks[*set].of_prop.len(), &self.looks[*set]))
            }
        };
        if let Some(set) = set {
            let looks = &self.looks[set];
            if !step.demands.iter().all(|&demand| domains.demand(demand, looks))
                || (!step.demands.is_empty() && !domains.is_possible(looks))
            {
                return None;
            }
        }
        if let Props::Moved(from) = &step.props {
            domains = domains.reordered(from);
        }
        Some((set, domains))
    }
}

/// What was chosen on the way to a node, in the order of the score.
fn choices(nodes: &[Node], mut node: usize) -> Vec<Choice> {
    let mut parts = Vec::new();
    while let Some((before, steps, index)) = &nodes[node].parent {
        parts.push(steps[*index].choice.clone());
        node = *before;
    }
    let mut choices: Vec<Choice> = Vec::new();
    for part in parts.into_iter().rev() {
        match part {
            Chosen::Nothing => {}
            Chosen::Way { section, variant, way } => {
                choices.push(Choice { section, variant, starts: Vec::new(), way });
            }
            Chosen::Starts(starts) => {
                if let Some(last) = choices.last_mut() {
                    last.starts = starts;
                }
            }
        }
    }
    choices
}
