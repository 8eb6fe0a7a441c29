//! The compiler one choice at a time: for the line-up, which tries what a section leaves open.
//!
//! A draft follows props without knowing their colours: at a cold start they are numbered in the
//! order in which the first section calls for them, a written loading apart, which names them by
//! their place in the set. A draft forgets the throws that no later length names.

use std::rc::Rc;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Juggle, Pause, Routine, Transition};
use crate::transition::{Goal, ways_of};

use super::compile::{Compiler, Entered};
use super::decides::{Decides, Reads};
use super::join::Join;
use super::label::{Belongs, Due};
use super::run::{Action, Face, HandLoading, Loaded, Prop, Run};
use super::section::SectionSpan;

/// About how many bytes a section keeps beside its span: its throws, its times and its tempo.
const BYTES_OF_A_SECTION: usize = 600;

/// The routine compiled up to some section.
#[derive(Clone)]
pub(crate) struct Draft<'a> {
    compiler: Compiler<'a>,
    reads: Rc<Reads>,
}

/// A section whose transition is thrown and whose own first throw comes next, what was thrown on
/// the way, and the props in the order of their places.
pub(crate) struct Opened {
    entered: Entered,
    /// What was thrown on the way.
    pub(crate) thrown: Vec<Action>,
    /// The props in the order of their places.
    pub(crate) order: Vec<Prop>,
}

/// What decides how a section goes on that throws every prop: where each prop is due, the hand that
/// leads and the beats of the way.
#[derive(PartialEq, Eq, Hash)]
pub(crate) struct Opening(Vec<Due>, Option<Hand>, u32);

/// What a way into a section leads to.
pub(crate) struct Glimpse {
    /// What decides how the section goes on.
    pub(crate) opening: Opening,
    /// What is thrown on the way.
    pub(crate) thrown: Vec<Action>,
    /// The props in the order of their places.
    pub(crate) order: Vec<Prop>,
}

/// A way into a section.
#[derive(Clone)]
pub(crate) struct WayIn(Join);

impl WayIn {
    /// Beats from the join to the section's own first throw.
    pub(crate) fn beats(&self) -> u32 {
        self.0.course.beats
    }

    /// The same way with the values of its multiplexes in every other order; at most so many.
    pub(crate) fn other_orders(&self, at_most: usize) -> Vec<WayIn> {
        let others = self.0.throws.other_multiplex_orders(at_most).into_iter();
        others.map(|throws| WayIn(Join { throws, ..self.0.clone() })).collect()
    }

    /// Its throws, and the hand of the section's own first throw.
    pub(crate) fn written(&self) -> (Sequence, Option<Hand>) {
        (self.0.throws.clone(), self.0.course.lead)
    }
}

impl<'a> Draft<'a> {
    /// Before the first section.
    pub(crate) fn begin(routine: &'a Routine) -> Draft<'a> {
        let reads = Reads::of(routine);
        let mut compiler = Compiler::begin(routine);
        compiler.colours_open = true;
        Draft { compiler, reads: Rc::new(reads) }
    }

    /// Lays out a pause; `lead_in` is the number of beats of the next section's transition, where
    /// that is decided. `None` when that cannot be.
    #[must_use]
    pub(crate) fn pause(
        mut self,
        index: usize,
        pause: &Pause,
        lead_in: Option<u32>,
    ) -> Option<Draft<'a>> {
        self.compiler.pause(index, pause, lead_in);
        self.sound()
    }

    /// Comes to a section: brings its set into use, and says how the props are loaded for it; they
    /// are not where it is joined to the one before.
    pub(crate) fn arrive(
        mut self,
        index: usize,
        juggle: &Juggle,
    ) -> Option<(Draft<'a>, Option<Loaded>)> {
        self.compiler.take_set(index, juggle);
        let loaded = self.compiler.label.is_none().then(|| self.compiler.loaded(juggle));
        Some((self.sound()?, loaded))
    }

    /// The way into a section as the compiler plans it; `None` when it does not fit.
    pub(crate) fn planned(&self, index: usize, juggle: &Juggle) -> Option<WayIn> {
        let join = self.compiler.junction(index, juggle).plan();
        join.trouble.is_none().then_some(WayIn(join))
    }

    /// Every way of exactly so many beats into a section, in their order; at most `at_most`.
    pub(crate) fn ways_in(
        &self,
        index: usize,
        juggle: &Juggle,
        beats: u32,
        at_most: usize,
    ) -> Vec<WayIn> {
        let junction = self.compiler.junction(index, juggle);
        let pattern = &juggle.pattern.pattern;
        let goal = Goal {
            pattern,
            lead: juggle.lead.as_ref().map(|lead| lead.value),
            preferred: junction.preferred,
        };
        let mut ways = ways_of(&junction.origin, goal, junction.bounds, beats, at_most);
        ways.retain(|way| junction.may_begin(way.begins));
        ways.into_iter().map(|way| WayIn(junction.taken(way))).collect()
    }

    /// Where a way leads, without going it; `None` from rest, and where nothing was thrown yet.
    pub(crate) fn glimpse(&self, index: usize, juggle: &Juggle, way: &WayIn) -> Option<Glimpse> {
        let label = self.compiler.label.as_ref();
        let mut label = label.filter(|label| label.actions.iter().any(Action::is_release))?.clone();
        let course = &way.0.course;
        let first = label.actions.len();
        label.follow(course, &way.0.throws, Belongs::to(index, juggle));
        Some(Glimpse {
            opening: Opening(label.due(false), course.lead, course.beats),
            thrown: label.actions.split_off(first),
            order: label.places(),
        })
    }

    /// Throws the transition of a section.
    pub(crate) fn enter(
        mut self,
        index: usize,
        juggle: &Juggle,
        way: WayIn,
    ) -> Option<(Draft<'a>, Opened)> {
        let entered = self.compiler.enter(index, juggle, way.0);
        self.compiler.natural = false;
        let (thrown, order) = (entered.thrown().to_vec(), entered.label.places());
        Some((self.sound()?, Opened { entered, thrown, order }))
    }

    /// Whether no prop is in flight.
    pub(crate) fn is_at_rest(&self) -> bool {
        self.compiler.label.is_none()
    }

    /// Juggles a section, and gives its own throws and the face that its props show; `lead_in` is the
    /// number of beats of the next section's transition, where that is decided.
    pub(crate) fn juggle(
        mut self,
        index: usize,
        juggle: &Juggle,
        opened: &Opened,
        lead_in: Option<u32>,
    ) -> Option<(Draft<'a>, Vec<Action>, Face)> {
        let entered = opened.entered.clone();
        let lasts = self.compiler.lasting(&entered.own(index, juggle), lead_in);
        self.compiler.run_on(index, juggle, entered, lasts);
        let mut draft = self.sound()?;
        let compiler = &mut draft.compiler;
        let span = compiler.timeline.sections.last().and_then(|span| span.juggle.clone())?;
        let actions = match &compiler.label {
            Some(label) => label.actions.get(span.actions.clone())?,
            None => compiler.timeline.runs.last()?.actions.get(span.actions.clone())?,
        };
        let own = actions.iter().filter(|action| action.number.is_some()).copied().collect();
        if draft.reads.throws_up_to.is_none_or(|last| last <= index) {
            draft.forget();
        }
        Some((draft, own, span.face.unwrap_or_default()))
    }

    /// What became of a draft after a section: nothing, if it could not be laid out.
    fn sound(self) -> Option<Draft<'a>> {
        self.compiler.troubles.is_empty().then_some(self)
    }

    /// Forgets the throws that no later length names; the first of each run is kept, for a clock may
    /// read zero there.
    fn forget(&mut self) {
        if let Some(label) = &mut self.compiler.label {
            label.forget(true);
        }
        for run in &mut self.compiler.timeline.runs {
            run.actions =
                run.actions.iter().find(|made| made.is_release()).copied().into_iter().collect();
        }
    }

    /// The props in a fixed order of their places: in flight by the beat on which they are due, at
    /// rest the right hand's and then the left's.
    pub(crate) fn places(&self) -> Vec<Prop> {
        match (&self.compiler.label, &self.compiler.hands) {
            (Some(label), _) => label.places(),
            (None, Some(hands)) => in_order(hands),
            (None, None) => Vec::new(),
        }
    }

    /// How many props are in the right hand and in the left hand, at rest.
    pub(crate) fn in_hands(&self) -> Option<(usize, usize)> {
        let hands = self.compiler.hands.as_ref()?;
        Some((hands.in_hand(Hand::Right).len(), hands.in_hand(Hand::Left).len()))
    }

    /// The set in use, as an index into the routine's.
    pub(crate) fn set(&self) -> Option<usize> {
        self.compiler.set
    }

    /// The loading of the run in the making: the right hand's props and the left's.
    pub(crate) fn loading(&self) -> Option<&HandLoading> {
        self.compiler.timeline.runs.last().map(|run| &run.loading)
    }

    /// About how many bytes it keeps.
    pub(crate) fn bytes(&self) -> usize {
        let Compiler { timeline, label, .. } = &self.compiler;
        let made: usize = timeline.runs.iter().map(|run| run.actions.len()).sum();
        let made = made + label.as_ref().map_or(0, |label| label.actions.len());
        made * size_of::<Action>()
            + timeline.sections.len() * (size_of::<SectionSpan>() + BYTES_OF_A_SECTION)
            + timeline.runs.len() * size_of::<Run>()
    }

    /// What decides how things go on from the entry of that index, the colours apart.
    pub(crate) fn decides(&self, next: usize) -> Decides {
        self.compiler.decides(next, &self.reads)
    }
}

/// The props in hand: the right hand's and then the left's.
fn in_order(hands: &HandLoading) -> Vec<Prop> {
    let right = hands.in_hand(Hand::Right).iter();
    right.chain(hands.in_hand(Hand::Left)).copied().collect()
}

/// The most beats that a transition into a section may have.
pub(crate) fn longest_way_in(routine: &Routine, juggle: &Juggle) -> u32 {
    match &juggle.transition.value {
        Transition::Direct => 1,
        Transition::Auto => routine.transitions.beats,
        Transition::Throws(written) => written.throws.beats() + 2,
    }
}
