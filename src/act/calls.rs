//! When cues are called: stand-by, GO and completion of each.
//!
//! A follow's GO comes from the cue it follows, through chains and from crew to crew; a cue that
//! goes with another has its GO. What cannot be resolved is returned as [`Uncallable`] for the
//! checks; nothing is guessed.

use std::collections::BTreeMap;

use crate::routine::{Crew, Cue, CueNumber, FollowFrom, Routine, Trigger};
use crate::time::{Night, Seconds, Time};
use crate::timeline::{Timeline, Unresolved};

/// A cue in time.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// Index of the cue in the routine.
    pub cue: usize,
    /// When the operator stands by; `None` for a follow that says nothing of it.
    pub standby: Option<Time>,
    /// GO.
    pub go: Time,
    /// Seconds from GO to completion; `None` where the cue has no count.
    pub count: Option<Seconds>,
    /// The cue that it follows, as an index.
    pub follows: Option<usize>,
    /// The cue on whose GO it goes, as an index: one that goes with no other.
    pub with: Option<usize>,
    /// Its place among calls at one instant: by crew, by number and by place in the file, what goes
    /// with a cue behind it.
    pub rank: usize,
}

impl Call {
    /// Whether it comes before another on a night; of two at one instant, by rank.
    #[must_use]
    pub fn comes_before(&self, other: &Call, night: &Night<'_>) -> bool {
        match self.rank < other.rank {
            true => night.not_after(&self.go, &other.go),
            false => night.before(&self.go, &other.go),
        }
    }

    /// Whether it comes before another on every night.
    #[must_use]
    pub fn always_comes_before(&self, other: &Call) -> bool {
        let apart = (&other.go - &self.go).least();
        match self.rank < other.rank {
            true => apart >= Seconds::zero(),
            false => apart > Seconds::zero(),
        }
    }

    /// When it is complete: GO and its count; `None` for a cue without a count.
    #[must_use]
    pub fn completes(&self) -> Option<Time> {
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
    /// It follows a number that its crew does not have.
    UnknownNumber {
        /// The cue.
        cue: usize,
        /// The crew that it asks.
        crew: Crew,
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

impl Uncallable {
    /// The cues that it is about.
    #[must_use]
    pub fn cues(&self) -> Vec<usize> {
        match self {
            Uncallable::Circle { cues } => cues.clone(),
            Uncallable::Unresolved { cue, .. }
            | Uncallable::NoMoment { cue }
            | Uncallable::UnknownNumber { cue, .. }
            | Uncallable::NoCompletion { cue, .. }
            | Uncallable::FollowsUncallable { cue, .. } => vec![*cue],
        }
    }
}

/// The calls of a routine.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Calls {
    /// By GO at the earliest, then by crew, by number and by place in the file; what goes with a cue
    /// stands behind it.
    pub calls: Vec<Call>,
    /// What cannot be called, by place in the file.
    pub uncallable: Vec<Uncallable>,
    /// Where the call of each cue stands in `calls`.
    places: Vec<Option<usize>>,
}

impl Calls {
    /// When every cue of a routine is called.
    #[must_use]
    pub fn of(routine: &Routine, timeline: &Timeline) -> Calls {
        let cues = &routine.cues;
        let states = vec![State::Unknown; cues.len()];
        let mut resolver = Resolver { routine, numbers: numbers(cues), timeline, states };
        let mut found = Calls::default();
        for cue in 0..cues.len() {
            resolver.resolve(cue, &mut found.uncallable);
        }
        for (index, (cue, state)) in cues.iter().zip(resolver.states).enumerate() {
            if let State::Goes { go, follows, with } = state {
                let leader = with.and_then(|with| cues.get(with)).unwrap_or(cue);
                let standby = standby_s(cue, leader).map(|before| &go - &before);
                let count = count_s(cue);
                found.calls.push(Call { cue: index, standby, go, count, follows, with, rank: 0 });
            }
        }
        found.uncallable.sort_by_key(|one| one.cues().first().copied());
        put_in_order(&mut found.calls, cues);
        found.places = vec![None; cues.len()];
        for (place, call) in found.calls.iter().enumerate() {
            found.places[call.cue] = Some(place);
        }
        found
    }

    /// The cues of a draft that cannot be called, as calls at a time that nobody knows.
    pub(crate) fn without_go(&self, routine: &Routine) -> Vec<Call> {
        let mut cues: Vec<usize> = self.uncallable.iter().flat_map(Uncallable::cues).collect();
        cues.sort_unstable();
        cues.dedup();
        let go = Time::zero().unknown(usize::MAX);
        let call = |cue| {
            let count = routine.cues.get(cue).and_then(count_s);
            Call { cue, standby: None, go: go.clone(), count, follows: None, with: None, rank: cue }
        };
        cues.into_iter().map(call).collect()
    }

    /// The call of a cue; `None` where it cannot be called.
    #[must_use]
    pub fn of_cue(&self, cue: usize) -> Option<&Call> {
        let place = *self.places.get(cue)?;
        self.calls.get(place?)
    }
}

/// Seconds from GO to completion: as written; none at all for a dark cue that says nothing.
fn count_s(cue: &Cue) -> Option<Seconds> {
    match &cue.count {
        Some(count) => Some(count.value.clone()),
        None => cue.dark.then(Seconds::zero),
    }
}

/// Seconds from stand-by to GO: as written, else 5, 30 for Fly and Deck, none for a follow and
/// what goes with one.
fn standby_s(cue: &Cue, leader: &Cue) -> Option<Seconds> {
    match (&cue.standby, &leader.trigger.value, cue.crew.value) {
        (Some(written), ..) => Some(written.value.clone()),
        (None, Trigger::Follow { .. }, _) => None,
        (None, _, Crew::Fly | Crew::Deck) => Some(Seconds::fraction(30, 1)),
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
        go: Time,
        follows: Option<usize>,
        with: Option<usize>,
    },
    Never,
}

/// Finds GOs, each once.
struct Resolver<'a> {
    routine: &'a Routine,
    numbers: BTreeMap<(Crew, CueNumber), usize>,
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

    /// The cue that a cue follows or goes with; `None` for a cue that stands by itself.
    fn named_by(&self, cue: usize) -> Option<Result<usize, (Crew, CueNumber)>> {
        let written = &self.routine.cues[cue];
        let (Trigger::Follow { crew, number, .. } | Trigger::With { crew, number }) =
            &written.trigger.value
        else {
            return None;
        };
        let named = (crew.unwrap_or(written.crew.value), number.value);
        Some(self.numbers.get(&named).copied().ok_or(named))
    }

    /// The cue that a follow follows. Marks and reports one that follows an unknown number.
    fn followed(&mut self, cue: usize, uncallable: &mut Vec<Uncallable>) -> Option<usize> {
        let followed = self.named_by(cue)?;
        if let Err((crew, number)) = followed {
            uncallable.push(Uncallable::UnknownNumber { cue, crew, number });
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
            Ok(goes) => goes,
            Err(why) => {
                uncallable.push(why);
                State::Never
            }
        }
    }

    fn go_of(&self, cue: usize) -> Result<State, Uncallable> {
        let written = &self.routine.cues[cue];
        let Some(named) = self.named_by(cue) else {
            let when = written.when.as_ref().ok_or(Uncallable::NoMoment { cue })?;
            let go = self.timeline.moment(self.routine, &when.value);
            return go
                .map(|go| State::Goes { go, follows: None, with: None })
                .map_err(|why| Uncallable::Unresolved { cue, why });
        };
        let Ok(followed) = named else {
            unreachable!("`Resolver::followed` has marked every follow of an unknown number");
        };
        let State::Goes { go, with, .. } = &self.states[followed] else {
            return Err(Uncallable::FollowsUncallable { cue, followed });
        };
        let Trigger::Follow { from, after, .. } = &written.trigger.value else {
            let with = Some(with.unwrap_or(followed));
            return Ok(State::Goes { go: go.clone(), follows: None, with });
        };
        let origin = match from {
            FollowFrom::Go => go.clone(),
            FollowFrom::Complete => {
                let count = count_s(&self.routine.cues[followed])
                    .ok_or(Uncallable::NoCompletion { cue, followed })?;
                go + &count
            }
        };
        Ok(State::Goes { go: &origin + after, follows: Some(followed), with: None })
    }
}

/// The first cue in the file of each crew and number.
fn numbers(cues: &[Cue]) -> BTreeMap<(Crew, CueNumber), usize> {
    let mut numbers = BTreeMap::new();
    for (index, cue) in cues.iter().enumerate() {
        if let Some(number) = &cue.number {
            numbers.entry((cue.crew.value, number.value)).or_insert(index);
        }
    }
    numbers
}

/// Puts calls in order of GO at the earliest, those of one instant by rank.
fn put_in_order(calls: &mut [Call], cues: &[Cue]) {
    let place = |index: usize| {
        let cue = &cues[index];
        (cue.crew.value, cue.number.as_ref().map(|number| number.value), index)
    };
    calls.sort_by_key(|call| {
        (place(call.with.unwrap_or(call.cue)), call.with.is_some(), place(call.cue))
    });
    calls.iter_mut().enumerate().for_each(|(rank, call)| call.rank = rank);
    // First by the nearest double, which is a total order, and by the latest where the earliest is
    // one: what never comes later than another stands before it. Then whatever is one instant,
    // judged as times are judged, by rank.
    let end = |time: Seconds| time.to_f64();
    calls.sort_by(|a, b| {
        let least = end(a.go.least()).total_cmp(&end(b.go.least()));
        least.then_with(|| end(a.go.most()).total_cmp(&end(b.go.most())))
    });
    let same = |a: &Call, b: &Call| (&a.go - &b.go).certain() == Some(&Seconds::zero());
    for together in calls.chunk_by_mut(same) {
        together.sort_by_key(|call| call.rank);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{
        compiled, cue, follow, lantern_quay, ms, name, placed, time, when,
    };
    use crate::routine::Moment;

    /// The worked example with other cues.
    fn with_cues(cues: Vec<Cue>) -> (Routine, Calls) {
        let mut quay = lantern_quay();
        quay.cues = cues;
        let calls = compiled(&quay).calls;
        (quay, calls)
    }

    fn at(crew: Crew, number: u32, thousandths: i64) -> Cue {
        cue(crew, number, Some(when(Moment::At(ms(thousandths)), 0)), Trigger::Called, "on")
    }

    fn counted(cue: Cue, thousandths: i64) -> Cue {
        Cue { count: Some(placed(ms(thousandths))), ..cue }
    }

    fn follows(crew: Crew, number: u32, trigger: Trigger) -> Cue {
        cue(crew, number, None, trigger, "follow on")
    }

    #[test]
    fn the_worked_example_is_called_as_it_was_worked_by_hand() {
        let calls = compiled(&lantern_quay()).calls;
        assert_eq!(calls.uncallable, []);
        let gos: Vec<_> = calls.calls.iter().map(|call| call.go.clone()).collect();
        assert_eq!(gos, [time(-20_000), time(7_500), time(31_100), time(34_600)]);
        let standbys: Vec<_> = calls.calls.iter().map(|call| call.standby.clone()).collect();
        assert_eq!(standbys, [Some(time(-25_000)), Some(time(2_500)), Some(time(26_100)), None]);
    }

    #[test]
    fn stand_by_is_5_s_before_go_and_30_for_fly_and_deck_unless_written() {
        let written = Cue { standby: Some(placed(ms(2_000))), ..at(Crew::Fly, 3, 0) };
        let (_, calls) = with_cues(vec![
            at(Crew::Spot, 1, 0),
            at(Crew::Fly, 1, 0),
            at(Crew::Deck, 1, 0),
            written,
        ]);
        let standbys: Vec<_> =
            calls.calls.iter().map(|call| (call.cue, call.standby.clone().unwrap())).collect();
        let expected =
            [(0, time(-5_000)), (1, time(-30_000)), (3, time(-2_000)), (2, time(-30_000))];
        assert_eq!(standbys, expected);
    }

    #[test]
    fn a_follow_goes_through_chains_and_from_crew_to_crew() {
        let mut from_sound = follow(7, FollowFrom::Go, 500);
        if let Trigger::Follow { crew, .. } = &mut from_sound {
            *crew = Some(Crew::Sound);
        }
        let (_, calls) = with_cues(vec![
            follows(Crew::Light, 2, follow(1, FollowFrom::Complete, 1_000)),
            follows(Crew::Light, 1, from_sound),
            counted(at(Crew::Sound, 7, 10_000), 9_000),
        ]);
        // Light 1 has no count, so the cue that waits for its completion has no GO.
        assert_eq!(calls.uncallable, [Uncallable::NoCompletion { cue: 0, followed: 1 }]);
        assert_eq!(calls.calls.iter().map(|call| call.cue).collect::<Vec<_>>(), [2, 1]);
        assert_eq!(calls.calls[1].go, time(10_500));
        let (_, calls) = with_cues(vec![
            follows(Crew::Light, 3, follow(2, FollowFrom::Complete, 250)),
            counted(follows(Crew::Light, 2, follow(1, FollowFrom::Complete, 1_000)), 2_000),
            counted(at(Crew::Light, 1, 10_000), 4_000),
        ]);
        let gos: Vec<_> = calls.calls.iter().map(|call| (call.cue, call.go.clone())).collect();
        assert_eq!(gos, [(2, time(10_000)), (1, time(15_000)), (0, time(17_250))]);
        assert_eq!(calls.calls[2].follows, Some(1));
    }

    fn on_light(number: u32, from: FollowFrom, after_ms: i64) -> Trigger {
        let mut trigger = follow(number, from, after_ms);
        if let Trigger::Follow { crew, .. } = &mut trigger {
            *crew = Some(Crew::Light);
        }
        trigger
    }

    fn with(crew: Crew, number: u32) -> Trigger {
        Trigger::With { crew: Some(crew), number: placed(CueNumber { tenths: number * 10 }) }
    }

    #[test]
    fn what_goes_with_a_cue_has_its_go_and_stands_behind_it() {
        let (_, calls) = with_cues(vec![
            follows(Crew::House, 1, with(Crew::Sound, 4)),
            follows(Crew::Fly, 2, with(Crew::House, 1)),
            at(Crew::Light, 9, 10_000),
            at(Crew::Sound, 4, 10_000),
            follows(Crew::Light, 10, on_light(9, FollowFrom::Go, 1_000)),
            follows(Crew::Spot, 3, with(Crew::Light, 10)),
        ]);
        assert_eq!(calls.uncallable, []);
        let lines: Vec<_> =
            calls.calls.iter().map(|call| (call.cue, call.go.clone(), call.with)).collect();
        let (ten, eleven) = (time(10_000), time(11_000));
        assert_eq!(
            lines,
            [
                (2, ten.clone(), None),
                (3, ten.clone(), None),
                (0, ten.clone(), Some(3)),
                (1, ten.clone(), Some(3)),
                (4, eleven.clone(), None),
                (5, eleven.clone(), Some(4)),
            ]
        );
        let standbys: Vec<_> = calls.calls.iter().map(|call| call.standby.clone()).collect();
        let five = Some(time(5_000));
        let thirty = Some(time(-20_000));
        assert_eq!(standbys, [five.clone(), five.clone(), five, thirty, None, None]);
    }

    #[test]
    fn cues_that_go_with_each_other_never_go() {
        let (_, calls) = with_cues(vec![
            follows(Crew::House, 1, with(Crew::Sound, 4)),
            follows(Crew::Sound, 4, with(Crew::House, 1)),
            follows(Crew::Light, 5, with(Crew::Light, 5)),
        ]);
        assert_eq!(calls.calls, []);
        let circle = |cues| Uncallable::Circle { cues };
        assert_eq!(calls.uncallable, [circle(vec![0, 1]), circle(vec![2])]);
    }

    #[test]
    fn what_cannot_be_called_says_why() {
        let (_, calls) = with_cues(vec![
            follows(Crew::Light, 1, follow(1, FollowFrom::Go, 0)),
            follows(Crew::Light, 2, follow(3, FollowFrom::Go, 0)),
            follows(Crew::Light, 4, follow(2, FollowFrom::Go, 0)),
            follows(Crew::Light, 3, follow(2, FollowFrom::Go, 0)),
            follows(Crew::Sound, 1, follow(4, FollowFrom::Go, 0)),
            cue(Crew::House, 0, None, Trigger::Called, "out"),
            cue(
                Crew::House,
                0,
                Some(when(Moment::Start(name("nowhere")), 0)),
                Trigger::Called,
                "out",
            ),
        ]);
        assert_eq!(calls.calls, []);
        let why = Unresolved::UnknownSection("nowhere".to_owned());
        assert_eq!(
            calls.uncallable,
            [
                Uncallable::Circle { cues: vec![0] },
                Uncallable::Circle { cues: vec![1, 3] },
                Uncallable::FollowsUncallable { cue: 2, followed: 1 },
                Uncallable::UnknownNumber {
                    cue: 4,
                    crew: Crew::Sound,
                    number: CueNumber { tenths: 40 }
                },
                Uncallable::NoMoment { cue: 5 },
                Uncallable::Unresolved { cue: 6, why },
            ]
        );
    }

    #[test]
    fn calls_at_one_instant_stand_by_crew_then_number_then_place_in_the_file() {
        let (_, calls) = with_cues(vec![
            at(Crew::Deck, 1, 5_000),
            at(Crew::Light, 10, 5_000),
            at(Crew::Light, 9, 5_000),
            at(Crew::House, 0, 5_000),
            at(Crew::House, 0, 5_000),
            at(Crew::Deck, 2, 4_000),
        ]);
        let order: Vec<_> = calls.calls.iter().map(|call| call.cue).collect();
        assert_eq!(order, [5, 3, 4, 2, 1, 0]);
    }

    #[test]
    fn a_chain_as_long_as_the_file_is_followed_to_its_end() {
        let mut cues: Vec<Cue> = (1..5_000)
            .map(|number| follows(Crew::Light, number, follow(number + 1, FollowFrom::Go, 1)))
            .collect();
        cues.push(at(Crew::Light, 5_000, 0));
        let (_, calls) = with_cues(cues);
        assert_eq!(calls.uncallable, []);
        assert_eq!(calls.calls.last().map(|call| call.go.clone()), Some(time(4_999)));
    }
}
