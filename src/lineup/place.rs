//! The places of a search: where the routine stands before a section, colours apart, and the ways
//! on from there through that section.
//!
//! A place is made once, by driving the compiler; whatever comes to it again goes on alike, its
//! props in whatever order.

use std::collections::{HashMap, HashSet};
use std::rc::Rc;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Length, Part, Pause};
use crate::timeline::{Action, Decides, Draft, Loaded, Opened, Prop, WayIn, longest_way_in};

use super::Bound;
use super::demand::{Demand, Requirement, about, demands};
use super::search::{GaveUp, PLACE, Search, WAY};

/// More ways of so many beats into one section than this are not looked at.
pub const MOST_WAYS: usize = 50_000;

/// Where the routine stands before a section, colours apart.
pub(super) struct Place<'a> {
    draft: Draft<'a>,
    /// The section, an index into the score.
    pub(super) section: usize,
    /// The beats that its transition must have.
    lead_in: Option<u32>,
    /// The props that stand there, in a fixed order of their places.
    order: Vec<Prop>,
    /// After a natural loading, until each prop has been called for: those that were, in order.
    called: Option<Vec<Prop>>,
    /// The ways on, once they are made, by the beats of the ways.
    steps: Vec<Rc<[Step]>>,
}

impl Place<'_> {
    /// Every way on that was made.
    pub(super) fn made(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().flat_map(|steps| steps.iter())
    }

    /// The set that is juggled there.
    pub(super) fn set(&self) -> Option<usize> {
        self.draft.set()
    }

    /// How many props stand there.
    pub(super) fn props(&self) -> usize {
        self.order.len()
    }

    /// A way on that was made, of those with so many beats.
    pub(super) fn step(&self, ways: u32, index: u32) -> Option<&Step> {
        self.steps.get(ways as usize)?.get(index as usize)
    }
}

/// What tells places apart: what decides how a draft goes on, the beats that the next transition
/// must have, and the places of the props that a natural loading has called for.
pub(super) type PlaceKey = (Decides, Option<u32>, Option<Vec<u8>>);

/// A way on from a place, through a section.
pub(super) struct Step {
    pub(super) to: usize,
    pub(super) props: Props,
    /// Demanded of the props, by their places before the step or, loaded again, where the section's
    /// own first throw comes.
    pub(super) demands: Vec<Demanded>,
    pub(super) beats: u32,
    pub(super) changes: u32,
    /// What is chosen with it; nothing in a pause.
    pub(super) choice: Option<Chosen>,
}

/// A demand, with the request that it comes from, as an index into those of the search; `None` of
/// what a loading demands.
pub(super) type Demanded = (Option<u16>, Demand);

/// What becomes of the props in a step.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) enum Props {
    /// Place n is taken by what was at place `[n]`.
    Moved(Vec<u8>),
    /// A set is loaded again; where the hands must have held certain looks before, the right's and
    /// the left's. Place n is then taken by what was at place `[n]` at the own first throw.
    Loaded { set: usize, held: Option<(Vec<u8>, Vec<u8>)>, moved: Vec<u8> },
}

/// A choice in a section.
#[derive(Clone)]
pub(super) struct Chosen {
    pub(super) section: usize,
    pub(super) variant: usize,
    /// The colours with which its lists start, as an index into those of the section.
    pub(super) starts: usize,
    /// The way into it, where that or its order was free: its throws, and the hand of its own first
    /// throw.
    pub(super) way: Option<Rc<(Sequence, Option<Hand>)>>,
}

/// What becomes of a section from its own first throw on.
struct Onward {
    to: usize,
    /// Place n is taken by what was at place `[n]` then.
    moved: Vec<u8>,
    /// What is demanded of the props, by their places then, for each way in which the lists start.
    demands: Vec<Vec<Demanded>>,
}

/// A section as it is juggled in one of its variants.
#[derive(Clone, Copy)]
struct Juggled {
    section: usize,
    variant: usize,
}

impl<'a> Search<'a> {
    /// The ways on from a place, those into a section that is free in it with so many beats.
    pub(super) fn steps(&mut self, place: usize, ways: u32) -> Result<Rc<[Step]>, GaveUp> {
        if let Some(steps) = self.places[place].steps.get(ways as usize) {
            return Ok(Rc::clone(steps));
        }
        let section = self.places[place].section;
        let steps = match &self.routine.score[section].part {
            Part::Pause(pause) => self.pause(place, section, pause)?,
            Part::Juggle(_) => self.through(place, section, ways)?,
            Part::Unread(_) => Vec::new(),
        };
        let bytes = |step: &Step| {
            let way = step.choice.as_ref().map_or(0, |chosen| usize::from(chosen.way.is_some()));
            size_of::<Step>() + 64 + step.demands.len() * size_of::<Demanded>() + way * 100
        };
        self.budget.keep(steps.iter().map(bytes).sum())?;
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
            let order = self.places[place].order.clone();
            let (to, now) = self.place(draft, section + 1, lead_in, None)?;
            let props = Props::Moved(from(&order, &now));
            steps.push(Step { to, props, demands: vec![], beats: 0, changes: 0, choice: None });
        }
        Ok(steps)
    }

    /// The ways through a section, one for each way in which props may come out of it.
    fn through(&mut self, place: usize, section: usize, beats: u32) -> Result<Vec<Step>, GaveUp> {
        let mut steps = Vec::new();
        let mut known = HashSet::new();
        let lead_in = self.places[place].lead_in;
        let variants = self.variants;
        for (variant, option) in variants[section].iter().enumerate() {
            let juggle = &option.juggle;
            let draft = self.places[place].draft.clone();
            let Some((draft, loaded)) = draft.arrive(section, juggle) else { continue };
            let of = Juggled { section, variant };
            let mut onwards: HashMap<_, Rc<[Onward]>> = HashMap::new();
            for (way, is_reordered) in self.ways(&draft, of, beats)? {
                if lead_in.is_some_and(|lead_in| lead_in != way.beats()) {
                    continue;
                }
                self.budget.spend(WAY)?;
                let beats = way.beats();
                let written =
                    (self.way_is_free(section) || is_reordered).then(|| Rc::new(way.written()));
                let glimpse = match self.asks_late {
                    true => None,
                    false => draft.glimpse(section, juggle, &way),
                };
                let seen = glimpse.map(|glimpse| {
                    let called = self.called(place, loaded, &glimpse.thrown);
                    let called = called.map(|called| from(&glimpse.order, &called));
                    ((glimpse.opening, called), glimpse.order)
                });
                let done = seen.as_ref().and_then(|(key, order)| {
                    Some((order.clone(), Rc::clone(onwards.get(key)?), Vec::new(), None))
                });
                let (order, onward, loading, loads) = match done {
                    Some(done) => done,
                    None => {
                        self.budget.spend(PLACE)?;
                        let held = draft.in_hands();
                        let Some((draft, opened)) = draft.clone().enter(section, juggle, way)
                        else {
                            continue;
                        };
                        let Some((loading, loads)) = self.loaded(&draft, &opened, loaded, held)
                        else {
                            continue;
                        };
                        let called = self.called(place, loaded, &opened.thrown);
                        let (onward, throws_all) = self.juggle(&draft, &opened, of, called)?;
                        let onward: Rc<[Onward]> = onward.into();
                        if let Some((key, _)) = seen.filter(|_| throws_all) {
                            onwards.insert(key, Rc::clone(&onward));
                        }
                        (opened.order, onward, loading, loads)
                    }
                };
                let before = from(&self.places[place].order, &order);
                for onward in &*onward {
                    for (starts, demanded) in onward.demands.iter().enumerate() {
                        let mut demands = loading.clone();
                        let props = match &loads {
                            Some((set, held)) => {
                                demands.extend(demanded);
                                let moved = onward.moved.clone();
                                Props::Loaded { set: *set, held: held.clone(), moved }
                            }
                            None => {
                                let here = |now: u8| before[usize::from(now)];
                                let at = |(by, demand): &Demanded| (*by, demand.at(here));
                                demands.extend(demanded.iter().map(at));
                                Props::Moved(onward.moved.iter().map(|&now| here(now)).collect())
                            }
                        };
                        demands.sort_unstable();
                        demands.dedup();
                        // Of ways that bring every prop to the same place the first is as good as
                        // all.
                        let result = (onward.to, props, demands);
                        if known.contains(&result) {
                            continue;
                        }
                        let later = self.starts[section][starts].iter().filter(|&&at| at > 0);
                        let later = u32::try_from(later.count()).unwrap_or(u32::MAX);
                        let changes = option.changes() + u32::from(is_reordered) + later;
                        let way = written.clone();
                        let choice = Some(Chosen { section, variant, starts, way });
                        known.insert(result.clone());
                        let (to, props, demands) = result;
                        steps.push(Step { to, props, demands, beats, changes, choice });
                    }
                }
            }
        }
        Ok(steps)
    }

    /// The ways into a section, each with whether its multiplexes are in another order than found.
    fn ways(
        &self,
        draft: &Draft<'a>,
        of: Juggled,
        beats: u32,
    ) -> Result<Vec<(WayIn, bool)>, GaveUp> {
        let juggle = &self.variants[of.section][of.variant].juggle;
        let ways = match self.way_is_free(of.section) {
            true => draft.ways_in(of.section, juggle, beats, MOST_WAYS),
            false => draft.planned(of.section, juggle).into_iter().collect(),
        };
        let mut ways: Vec<(WayIn, bool)> = ways.into_iter().map(|way| (way, false)).collect();
        if self.way_order_is_free(of.section) {
            for found in 0..ways.len() {
                let others = ways[found].0.other_orders(MOST_WAYS.saturating_sub(ways.len()));
                ways.extend(others.into_iter().map(|way| (way, true)));
            }
        }
        if ways.len() >= MOST_WAYS {
            return Err(GaveUp(Bound::Ways(of.section)));
        }
        Ok(ways)
    }

    /// The props that a natural loading has called for once these throws are made.
    fn called(&self, place: usize, loaded: Option<Loaded>, thrown: &[Action]) -> Option<Vec<Prop>> {
        let mut called = match loaded {
            Some(Loaded::Natural) => Vec::new(),
            Some(_) => return None,
            None => self.places[place].called.clone()?,
        };
        call(&mut called, thrown);
        Some(called)
    }

    /// What a loading demands of the props by their places at the own first throw, and the set that
    /// is loaded with what the hands must hold before; nothing where props go on. `None` where the
    /// hands do not hold as many.
    #[expect(clippy::type_complexity, reason = "two answers that belong together")]
    fn loaded(
        &self,
        draft: &Draft<'a>,
        opened: &Opened,
        loaded: Option<Loaded>,
        held: Option<(usize, usize)>,
    ) -> Option<(Vec<Demanded>, Option<(usize, Option<(Vec<u8>, Vec<u8>)>)>)> {
        let set = draft.set()?;
        let looks = &self.looks[set];
        let look = |prop: &Prop| looks.of_prop.get(usize::from(prop.0)).copied().unwrap_or(0);
        let as_loaded = || {
            let places = (0_u8..).zip(&opened.order);
            places.map(|(place, prop)| (None, Demand::Is(place, 1 << look(prop)))).collect()
        };
        Some(match loaded {
            None | Some(Loaded::Kept) => (Vec::new(), None),
            Some(Loaded::Ordered) => {
                let hands = draft.loading().cloned().unwrap_or_default();
                let of = |hand| hands.in_hand(hand).iter().map(look).collect::<Vec<u8>>();
                let (right, left) = (of(Hand::Right), of(Hand::Left));
                if held != Some((right.len(), left.len())) {
                    return None;
                }
                (as_loaded(), Some((set, Some((right, left)))))
            }
            Some(Loaded::Written | Loaded::Regripped) => (as_loaded(), Some((set, None))),
            Some(Loaded::Natural | Loaded::Found) => (Vec::new(), Some((set, None))),
        })
    }

    /// What becomes of a section from its own first throw on, and whether it throws every prop.
    fn juggle(
        &mut self,
        draft: &Draft<'a>,
        opened: &Opened,
        of: Juggled,
        called: Option<Vec<Prop>>,
    ) -> Result<(Vec<Onward>, bool), GaveUp> {
        let Juggled { section, variant } = of;
        let variants = self.variants;
        let juggle = &variants[section][variant].juggle;
        let order = &opened.order;
        let mut onwards = Vec::new();
        let mut throws_all = true;
        for lead_in in self.lead_ins(section, &juggle.lasts.value) {
            let mut called = called.clone();
            let draft = draft.clone().juggle(section, juggle, opened, lead_in);
            let Some((draft, own, face)) = draft else { continue };
            let Some(looks) = draft.set().map(|set| &self.looks[set]) else { continue };
            let thrown: HashSet<Prop> =
                own.iter().filter(|made| made.is_release()).filter_map(|made| made.prop).collect();
            throws_all &= order.iter().all(|prop| thrown.contains(prop));
            let here = |prop: u8| {
                let at = order.iter().position(|&other| other.0 == prop).unwrap_or(0);
                u8::try_from(at).unwrap_or(u8::MAX)
            };
            let mut always: Vec<Demanded> = Vec::new();
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
                    always.extend(
                        looks.map(|(prop, &look)| (None, Demand::Is(here(prop.0), 1 << look))),
                    );
                    called = None;
                }
            }
            let asked: Vec<(u16, Requirement)> = (0_u16..)
                .zip(self.requirements.iter().copied())
                .filter(|&(_, asked)| about(self.routine, asked) == Some(section))
                .collect();
            let of_starts = |starts: &Vec<usize>| {
                let of = |&(by, asked): &(u16, Requirement)| {
                    let all = demands(self.routine, asked, juggle, (looks, face), &own, starts);
                    all.into_iter().map(move |asked| (Some(by), asked.demand))
                };
                let all = asked.iter().flat_map(of).map(|(by, demand)| (by, demand.at(here)));
                let mut demands: Vec<Demanded> = always.iter().copied().chain(all).collect();
                demands.sort_unstable();
                demands.dedup();
                demands
            };
            let demands: Vec<Vec<Demanded>> = self.starts[section].iter().map(of_starts).collect();
            let (to, now) = self.place(draft, section + 1, lead_in, called)?;
            onwards.push(Onward { to, moved: from(order, &now), demands });
        }
        Ok((onwards, throws_all))
    }

    /// The index of a place, a new one if it is not known yet, and the props of this draft in the
    /// order of their places there: the draft that a known place keeps may call them otherwise.
    pub(super) fn place(
        &mut self,
        draft: Draft<'a>,
        section: usize,
        lead_in: Option<u32>,
        called: Option<Vec<Prop>>,
    ) -> Result<(usize, Vec<Prop>), GaveUp> {
        let order = draft.places();
        let called_at = called.as_ref().map(|called| from(&order, called));
        let key = (draft.decides(section), lead_in, called_at);
        // What is asked of the whole run makes every way to a place another one.
        if let Some(&known) = self.known_places.get(&key).filter(|_| !self.asks_late) {
            return Ok((known, order));
        }
        self.budget.keep(draft.bytes() + 500)?;
        self.known_places.insert(key, self.places.len());
        let now = order.clone();
        self.places.push(Place { draft, section, lead_in, order, called, steps: Vec::new() });
        Ok((self.places.len() - 1, now))
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
