//! The places of a search: where the routine stands, colours apart, and the ways on from there.
//!
//! A place is made once, by driving the compiler; whatever comes to it again goes on alike, its
//! props in whatever order.

use std::collections::BTreeSet;
use std::rc::Rc;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Length, Part, Pause};
use crate::timeline::{Action, Draft, Loaded, Opening, Prop, WayIn, longest_way_in};

use super::demand::{Demand, Requirement, about, demands};
use super::search::{GaveUp, PLACE, Search};

/// More ways into one section than this are not looked at.
const MOST_WAYS: usize = 2_000_000;

/// Where the routine stands, colours apart.
pub(super) struct Place<'a> {
    pub(super) draft: Draft<'a>,
    pub(super) at: At,
    /// The props that stand there, in a fixed order of their places.
    pub(super) order: Vec<Prop>,
    /// After a natural loading, until each prop has been called for: those that were, in order.
    pub(super) called: Option<Vec<Prop>>,
    /// The ways on, once they are made, by the beats of the ways.
    pub(super) steps: Vec<Rc<[Step]>>,
}

#[derive(Clone)]
pub(super) enum At {
    /// Before a section. `lead_in`: the beats that its transition must have.
    Before { section: usize, lead_in: Option<u32> },
    /// A section's transition is thrown.
    Opened { section: usize, variant: usize, opening: Box<Opening> },
}

/// A way on from a place.
#[derive(Clone)]
pub(super) struct Step {
    pub(super) to: usize,
    pub(super) props: Props,
    /// Demanded of the props, by their places before the step or, loaded again, after it.
    pub(super) demands: Vec<Demand>,
    pub(super) beats: u32,
    pub(super) changes: u32,
    pub(super) choice: Chosen,
}

/// What becomes of the props in a step.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Props {
    /// Place n is taken by what was at place `[n]`.
    Moved(Vec<u8>),
    /// A set is loaded again; where the hands must have held certain looks before, the right's and
    /// the left's.
    Loaded { set: usize, held: Option<(Vec<u8>, Vec<u8>)> },
}

/// A part of a choice.
#[derive(Clone)]
pub(super) enum Chosen {
    Nothing,
    Way { section: usize, variant: usize, way: Option<(Sequence, Option<Hand>)> },
    Starts(Vec<usize>),
}

impl<'a> Search<'a> {
    /// The ways on from a place, those into a section that is free in it with so many beats.
    pub(super) fn steps(&mut self, place: usize, ways: u32) -> Result<Rc<[Step]>, GaveUp> {
        if let Some(steps) = self.places[place].steps.get(ways as usize) {
            return Ok(Rc::clone(steps));
        }
        let steps = match self.places[place].at.clone() {
            At::Before { section, lead_in } => match &self.routine.score[section].part {
                Part::Pause(pause) => self.pause(place, section, pause)?,
                Part::Juggle(_) => self.ways_in(place, section, lead_in, ways)?,
                Part::Unread(_) => Vec::new(),
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
        let next = self.routine.juggle(section + 1);
        match next.filter(|next| !next.free.is_empty() && lasts.until().is_some()) {
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
            let mut ways: Vec<(WayIn, bool)> = ways.into_iter().map(|way| (way, false)).collect();
            if self.way_order_is_free(section) {
                for found in 0..ways.len() {
                    let others = ways[found].0.other_orders(MOST_WAYS.saturating_sub(ways.len()));
                    ways.extend(others.into_iter().map(|way| (way, true)));
                }
            }
            if ways.len() >= MOST_WAYS {
                return Err(GaveUp);
            }
            for (way, is_reordered) in ways {
                if lead_in.is_some_and(|lead_in| lead_in != way.beats()) {
                    continue;
                }
                let written = (free || is_reordered).then(|| way.written());
                let beats = way.beats();
                let Some(step) = self.enter(place, section, variant, &draft, loaded, way)? else {
                    continue;
                };
                // Of ways that bring every prop to the same place the first is as good as all.
                if known.insert((step.to, step.props.clone())) {
                    let changes = option.changes() + u32::from(is_reordered);
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
    pub(super) fn place(
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
