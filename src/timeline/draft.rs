//! The compiler one choice at a time: for the line-up, which tries what a section leaves open.
//!
//! A draft follows props without knowing their colours: at a cold start they are numbered in the
//! order in which the first section calls for them, a written loading apart, which names them by
//! their place in the set. Where no later length hangs on what happened before, a draft forgets it,
//! so that two drafts that go on alike have equal keys.

use std::fmt::Write;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::routine::{Juggle, Length, Pause, Routine, Transition};
use crate::transition::{Goal, ways_of};

use super::compile::{Compiler, Entered};
use super::join::Join;
use super::run::{Action, Face, HandLoading, Loaded, Prop};

/// The routine compiled up to some section.
#[derive(Clone)]
pub(crate) struct Draft<'a> {
    compiler: Compiler<'a>,
    /// The last section whose length hangs on what happened before it; history is kept up to it.
    remembers_up_to: Option<usize>,
}

/// A section whose transition is thrown and whose own first throw comes next.
#[derive(Clone)]
pub(crate) struct Opening(Entered);

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
    ///
    /// `remembers_all` is for those who ask for more of the history than later lengths do.
    pub(crate) fn begin(routine: &'a Routine, remembers_all: bool) -> Draft<'a> {
        let remembers_up_to = routine.score.iter().rposition(|section| {
            let lasts = section.lasts().map(|lasts| &lasts.value);
            matches!(lasts, Some(Length::Until(_) | Length::Bars(_)))
        });
        // Where the music sets a tempo, the time at which a section starts decides how fast it is.
        let all = (remembers_all || routine.follows_the_music()).then_some(routine.score.len());
        let remembers_up_to = all.or(remembers_up_to);
        let mut compiler = Compiler::begin(routine);
        compiler.colours_open = true;
        Draft { compiler, remembers_up_to }
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

    /// Throws the transition of a section, and gives its throws.
    pub(crate) fn enter(
        mut self,
        index: usize,
        juggle: &Juggle,
        way: WayIn,
    ) -> Option<(Draft<'a>, Opening, Vec<Action>)> {
        let entered = self.compiler.enter(index, juggle, way.0);
        self.compiler.natural = false;
        let thrown = entered.thrown().to_vec();
        Some((self.sound()?, Opening(entered), thrown))
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
        opening: &Opening,
        lead_in: Option<u32>,
    ) -> Option<(Draft<'a>, Vec<Action>, Face)> {
        let entered = opening.0.clone();
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
        if draft.remembers_up_to.is_none_or(|last| last <= index) {
            draft.forget();
        }
        Some((draft, own, span.face.unwrap_or_default()))
    }

    /// What became of a draft after a section: nothing, if it could not be laid out.
    fn sound(self) -> Option<Draft<'a>> {
        self.compiler.troubles.is_empty().then_some(self)
    }

    /// Forgets what no later section asks for.
    fn forget(&mut self) {
        if let Some(label) = &mut self.compiler.label {
            label.forget();
        }
        for run in &mut self.compiler.timeline.runs {
            run.actions = Vec::new();
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

    /// The same of a section whose transition is thrown.
    pub(crate) fn places_at(&self, opening: &Opening) -> Vec<Prop> {
        opening.0.label.places()
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

    /// What decides how things go on, the colours apart: drafts with equal keys go on alike.
    pub(crate) fn key(&self, next: usize, opening: Option<&Opening>) -> String {
        let compiler = &self.compiler;
        let mut key = String::with_capacity(256);
        let _ = write!(key, "{next};{:?};{:?};{:?};", compiler.set, compiler.tempo, compiler.face);
        match (opening, &compiler.label, &compiler.hands) {
            (Some(opening), ..) => {
                let course = &opening.0.join.course;
                let _ = write!(key, "{:?}{:?};", course.lead, opening.0.piece.pace);
                let _ = write!(key, "{};", course.beats);
                opening.0.label.write_key(&mut key);
            }
            (None, Some(label), _) => label.write_key(&mut key),
            (None, None, Some(hands)) => {
                let _ = write!(key, "{:?}", hands.hands.each_ref().map(Vec::len));
            }
            (None, None, None) => {}
        }
        let _ = write!(key, ";{:?}", compiler.last_lead(next));
        if self.remembers_up_to.is_some_and(|last| last >= next) {
            let _ = write!(key, ";{:?}", compiler.timeline);
        }
        key
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
