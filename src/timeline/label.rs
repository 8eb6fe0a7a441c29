//! Which prop is where: follows every prop of a run from throw to throw.
//!
//! A run whose junctions fit never lacks a prop and never has one over. A run with a trouble is
//! followed all the same, so that later faults are found: [`Label::reseat`] puts its props where
//! the next section needs them.

use std::num::NonZeroU32;

use num_rational::Ratio;

use crate::hand::Hand;
use crate::notation::{Kind, Sequence, Step, WrittenThrow};
use crate::patterns::Schedule;
use crate::patterns::hands::ActionKind;
use crate::patterns::standing::Standing;
use crate::routine::{Juggle, Twos};
use crate::time::BeatPosition;

use super::course::{Course, Move};
use super::run::{Action, HandLoading, Prop};

/// A prop that is due to be thrown again.
#[derive(Clone, Copy, Debug)]
struct Waiting {
    prop: Prop,
    due: u32,
    standing: Standing,
    /// The action that threw it, to keep its due beat true through waits.
    by: Option<usize>,
}

/// Where a prop of a run stands, which prop it is apart: what decides when and in which order it
/// leaves, and where it comes to rest.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Due {
    /// Beats from now.
    due: i64,
    hand: Hand,
    /// Since when, in beats from now: of a held 2 it is earlier.
    came: i64,
    /// How many props of that hand would leave before it, were all due on one beat. What is thrown
    /// later stands behind all that came on the same beat.
    before: usize,
    /// When it was caught last, in parts of a beat from now.
    caught: Option<i64>,
    /// Where it was never caught: the prop, which comes to rest in its old order.
    never: Option<Prop>,
}

/// The run as far as it is followed.
#[derive(Clone, Debug)]
pub(super) struct Label {
    /// The run's next beat.
    pub(super) beat: u32,
    /// Everything that happened.
    pub(super) actions: Vec<Action>,
    waiting: [Vec<Waiting>; 2],
    /// The last catch of each prop, in parts of a beat (see [`CatchScale`]).
    caught: Vec<Option<i64>>,
    scale: CatchScale,
    /// The hand that alternating throws go on with; `None` after pairs.
    pub(super) next: Option<Hand>,
}

/// Catch positions as whole numbers: `2q` parts to the beat for a dwell ratio of p/q, so that a
/// catch n − 2p/q after its throw and one half a beat after it are both exact.
#[derive(Clone, Copy, Debug)]
struct CatchScale {
    p: i64,
    q: i64,
}

impl CatchScale {
    fn beats(self, beats: i64) -> i64 {
        2 * self.q * beats
    }

    fn catch(self, beat: u32, value: u8) -> i64 {
        let beat = i64::from(beat);
        match value {
            1 => self.q * (2 * beat + 1),
            _ => 2 * self.q * (beat + i64::from(value)) - 4 * self.p,
        }
    }
}

/// Whose throws these are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Belongs {
    /// Index of the section in the score.
    pub(super) section: u32,
    /// Whether its uncrossed 2s are thrown.
    pub(super) twos_are_thrown: bool,
}

impl Belongs {
    /// To that section.
    pub(super) fn to(section: usize, juggle: &Juggle) -> Belongs {
        let section = u32::try_from(section).unwrap_or(u32::MAX);
        Belongs { section, twos_are_thrown: juggle.twos == Twos::Thrown }
    }
}

impl Label {
    /// A run at its cold start: `called` says when each prop at rest is called for.
    pub(super) fn start(
        dwell: num_rational::Ratio<i64>,
        called: &Schedule,
        loading: &HandLoading,
    ) -> Label {
        let mut label = Label {
            beat: 0,
            actions: Vec::new(),
            waiting: [Vec::new(), Vec::new()],
            caught: Vec::new(),
            scale: CatchScale { p: *dwell.numer(), q: *dwell.denom() },
            next: None,
        };
        for hand in Hand::BOTH {
            let mut props = loading.in_hand(hand).iter().zip(0_u32..);
            for due in 0..called.span() {
                for (&prop, place) in props.by_ref().take(usize::from(called.due(hand, due))) {
                    let standing = Standing::at_rest(place);
                    label.waiting[hand.index()].push(Waiting { prop, due, standing, by: None });
                    label.note_prop(prop);
                }
            }
        }
        label
    }

    fn note_prop(&mut self, prop: Prop) {
        let index = usize::from(prop.0);
        if self.caught.len() <= index {
            self.caught.resize(index + 1, None);
        }
    }

    /// What is due from the next beat on.
    pub(super) fn schedule(&self) -> Schedule {
        let mut schedule = Schedule::empty();
        for hand in Hand::BOTH {
            for waiting in &self.waiting[hand.index()] {
                schedule.add(hand, waiting.due.saturating_sub(self.beat));
            }
        }
        schedule
    }

    /// The props in the order of their places: by the beat on which they are due, then by hand and
    /// by which leaves first.
    pub(super) fn places(&self) -> Vec<Prop> {
        self.standing().into_iter().map(|(.., waiting)| waiting.prop).collect()
    }

    fn standing(&self) -> Vec<(u32, Hand, &Waiting)> {
        let of = |hand: Hand| {
            self.waiting[hand.index()].iter().map(move |waiting| (waiting.due, hand, waiting))
        };
        let mut standing: Vec<_> = Hand::BOTH.into_iter().flat_map(of).collect();
        standing.sort_by_key(|&(due, hand, waiting)| (due, hand, waiting.standing));
        standing
    }

    /// What decides how the run goes on, which prop is which apart, in the order of
    /// [`Label::places`]; `caught` is when each was caught, which decides only the order in a gather.
    pub(super) fn due(&self, caught: bool) -> Vec<Due> {
        let now = i64::from(self.beat);
        let from_now = |beat: i64| if beat == Standing::AT_REST { beat } else { beat - now };
        let of = |(due, hand, waiting): (u32, Hand, &Waiting)| {
            let in_hand = self.waiting[hand.index()].iter();
            let before = in_hand.filter(|other| other.standing < waiting.standing).count();
            let last = self.caught.get(usize::from(waiting.prop.0)).copied().flatten();
            Due {
                due: i64::from(due) - now,
                hand,
                came: from_now(waiting.standing.came),
                before,
                caught: last.filter(|_| caught).map(|caught| caught - self.scale.beats(now)),
                never: (caught && last.is_none()).then_some(waiting.prop),
            }
        };
        self.standing().into_iter().map(of).collect()
    }

    /// Forgets every action that no prop in flight comes from, the run's first release apart where
    /// that is kept.
    pub(super) fn forget(&mut self, keeps_first: bool) {
        let mut releases = self.actions.iter().filter(|action| action.is_release());
        let first = releases.next().filter(|_| keeps_first);
        let mut kept: Vec<Action> = first.copied().into_iter().collect();
        for waiting in self.waiting.iter_mut().flatten() {
            if let Some(&action) = waiting.by.and_then(|by| self.actions.get(by)) {
                waiting.by = Some(kept.len());
                kept.push(action);
            }
        }
        self.actions = kept;
    }

    /// Where in the run's beats the props are caught that are waiting for their next throw, those
    /// that were thrown.
    pub(super) fn catches_before_gather(
        &self,
        dwell: Ratio<i64>,
    ) -> impl Iterator<Item = BeatPosition> {
        let waiting = self.waiting.iter().flatten();
        let by = waiting.filter_map(|waiting| self.actions.get(waiting.by?));
        by.filter_map(move |action| action.caught(dwell))
    }

    /// The throws that land from the next beat on, each with its due beat counted from there.
    pub(super) fn in_flight(&self) -> Vec<Action> {
        let mut flying: Vec<Action> = self
            .waiting
            .iter()
            .flatten()
            .filter_map(|waiting| self.actions.get(waiting.by?))
            .map(|action| Action { due: action.due.saturating_sub(self.beat), ..*action })
            .collect();
        flying.sort_by_key(|action| (action.due, action.hand, action.beat));
        flying
    }

    /// Follows a course.
    pub(super) fn follow(&mut self, course: &Course, throws: &Sequence, belongs: Belongs) {
        let mut thrown = 0;
        for &step in &course.moves {
            match step {
                Move::Wait { hand, takes_beat } => {
                    self.wait(hand);
                    self.beat += u32::from(takes_beat);
                }
                Move::Alternate { hand, step } => {
                    if let Some(Step::Alternating(written)) = throws.steps.get(step) {
                        self.alternate(hand, written, belongs, |_| (None, next_place(&mut thrown)));
                    }
                }
                Move::Pair { step } => {
                    if let Some(Step::Pair(written)) = throws.steps.get(step) {
                        self.pair(written, belongs, |_| (None, next_place(&mut thrown)));
                    }
                }
            }
        }
    }

    /// Juggles a pattern for some of its own beats, led by `lead` where its hands alternate.
    pub(super) fn juggle(
        &mut self,
        pattern: &Sequence,
        lead: Option<Hand>,
        beats: u32,
        belongs: Belongs,
    ) {
        let in_cycle = pattern.steps.iter().map(step_throws).sum::<u32>();
        let end = self.beat + beats;
        let mut hand = lead.unwrap_or(Hand::Right);
        let mut before = 0_u32;
        'cycles: loop {
            for step in &pattern.steps {
                if self.beat >= end {
                    break 'cycles;
                }
                let number = |written: &WrittenThrow| {
                    (NonZeroU32::new(before.saturating_add(written.number)), written.number)
                };
                match step {
                    Step::Alternating(written) => {
                        self.alternate(hand, written, belongs, number);
                        hand = hand.other();
                    }
                    Step::Pair(written) => self.pair(written, belongs, number),
                }
            }
            before = before.saturating_add(in_cycle);
        }
        self.next = lead.map(|_| hand);
    }

    /// A hand waits one beat: every prop due there comes one beat later.
    fn wait(&mut self, hand: Hand) {
        for waiting in &mut self.waiting[hand.index()] {
            waiting.standing = waiting.standing.waited(i64::from(waiting.due));
            waiting.due += 1;
            if let Some(action) = waiting.by.and_then(|by| self.actions.get_mut(by)) {
                action.due = waiting.due;
            }
        }
    }

    fn alternate(
        &mut self,
        hand: Hand,
        written: &[WrittenThrow],
        belongs: Belongs,
        mut number: impl FnMut(&WrittenThrow) -> (Option<NonZeroU32>, u32),
    ) {
        let mut order = 0;
        self.act(hand, written, Kind::Async, belongs, &mut order, &mut number);
        self.beat += 1;
    }

    fn pair(
        &mut self,
        written: &[Vec<WrittenThrow>; 2],
        belongs: Belongs,
        mut number: impl FnMut(&WrittenThrow) -> (Option<NonZeroU32>, u32),
    ) {
        let mut order = 0;
        for hand in Hand::BOTH {
            self.act(hand, &written[hand.index()], Kind::Sync, belongs, &mut order, &mut number);
        }
        self.beat += 2;
    }

    /// One hand acts on the present beat: the throws as written go to the props in the order in
    /// which they stand.
    fn act(
        &mut self,
        hand: Hand,
        written: &[WrittenThrow],
        notation: Kind,
        belongs: Belongs,
        order: &mut u32,
        number: &mut impl FnMut(&WrittenThrow) -> (Option<NonZeroU32>, u32),
    ) {
        let beat = self.beat;
        let mut standing: Vec<Waiting> = Vec::with_capacity(2);
        self.waiting[hand.index()].retain(|waiting| {
            let here = waiting.due <= beat;
            if here {
                standing.push(*waiting);
            }
            !here
        });
        standing.sort_by_key(|waiting| waiting.standing);
        let mut standing = standing.into_iter();
        for throw in written {
            let (number, place) = number(throw);
            let kind = ActionKind::of(throw.throw, belongs.twos_are_thrown);
            let value = u32::from(throw.throw.value);
            let to = throw.throw.to(hand, notation);
            let taken = if kind == ActionKind::Empty { None } else { standing.next() };
            let action = Action {
                beat,
                hand,
                throw: throw.throw,
                kind,
                prop: taken.map(|waiting| waiting.prop),
                section: belongs.section,
                number,
                written: place,
                to,
                due: beat + value,
            };
            let index = self.actions.len();
            self.actions.push(action);
            if let Some(taken) = taken {
                let due = beat + value;
                let kept = kind == ActionKind::Held;
                let standing = if kept {
                    taken.standing
                } else {
                    self.caught[usize::from(taken.prop.0)] =
                        Some(self.scale.catch(beat, throw.throw.value));
                    Standing { came: i64::from(due), thrown: i64::from(beat), written: *order }
                };
                let by = Some(index);
                self.waiting[to.index()].push(Waiting { prop: taken.prop, due, standing, by });
            }
            *order += 1;
        }
    }

    /// After a trouble: seats all props where a schedule wants them, in the order in which they
    /// were due; where they are too few others are counted on, too many are left out.
    pub(super) fn reseat(&mut self, needed: &Schedule, loading: &HandLoading) {
        let mut props: Vec<(u32, Hand, Prop)> = Vec::new();
        for hand in Hand::BOTH {
            let waiting = self.waiting[hand.index()].drain(..);
            props.extend(waiting.map(|waiting| (waiting.due, hand, waiting.prop)));
        }
        props.sort_unstable();
        let mut props: Vec<Prop> = props.into_iter().map(|(.., prop)| prop).collect();
        for &prop in loading.hands.iter().flatten() {
            if !props.contains(&prop) {
                props.push(prop);
            }
        }
        let known = props.iter().map(|prop| prop.0).max().unwrap_or(0);
        let mut props = props.into_iter().chain((known.saturating_add(1)..u8::MAX).map(Prop));
        for due in 0..needed.span() {
            for hand in Hand::BOTH {
                for prop in props.by_ref().take(usize::from(needed.due(hand, due))) {
                    let due = self.beat + due;
                    let standing =
                        Standing { came: i64::from(due), thrown: i64::from(due), written: 0 };
                    self.waiting[hand.index()].push(Waiting { prop, due, standing, by: None });
                    self.note_prop(prop);
                }
            }
        }
    }

    /// Gives every prop of what happened the name that stands in its place.
    pub(super) fn rename(&mut self, names: &[Prop]) {
        for prop in self.actions.iter_mut().filter_map(|action| action.prop.as_mut()) {
            *prop = names.get(usize::from(prop.0)).copied().unwrap_or(*prop);
        }
    }

    /// Where each prop comes to rest: last caught leaves first; caught together, in the order of
    /// which prop leaves first; never caught, last and in the old order.
    pub(super) fn gathered(&self, loading: &HandLoading) -> HandLoading {
        let old_place = |prop: Prop| {
            loading.hands.iter().find_map(|hand| hand.iter().position(|&other| other == prop))
        };
        let mut hands = HandLoading::default();
        for hand in Hand::BOTH {
            let mut here: Vec<&Waiting> = self.waiting[hand.index()].iter().collect();
            here.sort_by_key(|waiting| {
                let caught = self.caught.get(usize::from(waiting.prop.0)).copied().flatten();
                let never = caught.is_none();
                let last_first = std::cmp::Reverse(caught);
                let old = if never { old_place(waiting.prop) } else { None };
                (never, last_first, old, waiting.standing)
            });
            hands.hands[hand.index()] = here.iter().map(|waiting| waiting.prop).collect();
        }
        hands
    }

    /// The run's last catch, in beats from its start; `None` when nothing is caught.
    pub(super) fn last_catch(&self) -> Option<num_rational::Ratio<i64>> {
        let latest = self.caught_latest()?;
        Some(num_rational::Ratio::new(latest, 2 * self.scale.q))
    }

    /// The latest catch of all: a low throw may be caught before a higher one made earlier.
    fn caught_latest(&self) -> Option<i64> {
        // A prop's catches come one after another, so the last of each is enough.
        self.caught.iter().flatten().copied().max()
    }
}

pub(super) fn step_throws(step: &Step) -> u32 {
    u32::try_from(step.throws().count())
        .unwrap_or_else(|_| unreachable!("the reader bounds a pattern's length"))
}

fn next_place(thrown: &mut u32) -> u32 {
    *thrown += 1;
    *thrown
}
