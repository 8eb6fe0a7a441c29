//! When cues are called: stand-by, GO and completion of each, and when the stage is dark.
//!
//! A follow's GO comes from the cue it follows, through chains and from desk to desk. What cannot
//! be resolved is returned as [`Uncallable`] for the checks; nothing is guessed. Unit: seconds on
//! the show clock.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::routine::{Cue, CueNumber, Desk, FollowFrom, Routine, Trigger};
use crate::time::Seconds;
use crate::timeline::{Timeline, Unresolved};

/// A cue in time.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// Index of the cue in the routine.
    pub cue: usize,
    /// When the operator stands by; `None` for a follow that says nothing of it.
    pub standby: Option<Seconds>,
    /// GO.
    pub go: Seconds,
    /// Seconds from GO to completion; `None` where the cue has no count.
    pub count: Option<Seconds>,
    /// The cue that it follows, as an index.
    pub follows: Option<usize>,
}

impl Call {
    /// When it is complete: GO and its count; `None` for a cue without a count.
    #[must_use]
    pub fn completes(&self) -> Option<Seconds> {
        self.count.as_ref().map(|count| &self.go + count)
    }
}

/// Why a cue has no GO. Cues are indices into the routine.
#[derive(Clone, Debug, PartialEq)]
pub enum Uncallable {
    /// Its moment never comes.
    Unresolved {
        /// The cue.
        cue: usize,
        /// Why.
        why: Unresolved,
    },
    /// It is no follow and names no moment.
    NoMoment {
        /// The cue.
        cue: usize,
    },
    /// It follows a number that its desk does not have.
    UnknownNumber {
        /// The cue.
        cue: usize,
        /// The desk that it asks.
        desk: Desk,
        /// The number.
        number: CueNumber,
    },
    /// It follows the completion of a cue without a count.
    NoCompletion {
        /// The cue.
        cue: usize,
        /// The cue without a count.
        followed: usize,
    },
    /// Follows that go round in a circle, in the order in which they follow, each reported once.
    Circle {
        /// The cues of the circle, the first of the file first.
        cues: Vec<usize>,
    },
    /// The cue that it follows, itself or through others, has no GO.
    FollowsUncallable {
        /// The cue.
        cue: usize,
        /// The cue that it follows.
        followed: usize,
    },
}

/// The calls of a routine.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Calls {
    /// By GO, then by desk, by number and by place in the file.
    pub calls: Vec<Call>,
    /// What cannot be called, by place in the file.
    pub uncallable: Vec<Uncallable>,
}

/// A stretch in which the stage is dark.
#[derive(Clone, Debug, PartialEq)]
pub struct Dark {
    /// The dark Light cues in it, as indices, in order of GO; at least one.
    pub cues: Vec<usize>,
    /// The GO of the first.
    pub from: Seconds,
    /// The Light cue that ends it and its GO; `None` when it stays dark.
    pub until: Option<(usize, Seconds)>,
}

/// When every cue is called.
#[must_use]
pub fn calls(routine: &Routine, timeline: &Timeline) -> Calls {
    let cues = &routine.cues;
    let states = vec![State::Unknown; cues.len()];
    let mut resolver = Resolver { routine, numbers: numbers(cues), timeline, states };
    let mut found = Calls::default();
    for cue in 0..cues.len() {
        resolver.resolve(cue, &mut found.uncallable);
    }
    for (index, (cue, state)) in cues.iter().zip(resolver.states).enumerate() {
        if let State::Goes { go, follows } = state {
            let standby = standby_s(cue).map(|before| &go - &before);
            found.calls.push(Call { cue: index, standby, go, count: count_s(cue), follows });
        }
    }
    found.uncallable.sort_by_key(first_cue);
    put_in_order(&mut found.calls, cues);
    found
}

/// The stretches in which the stage is dark, from the calls in their order.
#[must_use]
pub fn darks(routine: &Routine, calls: &[Call]) -> Vec<Dark> {
    let mut darks: Vec<Dark> = Vec::new();
    let mut is_dark = false;
    for call in calls {
        let Some(cue) = routine.cues.get(call.cue) else { continue };
        if cue.desk.value != Desk::Light {
            continue;
        }
        match (cue.dark, is_dark, darks.last_mut()) {
            (true, true, Some(dark)) => dark.cues.push(call.cue),
            (true, _, _) => {
                darks.push(Dark { cues: vec![call.cue], from: call.go.clone(), until: None });
            }
            (false, true, Some(dark)) => dark.until = Some((call.cue, call.go.clone())),
            (false, ..) => {}
        }
        is_dark = cue.dark;
    }
    darks
}

/// Seconds from GO to completion: as written; none at all for a dark cue that says nothing.
fn count_s(cue: &Cue) -> Option<Seconds> {
    match &cue.count {
        Some(count) => Some(count.value.clone()),
        None => cue.dark.then(Seconds::zero),
    }
}

/// Seconds from stand-by to GO: as written, else 5, 30 for Fly and Deck, none for a follow.
fn standby_s(cue: &Cue) -> Option<Seconds> {
    match (&cue.standby, &cue.by.value, cue.desk.value) {
        (Some(written), ..) => Some(written.value.clone()),
        (None, Trigger::Follow { .. }, _) => None,
        (None, _, Desk::Fly | Desk::Deck) => Some(Seconds::fraction(30, 1)),
        (None, ..) => Some(Seconds::fraction(5, 1)),
    }
}

/// What is known of a cue's GO.
#[derive(Clone)]
enum State {
    Unknown,
    /// It is being looked for: whoever follows it closes a circle.
    Sought,
    Goes {
        go: Seconds,
        follows: Option<usize>,
    },
    Never,
}

/// Finds GOs, each once.
struct Resolver<'a> {
    routine: &'a Routine,
    numbers: BTreeMap<(Desk, CueNumber), usize>,
    timeline: &'a Timeline,
    states: Vec<State>,
}

impl Resolver<'_> {
    /// Resolves a cue and all that it follows.
    fn resolve(&mut self, cue: usize, uncallable: &mut Vec<Uncallable>) {
        // Down the chain to a cue that is known or stands by itself, then back up: a chain may be
        // as long as the file.
        let mut chain = vec![cue];
        while let Some(&last) = chain.last() {
            if !matches!(self.states[last], State::Unknown) {
                break;
            }
            self.states[last] = State::Sought;
            let Some(followed) = self.followed(last, uncallable) else { break };
            if matches!(self.states[followed], State::Sought) {
                let start = chain.iter().position(|&one| one == followed).unwrap_or(0);
                self.report_circle(&chain[start..], uncallable);
                break;
            }
            chain.push(followed);
        }
        while let Some(cue) = chain.pop() {
            if matches!(self.states[cue], State::Sought) {
                self.states[cue] = self.state_of(cue, uncallable);
            }
        }
    }

    /// The cue that a follow names; `None` for a cue that is no follow.
    fn named_by(&self, cue: usize) -> Option<Result<usize, (Desk, CueNumber)>> {
        let written = &self.routine.cues[cue];
        let Trigger::Follow { desk, number, .. } = &written.by.value else { return None };
        let named = (desk.unwrap_or(written.desk.value), number.value);
        Some(self.numbers.get(&named).copied().ok_or(named))
    }

    /// The cue that a follow follows. Marks and reports one that follows an unknown number.
    fn followed(&mut self, cue: usize, uncallable: &mut Vec<Uncallable>) -> Option<usize> {
        let followed = self.named_by(cue)?;
        if let Err((desk, number)) = followed {
            uncallable.push(Uncallable::UnknownNumber { cue, desk, number });
            self.states[cue] = State::Never;
        }
        followed.ok()
    }

    fn report_circle(&mut self, circle: &[usize], uncallable: &mut Vec<Uncallable>) {
        let first = (0..circle.len()).min_by_key(|&place| circle[place]).unwrap_or(0);
        let cues: Vec<usize> = circle[first..].iter().chain(&circle[..first]).copied().collect();
        for &cue in &cues {
            self.states[cue] = State::Never;
        }
        uncallable.push(Uncallable::Circle { cues });
    }

    /// The state of a cue whose followed cue, if any, is known.
    fn state_of(&self, cue: usize, uncallable: &mut Vec<Uncallable>) -> State {
        match self.go_of(cue) {
            Ok((go, follows)) => State::Goes { go, follows },
            Err(why) => {
                uncallable.push(why);
                State::Never
            }
        }
    }

    fn go_of(&self, cue: usize) -> Result<(Seconds, Option<usize>), Uncallable> {
        let written = &self.routine.cues[cue];
        let Trigger::Follow { from, after, .. } = &written.by.value else {
            let when = written.when.as_ref().ok_or(Uncallable::NoMoment { cue })?;
            let go = self.timeline.when(self.routine, when);
            return go.map(|go| (go, None)).map_err(|why| Uncallable::Unresolved { cue, why });
        };
        let Some(Ok(followed)) = self.named_by(cue) else {
            unreachable!("`Resolver::followed` has marked every follow of an unknown number");
        };
        let State::Goes { go, .. } = &self.states[followed] else {
            return Err(Uncallable::FollowsUncallable { cue, followed });
        };
        let origin = match from {
            FollowFrom::Go => go.clone(),
            FollowFrom::Complete => {
                let count = count_s(&self.routine.cues[followed])
                    .ok_or(Uncallable::NoCompletion { cue, followed })?;
                go + &count
            }
        };
        Ok((&origin + after, Some(followed)))
    }
}

/// The first cue in the file of each desk and number.
fn numbers(cues: &[Cue]) -> BTreeMap<(Desk, CueNumber), usize> {
    let mut numbers = BTreeMap::new();
    for (index, cue) in cues.iter().enumerate() {
        if let Some(number) = &cue.number {
            numbers.entry((cue.desk.value, number.value)).or_insert(index);
        }
    }
    numbers
}

fn first_cue(uncallable: &Uncallable) -> usize {
    match uncallable {
        Uncallable::Unresolved { cue, .. }
        | Uncallable::NoMoment { cue }
        | Uncallable::UnknownNumber { cue, .. }
        | Uncallable::NoCompletion { cue, .. }
        | Uncallable::FollowsUncallable { cue, .. } => *cue,
        Uncallable::Circle { cues } => cues.first().copied().unwrap_or(0),
    }
}

/// Puts calls in order of GO, then desk, number and place in the file.
fn put_in_order(calls: &mut [Call], cues: &[Cue]) {
    // First by the nearest double, which is a total order; then whatever is one instant, judged
    // as times are judged, by desk.
    calls.sort_by(|a, b| a.go.to_f64().total_cmp(&b.go.to_f64()));
    let same = |a: &Call, b: &Call| a.go.partial_cmp(&b.go) == Some(Ordering::Equal);
    for together in calls.chunk_by_mut(same) {
        together.sort_by_key(|call| {
            let cue = &cues[call.cue];
            (cue.desk.value, cue.number.as_ref().map(|number| number.value), call.cue)
        });
    }
}
