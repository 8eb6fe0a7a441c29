//! Which prop is where, followed a second time: one list of props, each looked at on each beat.
//!
//! Written from the rules, not from the compiler. It takes from the timeline only which throws
//! stand between two sections and which hand leads, and finds out all else: the natural loading,
//! the prop of every action, where and when it is due, and what each hand holds after the gather.

use num_rational::Ratio;
use throwbook::hand::Hand;
use throwbook::notation::{Kind, Step, WrittenThrow};
use throwbook::routine::{Juggle, Part, Routine, Twos};
use throwbook::timeline::{HandLoading, Run, Timeline};

/// What one hand did with one prop: beat, hand, throw, prop, hand in which it is next, due beat.
pub(crate) type Told = (u32, Hand, String, Option<u8>, Hand, u32);

/// Where a prop is.
#[derive(Clone, Debug)]
enum Where {
    /// In a hand since the cold start, so many props before it.
    AtRest { hand: Hand, place: usize },
    /// To be thrown from a hand on a beat.
    Due { hand: Hand, beat: u32, since: Since, told: usize },
}

/// What decides which of several props leaves first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Since {
    /// At rest since the cold start, and its place in the hand.
    TheStart(usize),
    /// Came due on this beat, thrown on that one, so many throws of that beat before it.
    Beat { came: u32, thrown: u32, order: usize },
}

pub(crate) struct Followed {
    props: Vec<Where>,
    caught: Vec<Option<Ratio<i64>>>,
    /// Where the loading is natural, props are put into hands as they are called for.
    pub(crate) loading: [Vec<u8>; 2],
    natural_of: Option<usize>,
    beat: u32,
    pub(crate) told: Vec<Told>,
    dwell: Ratio<i64>,
}

/// Follows a run. `kept` is what the hands hold before it; without it the loading is natural.
pub(crate) fn follow(
    routine: &Routine,
    timeline: &Timeline,
    run: &Run,
    kept: Option<&HandLoading>,
) -> Followed {
    let set = routine.sets[run.set].colours.len();
    let mut followed = Followed {
        props: Vec::new(),
        caught: vec![None; set],
        loading: [Vec::new(), Vec::new()],
        natural_of: kept.is_none().then_some(set),
        beat: 0,
        told: Vec::new(),
        dwell: timeline.dwell,
    };
    if let Some(kept) = kept {
        let places = |hand: Hand| {
            kept.in_hand(hand).iter().enumerate().map(move |(place, prop)| (*prop, hand, place))
        };
        let mut all: Vec<_> = Hand::BOTH.into_iter().flat_map(places).collect();
        all.sort_by_key(|(prop, ..)| *prop);
        followed.props =
            all.iter().map(|&(_, hand, place)| Where::AtRest { hand, place }).collect();
        followed.loading = Hand::BOTH
            .map(|hand| kept.in_hand(hand).iter().map(|prop| prop.0).collect::<Vec<u8>>());
    }
    // The hand that acts next alone; `None` before the first throw and after pairs.
    let mut alone: Option<Hand> = None;
    let mut began = false;
    for index in run.sections.clone() {
        let Part::Juggle(juggle) = &routine.score[index].part else { unreachable!("a run") };
        let span = timeline.sections[index].juggle.as_ref().unwrap();
        let between = span.transition.as_ref().map_or(&[][..], |taken| &taken.throws.steps);
        let own = &juggle.pattern.pattern.sequence().steps;
        let last_alternating = between.iter().rev().take_while(|step| step.kind() == Kind::Async);
        // The hand that leads after pairs or from rest leads so many throws before the section.
        let lead_in = u32::try_from(last_alternating.count()).unwrap();
        let end_of_own = span.own_first_beat + span.beats;
        let mut steps = between.iter().chain(own.iter().cycle());
        loop {
            let in_own = followed.beat >= span.own_first_beat;
            if in_own && followed.beat >= end_of_own {
                break;
            }
            let step = steps.next().unwrap();
            match step {
                Step::Alternating(throws) => {
                    let hand = alone.unwrap_or_else(|| {
                        // From rest or from pairs. Throws of both notations are not used here.
                        let hand = span.lead.unwrap().after(lead_in);
                        if began {
                            followed.wait(hand.other());
                        }
                        hand
                    });
                    followed.act(juggle, hand, throws, step.kind(), &mut 0);
                    followed.beat += 1;
                    alone = Some(hand.other());
                }
                Step::Pair(hands) => {
                    if let Some(next) = alone.take() {
                        followed.wait(next);
                        followed.beat += 1;
                    }
                    let mut order = 0;
                    for hand in Hand::BOTH {
                        followed.act(juggle, hand, &hands[hand.index()], step.kind(), &mut order);
                    }
                    followed.beat += 2;
                }
            }
            began = true;
        }
    }
    followed
}

impl Followed {
    fn wait(&mut self, waiting: Hand) {
        for prop in &mut self.props {
            if let Where::Due { hand, beat, since, told } = prop
                && *hand == waiting
            {
                if let Since::Beat { came, .. } = since
                    && came == beat
                {
                    *came += 1;
                }
                *beat += 1;
                self.told[*told].5 = *beat;
            }
        }
    }

    fn act(
        &mut self,
        juggle: &Juggle,
        hand: Hand,
        throws: &[WrittenThrow],
        kind: Kind,
        order: &mut usize,
    ) {
        let now = self.beat;
        let wanted = throws.iter().filter(|written| written.throw.value > 0).count();
        let mut here: Vec<(Since, usize)> = Vec::new();
        for (prop, place) in self.props.iter().enumerate() {
            if let Where::Due { hand: there, beat, since, .. } = place
                && (*there, *beat) == (hand, now)
            {
                here.push((*since, prop));
            }
        }
        assert!(here.len() <= wanted, "{here:?} meet in the {hand} hand on beat {now}");
        while here.len() < wanted {
            here.push(self.called_from_rest(hand, now));
        }
        here.sort();
        let mut here = here.into_iter();
        for written in throws {
            let throw = written.throw;
            let value = u32::from(throw.value);
            let to = throw.to(hand, kind);
            let held = juggle.twos == Twos::Held && value == 2 && !throw.crossing;
            let prop = if value == 0 { None } else { here.next() };
            let number = prop.map(|(_, prop)| u8::try_from(prop).unwrap());
            self.told.push((now, hand, throw.to_string(), number, to, now + value));
            if let Some((since, prop)) = prop {
                let told = self.told.len() - 1;
                let thrown = Since::Beat { came: now + value, thrown: now, order: *order };
                let since = if held { since } else { thrown };
                self.props[prop] = Where::Due { hand: to, beat: now + value, since, told };
                if !held {
                    let flies = if value == 1 {
                        Ratio::new(1, 2)
                    } else {
                        Ratio::from_integer(i64::from(value)) - self.dwell * 2
                    };
                    self.caught[prop] = Some(flies + i64::from(now));
                }
            }
            *order += 1;
        }
    }

    /// The next prop that has rested in a hand since the cold start.
    fn called_from_rest(&mut self, hand: Hand, now: u32) -> (Since, usize) {
        if let Some(set) = self.natural_of {
            let prop = self.props.len();
            assert!(prop < set, "no prop is left for the {hand} hand on beat {now}");
            let place = self.loading[hand.index()].len();
            self.loading[hand.index()].push(u8::try_from(prop).unwrap());
            // It leaves at once.
            let since = Since::TheStart(place);
            self.props.push(Where::Due { hand, beat: u32::MAX, since, told: usize::MAX });
            return (since, prop);
        }
        let resting = self.props.iter_mut().enumerate().filter_map(|(prop, at)| match *at {
            Where::AtRest { hand: there, place } if there == hand => Some((place, prop, at)),
            _ => None,
        });
        let (place, prop, at) = resting
            .min_by_key(|(place, ..)| *place)
            .unwrap_or_else(|| panic!("the {hand} hand has no prop on beat {now}"));
        let since = Since::TheStart(place);
        *at = Where::Due { hand, beat: u32::MAX, since, told: usize::MAX };
        (since, prop)
    }

    /// What the hands hold in the end, in the order in which it leaves.
    pub(crate) fn gathered(&self) -> [Vec<u8>; 2] {
        Hand::BOTH.map(|hand| {
            let mut caught = Vec::new();
            let mut never = Vec::new();
            for (prop, at) in self.props.iter().enumerate() {
                let (there, since) = match *at {
                    Where::AtRest { hand, place } => (hand, Since::TheStart(place)),
                    Where::Due { hand, since, .. } => (hand, since),
                };
                if there == hand {
                    match self.caught[prop] {
                        Some(at) => caught.push((-at, since, prop)),
                        None => never.push((since, prop)),
                    }
                }
            }
            caught.sort();
            never.sort();
            let caught = caught.into_iter().map(|(.., prop)| prop);
            let all = caught.chain(never.into_iter().map(|(_, prop)| prop));
            all.map(|prop| u8::try_from(prop).unwrap()).collect()
        })
    }
}
