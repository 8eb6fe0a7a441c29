//! A routine replayed from its written throws, to hold the timeline against.
//!
//! Every prop carries where it is, when it is due there and when it came; a hand that is to throw
//! asks them all. From the timeline come only a section's transition, its length in beats, and the
//! hand where the rules leave it open (after pairs and from rest); everything else is worked out.
//! Beats count from 0 in each run.

use std::cmp::Reverse;
use std::num::NonZeroU32;

use num_rational::Ratio;
use throwbook::hand::Hand;
use throwbook::notation::{Kind, Sequence, Step, Throw, WrittenThrow};
use throwbook::patterns::hands::ActionKind;
use throwbook::routine::{HandColours, Juggle, Part, Routine, Twos};
use throwbook::time::BeatPosition;
use throwbook::timeline::{Action, Prop, Run, Timeline};

/// Props in the left and in the right hand, in the order in which they leave.
type InHands = [Vec<Prop>; 2];

/// A prop that has left its rest.
#[derive(Clone, Debug)]
struct Going {
    prop: Prop,
    hand: Hand,
    due: u32,
    /// When it came due here first, the beat of its throw, its place among that beat's throws;
    /// `None` while it has only rested here since the cold start.
    came: Option<(u32, u32, usize)>,
    caught: Option<BeatPosition>,
    /// Its last action.
    by: usize,
}

/// Props that have rested since the cold start.
#[derive(Debug)]
enum Rest {
    /// As many as are called for, numbered in that order; says from which hand each was called.
    Endless(Vec<Hand>),
    /// These.
    Given(InHands),
}

/// Who threw last.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Before {
    Nobody,
    /// One hand; this one is due next.
    OneHand(Hand),
    Both,
}

#[derive(Debug)]
struct Replay {
    dwell: Ratio<i64>,
    beat: u32,
    before: Before,
    going: Vec<Going>,
    rest: Rest,
    /// Place of each prop in its hand at the cold start.
    places: InHands,
    log: Vec<Action>,
    section: u32,
    twos: Twos,
}

impl Replay {
    fn new(dwell: Ratio<i64>, rest: Rest) -> Replay {
        let places = match &rest {
            Rest::Endless(_) => InHands::default(),
            Rest::Given(hands) => hands.clone(),
        };
        Replay {
            dwell,
            beat: 0,
            before: Before::Nobody,
            going: Vec::new(),
            rest,
            places,
            log: Vec::new(),
            section: 0,
            twos: Twos::Held,
        }
    }

    /// Every prop of that hand comes one beat later; those in the air are caught as ever.
    fn wait(&mut self, hand: Hand) {
        for going in self.going.iter_mut().filter(|going| going.hand == hand) {
            if let Some(came) = &mut going.came
                && came.0 == going.due
            {
                came.0 += 1;
            }
            going.due += 1;
            self.log[going.by].due += 1;
        }
    }

    /// One hand goes on: `open` is it where it may be either.
    fn one_hand(&mut self, open: Hand) -> Hand {
        match self.before {
            Before::Nobody => open,
            Before::OneHand(next) => next,
            Before::Both => {
                self.wait(open.other());
                open
            }
        }
    }

    fn both_hands(&mut self) {
        if let Before::OneHand(next) = self.before {
            self.wait(next);
            self.beat += 1;
        }
    }

    /// A step, with what is to be written beside each of its throws.
    fn step(
        &mut self,
        step: &Step,
        open: Hand,
        mut numbers: impl FnMut(&WrittenThrow) -> (Option<NonZeroU32>, u32),
    ) {
        let mut place = 0;
        match step {
            Step::Alternating(throws) => {
                let hand = self.one_hand(open);
                self.act(hand, throws, Kind::Async, &mut place, &mut numbers);
                self.beat += 1;
                self.before = Before::OneHand(hand.other());
            }
            Step::Pair([left, right]) => {
                self.both_hands();
                self.act(Hand::Left, left, Kind::Sync, &mut place, &mut numbers);
                self.act(Hand::Right, right, Kind::Sync, &mut place, &mut numbers);
                self.beat += 2;
                self.before = Before::Both;
            }
        }
        let late = self.going.iter().find(|going| going.due < self.beat);
        assert!(late.is_none(), "on beat {} nobody threw {late:?}", self.beat);
    }

    fn act(
        &mut self,
        hand: Hand,
        throws: &[WrittenThrow],
        kind: Kind,
        place: &mut usize,
        numbers: &mut impl FnMut(&WrittenThrow) -> (Option<NonZeroU32>, u32),
    ) {
        let beat = self.beat;
        let here = |going: &Going| going.hand == hand && going.due == beat;
        let (mut standing, others): (Vec<Going>, _) = self.going.drain(..).partition(here);
        self.going = others;
        // `None` comes before any landing; the props at rest leave in their order.
        standing.sort_by_key(|going| {
            (going.came, self.places[hand.index()].iter().position(|&prop| prop == going.prop))
        });
        let wanted = throws.iter().filter(|written| written.throw.value > 0).count();
        assert!(standing.len() <= wanted, "beat {beat}, {hand} hand: {standing:?} for {throws:?}");
        let at_rest = standing.iter().filter(|going| going.came.is_none()).count();
        let called = (standing.len()..wanted).map(|_| self.call(hand));
        let called: Vec<Going> = called.collect();
        standing.splice(at_rest..at_rest, called);
        let mut standing = standing.into_iter();
        for written in throws {
            let Throw { value, crossing } = written.throw;
            let held = kind_of(written.throw, self.twos);
            let crosses = if kind == Kind::Sync { crossing } else { value % 2 == 1 };
            let to = if crosses { hand.other() } else { hand };
            let taken = if value == 0 { None } else { standing.next() };
            let (number, written_as) = numbers(written);
            let due = beat + u32::from(value);
            self.log.push(Action {
                beat,
                hand,
                throw: written.throw,
                kind: held,
                prop: taken.as_ref().map(|going| going.prop),
                section: self.section,
                number,
                written: written_as,
                to,
                due,
            });
            if let Some(mut going) = taken {
                going.hand = to;
                going.due = due;
                going.by = self.log.len() - 1;
                if held != ActionKind::Held {
                    going.came = Some((due, beat, *place));
                    let now = BeatPosition::from_integer(i64::from(beat));
                    going.caught = Some(match value {
                        1 => now + Ratio::new(1, 2),
                        _ => now + Ratio::from_integer(i64::from(value)) - self.dwell * 2,
                    });
                }
                self.going.push(going);
            }
            *place += 1;
        }
    }

    /// The next prop at rest in that hand.
    fn call(&mut self, hand: Hand) -> Going {
        let prop = match &mut self.rest {
            Rest::Endless(called) => {
                called.push(hand);
                let prop = Prop(u8::try_from(called.len() - 1).unwrap());
                self.places[hand.index()].push(prop);
                prop
            }
            Rest::Given(hands) => {
                let hand_now = &mut hands[hand.index()];
                assert!(!hand_now.is_empty(), "beat {}: the {hand} hand has no prop", self.beat);
                hand_now.remove(0)
            }
        };
        Going { prop, hand, due: self.beat, came: None, caught: None, by: 0 }
    }

    /// The throws before a section's own; `open(n)` is the hand of action n where it is open.
    fn transition(&mut self, throws: &Sequence, open: impl Fn(usize) -> Hand) {
        let mut count = 0;
        for step in &throws.steps {
            let open = open(self.log.len());
            self.step(step, open, |_| {
                count += 1;
                (None, count)
            });
        }
    }

    fn pattern(&mut self, pattern: &Sequence, lead: Option<Hand>, beats: u32) {
        let in_cycle = u32::try_from(pattern.throws().count()).unwrap();
        let beats_in_cycle: u32 = pattern.steps.iter().map(Step::beats).sum();
        let mut gone = 0;
        for (index, step) in pattern.steps.iter().enumerate().cycle() {
            // The wait into a pattern comes even when the pattern is not begun.
            if gone >= beats {
                break;
            }
            assert!(gone > 0 || index == 0);
            let passed = gone / beats_in_cycle * in_cycle;
            self.step(step, lead.unwrap_or(Hand::Right), |written| {
                (NonZeroU32::new(passed + written.number), written.number)
            });
            gone += step.beats();
        }
        assert_eq!(gone, beats);
    }

    /// Which prop is in which hand when all are at rest, in the order of leaving.
    fn gathered(&self) -> InHands {
        let Rest::Given(resting) = &self.rest else { panic!("not known which props there are") };
        Hand::BOTH.map(|hand| {
            let place = |prop| self.places[hand.index()].iter().position(|&old| old == prop);
            let mut caught: Vec<&Going> = self.going.iter().collect();
            caught.retain(|going| going.hand == hand && going.caught.is_some());
            caught.sort_by_key(|going| (Reverse(going.caught), going.came));
            let never = self.going.iter().filter(|going| going.caught.is_none());
            let never = never.filter(|going| going.hand == hand).map(|going| going.prop);
            let mut never: Vec<Prop> = never.chain(resting[hand.index()].clone()).collect();
            never.sort_by_key(|&prop| place(prop));
            caught.iter().map(|going| going.prop).chain(never).collect()
        })
    }
}

fn kind_of(throw: Throw, twos: Twos) -> ActionKind {
    match (throw.value, throw.crossing, twos) {
        (0, ..) => ActionKind::Empty,
        (1, ..) | (2, true, _) => ActionKind::HandedAcross,
        (2, false, Twos::Held) => ActionKind::Held,
        _ => ActionKind::Thrown,
    }
}

fn juggle_of(routine: &Routine, section: usize) -> &Juggle {
    match &routine.score[section].part {
        Part::Juggle(juggle) => juggle,
        other => panic!("{other:?} is not juggled"),
    }
}

/// The natural loading of a run: each hand's props in the order of leaving, named in the order in
/// which the whole run calls for them. What it never calls for comes last, as it is named there.
fn natural(routine: &Routine, timeline: &Timeline, run: &Run) -> InHands {
    let mut replay = Replay::new(timeline.dwell, Rest::Endless(Vec::new()));
    run_through(&mut replay, routine, timeline, run);
    let mut hands = replay.places.clone();
    let called = hands.iter().flatten().count();
    let mut never: Vec<Prop> = Vec::new();
    for (hand, named) in hands.iter_mut().zip(&run.loading.hands) {
        never.extend(&named[hand.len()..]);
        hand.extend(&named[hand.len()..]);
    }
    never.sort_unstable();
    let left_over = (called..run.colours.len()).map(|prop| Prop(u8::try_from(prop).unwrap()));
    assert_eq!(never, left_over.collect::<Vec<_>>());
    hands
}

/// The transition of a section.
fn enter(replay: &mut Replay, routine: &Routine, timeline: &Timeline, run: &Run, section: usize) {
    let span = timeline.sections[section].juggle.as_ref().unwrap();
    let began = replay.log.len();
    replay.section = u32::try_from(section).unwrap();
    replay.twos = juggle_of(routine, section).twos;
    if let Some(taken) = &span.transition {
        replay.transition(&taken.throws, |index| {
            run.actions[span.actions.start + index - began].hand
        });
    }
}

/// All sections of a run.
fn run_through(replay: &mut Replay, routine: &Routine, timeline: &Timeline, run: &Run) {
    let juggled = run.sections.clone().filter(|&at| timeline.sections[at].juggle.is_some());
    for section in juggled {
        let span = timeline.sections[section].juggle.as_ref().unwrap();
        assert_eq!((span.first_beat, span.actions.start), (replay.beat, replay.log.len()));
        enter(replay, routine, timeline, run, section);
        let juggle = juggle_of(routine, section);
        if let Some(demanded) = &juggle.lead {
            assert_eq!(span.lead, Some(demanded.value));
        }
        let pattern = &juggle.pattern.pattern;
        if let (Before::OneHand(next), Kind::Async) = (replay.before, pattern.kind()) {
            assert_eq!(span.lead, Some(next));
        }
        replay.pattern(pattern.sequence(), span.lead, span.beats);
        assert_eq!(span.own_first_beat + span.beats, replay.beat);
        assert_eq!(span.beats, span.cycles.0 * pattern.period() + span.cycles.1);
        assert_eq!(span.actions.end, replay.log.len());
    }
}

/// Whether a loading may call a prop so.
fn is_called(routine: &Routine, set: usize, prop: Prop, name: &str) -> bool {
    let set = &routine.sets[set];
    let front = &set.colours[usize::from(prop.0)].value;
    let back = set.backs.get(usize::from(prop.0)).map(|back| &back.value);
    name == front || back.is_some_and(|back| name == format!("{front}/{back}"))
}

/// Every order of some props.
fn orders(props: &[Prop]) -> Vec<Vec<Prop>> {
    if props.is_empty() {
        return vec![Vec::new()];
    }
    let first = |at: usize| {
        let mut rest = props.to_vec();
        let first = rest.remove(at);
        orders(&rest).into_iter().map(move |rest| [vec![first], rest].concat())
    };
    (0..props.len()).flat_map(first).collect()
}

/// Every way in which a loading's names can be the set's props: left hand, then right.
fn namings(routine: &Routine, set: usize, written: &HandColours) -> Vec<InHands> {
    let props = routine.sets[set].colours.len();
    let all: Vec<Prop> = (0..props).map(|prop| Prop(u8::try_from(prop).unwrap())).collect();
    let names: Vec<&str> =
        written.left.iter().chain(&written.right).map(|name| name.value.as_str()).collect();
    let fits = |order: &Vec<Prop>| {
        order.len() == names.len()
            && order.iter().zip(&names).all(|(&prop, name)| is_called(routine, set, prop, name))
    };
    let split = |order: Vec<Prop>| {
        let (left, right) = order.split_at(written.left.len());
        [left.to_vec(), right.to_vec()]
    };
    orders(&all).into_iter().filter(fits).map(split).collect()
}

/// How many props are in another hand.
fn moved(before: &InHands, after: &InHands) -> usize {
    after
        .iter()
        .zip(before)
        .flat_map(|(after, before)| after.iter().filter(|prop| !before.contains(prop)))
        .count()
}

/// A written loading, of a new set or of props that are in these hands already: what the timeline
/// made of it, if that is one of the ways to understand it.
fn written(routine: &Routine, run: &Run, kept: Option<&InHands>) -> Option<InHands> {
    let loading = juggle_of(routine, run.sections.start).written_loading()?;
    let ways = namings(routine, run.set, loading);
    assert!(ways.contains(&run.loading.hands), "{:?} is no way", run.loading);
    if let Some(kept) = kept {
        assert_eq!(moved(kept, &run.loading.hands), 0);
    }
    Some(run.loading.hands.clone())
}

/// What the hands hold after a pause that moves as few props as it can.
fn regripped(routine: &Routine, timeline: &Timeline, pause: usize, held: InHands) -> InHands {
    let Part::Pause(entry) = &routine.score[pause].part else { return held };
    let regrip = &timeline.sections[pause].regrip;
    let Some(written) = &entry.regrip else {
        assert_eq!(*regrip, None);
        return held;
    };
    let regrip = regrip.as_ref().expect("the timeline says what was moved");
    assert_eq!(regrip.before.hands, held);
    let ways = namings(routine, regrip.set, &written.value);
    assert!(ways.contains(&regrip.after.hands));
    let fewest = ways.iter().map(|way| moved(&held, way)).min().unwrap();
    assert_eq!((moved(&held, &regrip.after.hands), regrip.moves.len()), (fewest, fewest));
    // The moves and the orders that stay make the one loading of the other.
    for hand in Hand::BOTH {
        let mut hands = held[hand.index()].clone();
        hands.retain(|prop| regrip.moves.iter().all(|moved| moved.prop != *prop));
        for moved in regrip.moves.iter().filter(|moved| moved.to == hand) {
            assert!(held[moved.from.index()].contains(&moved.prop) && moved.from != hand);
            hands.insert(moved.place.min(hands.len()), moved.prop);
        }
        let same = hands == regrip.after.hands[hand.index()];
        assert_eq!(same, !regrip.reordered[hand.index()], "{regrip:?}");
    }
    regrip.after.hands.clone()
}

/// The face of every action's prop: all change with the first own throw of a section that says so.
fn hold_faces(routine: &Routine, run: &Run, back_before: bool) -> bool {
    let set = &routine.sets[run.set];
    let mut back = back_before;
    let mut section = None;
    for action in &run.actions {
        if action.number.is_some() && section != Some(action.section) {
            section = Some(action.section);
            let other = juggle_of(routine, action.section as usize).shows_other_faces();
            back ^= other && !set.backs.is_empty();
        }
        let faces = if back { &set.backs } else { &set.colours };
        let seen = run.colour(action).map(|colour| &routine.colours[colour].name.value);
        let expected = action.prop.map(|prop| &faces[usize::from(prop.0)].value);
        assert_eq!(seen, expected, "{action:?}");
    }
    back
}

/// Replays a routine and says where its timeline differs.
pub(crate) fn hold_to_replay(routine: &Routine, timeline: &Timeline) {
    let mut kept: Option<(usize, InHands, bool)> = None;
    let mut entry = 0;
    for run in &timeline.runs {
        let kept_here = kept.take().map(|(set, hands, back)| {
            let pauses = entry..run.sections.start;
            let hands = pauses.fold(hands, |hands, at| regripped(routine, timeline, at, hands));
            (set, hands, back)
        });
        let kept_here = kept_here.filter(|(set, ..)| *set == run.set);
        let back = kept_here.as_ref().is_some_and(|(.., back)| *back);
        let kept_here = kept_here.map(|(_, hands, _)| hands);
        let loading = written(routine, run, kept_here.as_ref())
            .or(kept_here)
            .unwrap_or_else(|| natural(routine, timeline, run));
        assert_eq!(run.loading.hands, loading, "loading of the run from {:?}", run.sections);
        let mut replay = Replay::new(timeline.dwell, Rest::Given(loading));
        run_through(&mut replay, routine, timeline, run);
        assert_eq!(run.actions.len(), replay.log.len());
        for (ours, theirs) in replay.log.iter().zip(&run.actions) {
            assert_eq!(ours, theirs, "ours, then the timeline's");
        }
        assert_eq!(run.beats, replay.beat);
        let hands = replay.gathered();
        assert_eq!(run.gather.hands.hands, hands, "the gather after {:?}", run.sections);
        let caught = replay.log.iter().filter_map(|action| action.caught(timeline.dwell)).max();
        assert_eq!(run.gather.last_catch, caught.map(|position| run.tempo.at(position)));
        let back = hold_faces(routine, run, back);
        kept = Some((run.set, hands, back));
        entry = run.sections.end;
    }
}
