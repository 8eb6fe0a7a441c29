//! The search through what the sections leave open: cheapest first, and exact.
//!
//! A *place* is where the routine stands, colours apart: what is due in which hand and how it goes
//! on. A *node* is a place together with what is known of the props that stand there: the looks
//! that each may still have. Two nodes at one place of which the same is known go on alike, so the
//! later one is dropped; props of one look are never told apart. Nodes are taken by their cost:
//! beats of transition, then the number of things that are otherwise than written.

use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::{BTreeSet, BinaryHeap, HashMap};
use std::rc::Rc;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Freedom, Length, Part, Pause, Routine, Section, Transition};
use crate::timeline::{Action, Draft, Face, Loaded, Opening, Prop, WayIn, longest_way_in};

use super::colouring::Domains;
use super::demand::{Demand, Requirement, Wanted, about, demands, juggle_at};
use super::looks::{LookMask, Looks};
use super::options::{Variant, starts, variants};

/// How much is gone through: nodes, a place counting for as many as it costs more to make.
#[derive(Clone, Debug)]
pub(super) struct Budget(Cell<usize>);

/// A place costs about as much as so many nodes.
const PLACE: usize = 40;

impl Budget {
    /// For the choices of a routine.
    pub(super) fn whole() -> Budget {
        Budget(Cell::new(6_000_000))
    }

    /// For saying why there are none, and what would help.
    pub(super) fn explaining() -> Budget {
        Budget(Cell::new(600_000))
    }

    fn spend(&self, much: usize) -> Result<(), GaveUp> {
        self.0.set(self.0.get().checked_sub(much).ok_or(GaveUp)?);
        Ok(())
    }
}

/// More ways into one section than this are not looked at.
const MOST_WAYS: usize = 2_000_000;

/// What is chosen for a section.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Choice {
    /// The section, as an index into the score.
    pub(super) section: usize,
    /// The variant of it.
    pub(super) variant: usize,
    /// The colour with which each of its lists starts.
    pub(super) starts: Vec<usize>,
    /// The way into it, where that was free: its throws, and the hand of its own first throw.
    pub(super) way: Option<(Sequence, Option<Hand>)>,
}

/// Too many possibilities to go through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct GaveUp;

/// Where the routine stands, colours apart.
struct Place<'a> {
    draft: Draft<'a>,
    at: At,
    /// The props that stand there, in a fixed order of their places.
    order: Vec<Prop>,
    /// After a natural loading, until each prop has been called for: those that were, in order.
    called: Option<Vec<Prop>>,
    /// The ways on, once they are made, by the beats of the ways.
    steps: Vec<Rc<[Step]>>,
}

#[derive(Clone)]
enum At {
    /// Before a section. `lead_in`: the beats that its transition must have.
    Before { section: usize, lead_in: Option<u32> },
    /// A section's transition is thrown.
    Opened { section: usize, variant: usize, opening: Box<Opening> },
}

/// A way on from a place.
#[derive(Clone)]
struct Step {
    to: usize,
    props: Props,
    /// Demanded of the props, by their places before the step or, loaded anew, after it.
    demands: Vec<Demand>,
    beats: u32,
    changes: u32,
    choice: Chosen,
}

/// What becomes of the props in a step.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Props {
    /// Place n is taken by what was at place `[n]`.
    Moved(Vec<u8>),
    /// A set is loaded anew; where the hands must have held certain looks before, the right's and
    /// the left's.
    Loaded { set: usize, held: Option<(Vec<u8>, Vec<u8>)> },
}

/// A part of a choice.
#[derive(Clone)]
enum Chosen {
    Nothing,
    Way { section: usize, variant: usize, way: Option<(Sequence, Option<Hand>)> },
    Starts(Vec<usize>),
}

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
    routine: &'a Routine,
    requirements: &'a [Requirement],
    variants: &'a [Vec<Variant>],
    budget: &'a Budget,
    starts: Vec<Vec<Vec<usize>>>,
    /// For each set its looks.
    looks: Vec<Looks>,
    places: Vec<Place<'a>>,
    known_places: HashMap<String, usize>,
    /// See [`as_good_as`].
    as_good_as: Vec<Vec<Vec<LookMask>>>,
    /// Whether something is asked of catches that only the whole run tells.
    asks_late: bool,
}

/// The variants of every section; a pause has none.
pub(super) fn all_variants(routine: &Routine) -> Result<Vec<Vec<Variant>>, GaveUp> {
    let of = |section: &Section| match &section.part {
        Part::Juggle(juggle) => variants(juggle).ok_or(GaveUp),
        Part::Pause(_) | Part::Unread => Ok(Vec::new()),
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
            Part::Pause(_) | Part::Unread => Ok(Vec::new()),
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

    /// A node in the queue, of which the ways of so many beats are to be looked at.
    fn queued(&self, nodes: &[Node], node: usize, ways: u32) -> Queued {
        let Node { place, beats, changes, .. } = nodes[node];
        let further = Reverse(self.section(place));
        Queued { beats: beats + ways, changes, further, node, ways }
    }

    /// The section that comes next at a place, or is opened there.
    fn section(&self, place: usize) -> usize {
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

    /// Whether a section's way is free: an `Auto` junction of which the routine says so.
    fn way_is_free(&self, section: usize) -> bool {
        juggle_at(self.routine, section).is_some_and(|juggle| {
            juggle.is_free(Freedom::Transition) && juggle.transition.value == Transition::Auto
        })
    }

    /// What of a node decides how it goes on. Where every prop has one look, looks of which nothing
    /// more is asked are as good as each other.
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

    /// The ways on from a place, those into a section that is free in it with so many beats.
    fn steps(&mut self, place: usize, ways: u32) -> Result<Rc<[Step]>, GaveUp> {
        if let Some(steps) = self.places[place].steps.get(ways as usize) {
            return Ok(Rc::clone(steps));
        }
        let steps = match self.places[place].at.clone() {
            At::Before { section, lead_in } => match &self.routine.score[section].part {
                Part::Pause(pause) => self.pause(place, section, pause)?,
                Part::Juggle(_) => self.ways_in(place, section, lead_in, ways)?,
                Part::Unread => Vec::new(),
            },
            At::Opened { section, variant, opening } => {
                self.juggle(place, section, variant, &opening)?
            }
        };
        // Beats are looked at one after another, so these are the next.
        let steps: Rc<[Step]> = steps.into();
        self.places[place].steps.push(Rc::clone(&steps));
        Ok(steps)
    }

    /// The beats that the next section's transition may have, where this one's length hangs on a
    /// choice there.
    fn lead_ins(&self, section: usize, lasts: &Length) -> Vec<Option<u32>> {
        let next = juggle_at(self.routine, section + 1);
        match next.filter(|next| !next.free.is_empty() && matches!(lasts, Length::Until(_))) {
            Some(next) => (0..=longest_way_in(self.routine, next)).map(Some).collect(),
            None => vec![None],
        }
    }

    fn pause(&mut self, place: usize, section: usize, pause: &Pause) -> Result<Vec<Step>, GaveUp> {
        let mut steps = Vec::new();
        for lead_in in self.lead_ins(section, &pause.lasts.value) {
            let draft = self.places[place].draft.clone();
            let Some(draft) = draft.pause(section, pause, lead_in) else { continue };
            let at = At::Before { section: section + 1, lead_in };
            let (order, called) = (self.places[place].order.clone(), None);
            let (to, now) = self.place(draft, at, called)?;
            steps.push(Step::to(to, Props::Moved(from(&order, &now))));
        }
        Ok(steps)
    }

    /// The ways into a section, one for each way in which props may come to it.
    fn ways_in(
        &mut self,
        place: usize,
        section: usize,
        lead_in: Option<u32>,
        beats: u32,
    ) -> Result<Vec<Step>, GaveUp> {
        let mut steps = Vec::new();
        let mut known = BTreeSet::new();
        let free = self.way_is_free(section);
        let variants = self.variants;
        for (variant, option) in variants[section].iter().enumerate() {
            let juggle = &option.juggle;
            let draft = self.places[place].draft.clone();
            let Some((draft, loaded)) = draft.arrive(section, juggle) else { continue };
            let ways = match free {
                true => draft.ways_in(section, juggle, beats, MOST_WAYS),
                false => draft.planned(section, juggle).into_iter().collect(),
            };
            if ways.len() >= MOST_WAYS {
                return Err(GaveUp);
            }
            for way in ways {
                if lead_in.is_some_and(|lead_in| lead_in != way.beats()) {
                    continue;
                }
                let written = free.then(|| way.written());
                let beats = way.beats();
                let Some(step) = self.enter(place, section, variant, &draft, loaded, way)? else {
                    continue;
                };
                // Of ways that bring every prop to the same place the first is as good as all.
                if known.insert((step.to, step.props.clone())) {
                    let changes = option.changes();
                    let choice = Chosen::Way { section, variant, way: written };
                    steps.push(Step { beats, changes, choice, ..step });
                }
            }
        }
        Ok(steps)
    }

    fn enter(
        &mut self,
        place: usize,
        section: usize,
        variant: usize,
        draft: &Draft<'a>,
        loaded: Option<Loaded>,
        way: WayIn,
    ) -> Result<Option<Step>, GaveUp> {
        let variants = self.variants;
        let juggle = &variants[section][variant].juggle;
        let held = draft.in_hands();
        let Some((draft, opening, thrown)) = draft.clone().enter(section, juggle, way) else {
            return Ok(None);
        };
        let from_here = &self.places[place];
        let (order, set) = (from_here.order.clone(), draft.set());
        let mut called = match loaded {
            Some(Loaded::Natural) => Some(Vec::new()),
            Some(_) => None,
            None => from_here.called.clone(),
        };
        if let Some(called) = &mut called {
            call(called, &thrown);
        }
        let hands = draft.loading().cloned().unwrap_or_default();
        let at = At::Opened { section, variant, opening: Box::new(opening) };
        let (to, now) = self.place(draft, at, called)?;
        let Some(set) = set else { return Ok(None) };
        let looks = &self.looks[set];
        let look = |prop: &Prop| looks.of_prop.get(usize::from(prop.0)).copied().unwrap_or(0);
        let as_loaded = || {
            let places = (0_u8..).zip(&now);
            places.map(|(place, prop)| Demand::Is(place, 1 << look(prop))).collect()
        };
        Ok(Some(match loaded {
            None | Some(Loaded::Kept) => Step::to(to, Props::Moved(from(&order, &now))),
            Some(Loaded::Ordered) => {
                let of = |hand| hands.in_hand(hand).iter().map(look).collect::<Vec<u8>>();
                let (right, left) = (of(Hand::Right), of(Hand::Left));
                if held != Some((right.len(), left.len())) {
                    return Ok(None);
                }
                let props = Props::Loaded { set, held: Some((right, left)) };
                Step { demands: as_loaded(), ..Step::to(to, props) }
            }
            Some(Loaded::Written | Loaded::Regripped) => {
                let demands = as_loaded();
                Step { demands, ..Step::to(to, Props::Loaded { set, held: None }) }
            }
            Some(Loaded::Natural | Loaded::Found) => {
                Step::to(to, Props::Loaded { set, held: None })
            }
        }))
    }

    fn juggle(
        &mut self,
        place: usize,
        section: usize,
        variant: usize,
        opening: &Opening,
    ) -> Result<Vec<Step>, GaveUp> {
        let variants = self.variants;
        let juggle = &variants[section][variant].juggle;
        let mut steps = Vec::new();
        for lead_in in self.lead_ins(section, &juggle.lasts.value) {
            let Place { draft, order, called, .. } = &self.places[place];
            let (order, mut called) = (order.clone(), called.clone());
            let draft = draft.clone().juggle(section, juggle, opening, lead_in);
            let Some((draft, own, face)) = draft else { continue };
            let Some(looks) = draft.set().map(|set| &self.looks[set]) else { continue };
            let here = |prop: u8| {
                let at = order.iter().position(|&other| other.0 == prop).unwrap_or(0);
                u8::try_from(at).unwrap_or(u8::MAX)
            };
            let mut always = Vec::new();
            if let Some(order) = &mut called {
                call(order, &own);
                if draft.is_at_rest() {
                    // Props that the run never called for come last, in their old order.
                    let all = (0_u8..).map(Prop).take(looks.of_prop.len());
                    let never: Vec<Prop> = all.filter(|prop| !order.contains(prop)).collect();
                    order.extend(never);
                }
                if order.len() >= looks.of_prop.len() {
                    let looks = order.iter().zip(&looks.of_prop);
                    always.extend(looks.map(|(prop, &look)| Demand::Is(here(prop.0), 1 << look)));
                    called = None;
                }
            }
            let asked: Vec<Requirement> = self
                .requirements
                .iter()
                .copied()
                .filter(|&asked| about(self.routine, asked) == Some(section))
                .collect();
            let mut options: Vec<(usize, Vec<Demand>)> = Vec::new();
            for (index, starts) in self.starts[section].iter().enumerate() {
                let of = |&asked: &Requirement| {
                    demands(self.routine, asked, juggle, (looks, face), &own, starts)
                };
                let all = asked.iter().flat_map(of).map(|asked| asked.demand.at(here));
                let mut demands: Vec<Demand> = always.iter().copied().chain(all).collect();
                demands.sort_unstable();
                demands.dedup();
                options.push((index, demands));
            }
            let at = At::Before { section: section + 1, lead_in };
            let (to, now) = self.place(draft, at, called)?;
            let props = Props::Moved(from(&order, &now));
            for (index, demands) in options {
                let starts = self.starts[section][index].clone();
                let later = starts.iter().filter(|&&start| start > 0).count();
                let changes = u32::try_from(later).unwrap_or(u32::MAX);
                let choice = Chosen::Starts(starts);
                steps.push(Step { demands, changes, choice, ..Step::to(to, props.clone()) });
            }
        }
        Ok(steps)
    }

    /// The index of a place, a new one if it is not known yet, and the props of this draft in the
    /// order of their places there: the draft that a known place keeps may call them otherwise.
    fn place(
        &mut self,
        draft: Draft<'a>,
        at: At,
        called: Option<Vec<Prop>>,
    ) -> Result<(usize, Vec<Prop>), GaveUp> {
        let (order, mut key) = match &at {
            At::Before { section, lead_in } => {
                (draft.places(), format!("{lead_in:?};{}", draft.key(*section, None)))
            }
            At::Opened { section, variant, opening } => {
                let key = format!("{variant};{}", draft.key(*section, Some(opening)));
                (draft.places_at(opening), format!("opened {key}"))
            }
        };
        if let Some(called) = &called {
            key.push_str(&format!("{:?}", from(&order, called)));
        }
        if let Some(&known) = self.known_places.get(&key) {
            return Ok((known, order));
        }
        self.budget.spend(PLACE)?;
        self.known_places.insert(key, self.places.len());
        let now = order.clone();
        self.places.push(Place { draft, at, order, called, steps: Vec::new() });
        Ok((self.places.len() - 1, now))
    }
}

impl Step {
    fn to(to: usize, props: Props) -> Step {
        let choice = Chosen::Nothing;
        Step { to, props, demands: Vec::new(), beats: 0, changes: 0, choice }
    }
}

/// For each of the props its place in the order before.
fn from(before: &[Prop], now: &[Prop]) -> Vec<u8> {
    let place = |prop: &Prop| before.iter().position(|other| other == prop).unwrap_or(0);
    now.iter().map(|prop| u8::try_from(place(prop)).unwrap_or(u8::MAX)).collect()
}

/// Notes the props that throws call for, in order.
fn call(called: &mut Vec<Prop>, actions: &[Action]) {
    for prop in actions.iter().filter_map(|action| action.prop) {
        if !called.contains(&prop) {
            called.push(prop);
        }
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

/// For each section and set, for each look the looks (as one of them) of which the same is asked
/// from that section on.
fn as_good_as(
    routine: &Routine,
    requirements: &[Requirement],
    looks: &[Looks],
) -> Vec<Vec<Vec<LookMask>>> {
    let ordered = |section: &Section| match &section.part {
        Part::Juggle(juggle) => juggle.loading.is_some(),
        Part::Pause(_) | Part::Unread => false,
    };
    let last_loading = routine.score.iter().rposition(ordered);
    let of = |section: usize| {
        let mut colours: Vec<usize> = Vec::new();
        let mut all = last_loading.is_some_and(|last| last >= section);
        for asked in requirements {
            if about(routine, *asked).is_some_and(|about| about < section) {
                continue;
            }
            let seen = juggle_at(routine, asked.section).map(|juggle| &juggle.seen);
            match (asked.wanted, seen) {
                (Wanted::Shown(index), Some(seen)) => {
                    let named = seen.shows.get(index).into_iter().flat_map(|list| &list.colours);
                    colours.extend(named.filter_map(|name| routine.colour(&name.value)));
                }
                (Wanted::Caught(index), Some(seen)) => {
                    let named = seen.caught.get(index).map(|caught| &caught.colour.value);
                    colours.extend(named.and_then(|name| routine.colour(name)));
                }
                _ => all = true,
            }
        }
        let one = |looks: &Looks| {
            let alike = |look: usize| -> Vec<bool> {
                let faces = [Face::Front, Face::Back];
                let shown = faces
                    .iter()
                    .flat_map(|&face| colours.iter().map(move |&c| looks.showing(c, face)));
                shown.map(|mask| mask >> look & 1 == 1).collect()
            };
            let first = |look: usize| (0..look).find(|&other| alike(other) == alike(look));
            let rep = |look: usize| if all { look } else { first(look).unwrap_or(look) };
            (0..looks.len()).map(|look| 1 << rep(look)).collect()
        };
        looks.iter().map(one).collect()
    };
    (0..=routine.score.len()).map(of).collect()
}
