//! An act: the routine, its timeline, its calls, its music as it was heard, and what is left open.
//!
//! Made once, when a routine is opened; checks, measures, sheets and the strip all read this one.
//! The encore is an act of its own with a clock of its own. Times are exact seconds on the show
//! clock ([`crate::time::Time`]): what they are with every open length at its shortest, and what
//! they owe to each.

pub mod calls;
pub mod in_order;
pub mod in_use;

use crate::routine::{Juggle, Moment, Routine, Section};
use crate::sound::Tracks;
use crate::time::{Found, Night, OpenLength, Time, TooManyWays, some_night};
use crate::timeline::{Compiled, LeftOpen, SectionSpan, Timeline, Trouble, Unresolved};
use crate::timeline::{compile, left_open, open_lengths};

use calls::Calls;
use in_use::InUse;

/// An act, as far as it could be compiled.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Act {
    /// The routine, every open choice of the line-up written out in it.
    pub routine: Routine,
    /// Every throw, catch and hold.
    pub timeline: Timeline,
    /// When its cues are called.
    pub calls: Calls,
    /// When fire is alight and blades are in somebody's hands.
    pub in_use: Vec<InUse>,
    /// What was found of its music files.
    pub heard: Tracks,
    /// What it and its encore leave open: an [`crate::time::Open::Length`] is a place in this list.
    pub open: Vec<OpenLength>,
    /// Everything that could not be compiled, in the order of the score.
    pub troubles: Vec<Trouble>,
    /// Whether all of its times are known; where not, an error has left a length unknown.
    pub times_known: bool,
    /// How many errors there are: above 0 every document of it is a draft.
    pub errors: usize,
    /// Whether its cues are no longer what was handed out under its issue's number, or a later
    /// issue was handed out; `None` in a draft with a record, for an error hides what is different.
    pub unissued: Option<bool>,
    /// The encore, on its own clock, which reads zero where its first section starts.
    pub encore: Option<Box<Act>>,
}

impl Act {
    /// The act of a routine whose choices are made, its music not heard.
    #[must_use]
    pub fn of(routine: &Routine) -> Act {
        Act::new(routine.clone(), compile(routine), Tracks::new())
    }

    /// The act of a routine and what came of compiling it.
    #[must_use]
    pub fn new(routine: Routine, compiled: Compiled, heard: Tracks) -> Act {
        let open = open_lengths(&routine);
        Act::with(routine, compiled, heard, open, &[])
    }

    /// How many open lengths of its act come before an encore's own.
    fn behind(&self) -> usize {
        self.open.len().saturating_sub(open_lengths(&self.routine).len())
    }

    /// What it leaves open itself at that place in [`Act::open`]; `None` where that is its act's or
    /// its encore's.
    #[must_use]
    pub fn left_open(&self, place: u16) -> Option<LeftOpen> {
        let own = usize::from(place).checked_sub(self.behind())?;
        left_open(&self.routine).get(own).copied()
    }

    fn with(
        routine: Routine,
        compiled: Compiled,
        heard: Tracks,
        open: Vec<OpenLength>,
        in_use_before: &[InUse],
    ) -> Act {
        let Compiled { timeline, times_known, troubles, encore } = compiled;
        let in_use = in_use::in_use(&routine, &timeline, in_use_before);
        let encore = routine.encore.as_ref().zip(encore).map(|(written, compiled)| {
            let routine = written.routine.clone();
            Box::new(Act::with(routine, *compiled, heard.clone(), open.clone(), &in_use))
        });
        let calls = Calls::of(&routine, &timeline);
        Act {
            routine,
            timeline,
            calls,
            in_use,
            heard,
            open,
            troubles,
            times_known,
            errors: 0,
            unissued: Some(false),
            encore,
        }
    }

    /// Notes how many errors there are, in its encore too.
    pub(crate) fn set_errors(&mut self, errors: usize) {
        self.errors = errors;
        if let Some(encore) = &mut self.encore {
            encore.set_errors(errors);
        }
    }

    /// Notes whether its cues differ from what was handed out, in its encore too.
    pub(crate) fn set_unissued(&mut self, unissued: Option<bool>) {
        self.unissued = unissued;
        if let Some(encore) = &mut self.encore {
            encore.set_unissued(unissued);
        }
    }

    /// The act, and its encore where it has one.
    pub fn with_encore(&self) -> impl Iterator<Item = &Act> {
        std::iter::successors(Some(self), |act| act.encore.as_deref())
    }

    /// Whether any time of it, or of its encore, is a range.
    #[must_use]
    pub fn is_open(&self) -> bool {
        !self.open.is_empty()
    }

    /// Whether every section could be read, every junction fits and every set is there, so that it
    /// is known which prop is where.
    #[must_use]
    pub fn props_known(&self) -> bool {
        self.troubles.is_empty() && !self.hides_sets()
    }

    /// Whether an error hides when fire or blades are in use, or when the stage is dark, so that
    /// nobody knows that they never are in the dark.
    #[must_use]
    pub fn hides_danger(&self) -> bool {
        let Routine { sets, cues, hidden, .. } = &self.routine;
        let lit = |name: &str| {
            let mut pauses = self.routine.score.iter().filter_map(Section::pause);
            pauses.any(|pause| pause.handled.iter().any(|(_, set)| set.value == name))
        };
        let used = |set: usize| {
            let juggled = self.timeline.runs.iter().any(|run| run.set == set);
            let in_use = self.in_use.iter().any(|used| used.set == set);
            juggled || in_use || sets.get(set).is_some_and(|set| lit(&set.name.value))
        };
        let hides_sets = self.hides_sets();
        let mut danger = sets.iter().enumerate().filter(|(_, set)| set.is_dangerous());
        let has_danger = hidden.sets || danger.any(|(set, _)| hides_sets || used(set));
        let has_dark = hidden.cues || cues.iter().any(|cue| cue.dark);
        let all_known = self.times_known
            && self.calls.uncallable.is_empty()
            && !hides_sets
            && !hidden.sets
            && !hidden.cues;
        has_danger && has_dark && !all_known
    }

    /// Whether every cue, of it and of its encore, could be read and can be called.
    pub(crate) fn cues_known(&self) -> bool {
        let is_known = |act: &Act| {
            let hidden = &act.routine.hidden;
            !hidden.cues && !hidden.encore && act.calls.uncallable.is_empty()
        };
        self.with_encore().all(is_known)
    }

    /// Whether an error hides what some section is juggled with: it may be any set.
    pub(crate) fn hides_sets(&self) -> bool {
        let is_known = |set: usize| set < self.routine.sets.len();
        let mut runs = self.timeline.runs.iter();
        self.timeline.hides_throws().is_some() || runs.any(|run| !is_known(run.set))
    }

    /// The entries of the score, each with its place and where it lies in time.
    pub fn sections(&self) -> impl Iterator<Item = (usize, &Section, &SectionSpan)> {
        let entries = self.routine.score.iter().zip(&self.timeline.sections).enumerate();
        entries.map(|(index, (section, span))| (index, section, span))
    }

    /// The juggled entries of the score, with their places.
    pub fn juggles(&self) -> impl Iterator<Item = (usize, &Section, &Juggle)> {
        let entries = self.routine.score.iter().enumerate();
        entries.filter_map(|(index, section)| Some((index, section, section.juggle()?)))
    }

    /// What is juggled in the entry of that index; `None` for a pause.
    #[must_use]
    pub fn juggle(&self, section: usize) -> Option<&Juggle> {
        self.routine.score.get(section)?.juggle()
    }

    /// When a moment comes, on the show clock.
    ///
    /// # Errors
    /// Why it never does.
    pub fn moment(&self, moment: &Moment) -> Result<Time, Unresolved> {
        self.timeline.moment(&self.routine, moment)
    }

    /// Looks for something on every night that the open lengths allow.
    ///
    /// # Errors
    /// When there are more ways to go than are followed.
    pub fn some_night<T>(
        &self,
        look: impl Fn(&Night<'_>) -> Option<T>,
    ) -> Result<Option<Found<T>>, TooManyWays> {
        some_night(&self.open, look)
    }
}
