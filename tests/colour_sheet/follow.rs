//! Colours followed by hand from a loading, throw by throw: no part of the timeline is used.
//!
//! The hands must go on without a wait: alternating throws among themselves, or pairs among
//! themselves, uncrossed 2s held. Lists over hands hold left, then right.

use throwbook::notation::{Kind, Sequence, Step, WrittenThrow};

/// A prop on its way: the hand and the beat in which it is due, and what decides which of several
/// leaves first: the beat on which it came due there, that of its throw, its place in the writing.
#[derive(Clone, Debug)]
struct Going {
    hand: usize,
    due: u32,
    stands: (u32, u32, usize),
    colour: String,
}

/// Follows colours from a cold start.
pub(crate) struct Follower {
    at_rest: [Vec<String>; 2],
    going: Vec<Going>,
    beat: u32,
    next: usize,
}

impl Follower {
    /// From what is in the left and in the right hand, in order of leaving.
    pub(crate) fn new(hands: [Vec<String>; 2], lead_left: bool) -> Follower {
        Follower { at_rest: hands, going: Vec::new(), beat: 0, next: usize::from(!lead_left) }
    }

    /// The colours of throws between two sections.
    pub(crate) fn transition(&mut self, throws: &str) -> Vec<Option<String>> {
        let (sequence, _) = Sequence::read(throws).unwrap();
        sequence.steps.iter().flat_map(|step| self.step(step)).map(|(_, colour)| colour).collect()
    }

    /// The colours of a section, cycle by cycle, each throw at its number less one.
    pub(crate) fn section(
        &mut self,
        pattern: &str,
        begins: u32,
        beats: u32,
    ) -> Vec<Vec<Option<String>>> {
        let (sequence, _) = Sequence::read(pattern).unwrap();
        let mut steps = sequence.steps;
        let first = steps.iter().position(|step| step.throws().any(|one| one.number == begins));
        steps.rotate_left(first.unwrap());
        let ends = self.beat + beats;
        let mut cycles = Vec::new();
        while self.beat < ends {
            let mut cycle: Vec<Option<String>> = Vec::new();
            for step in &steps {
                if self.beat == ends {
                    break;
                }
                for (number, colour) in self.step(step) {
                    let place = usize::try_from(number).unwrap() - 1;
                    cycle.resize(cycle.len().max(place + 1), None);
                    cycle[place] = colour;
                }
            }
            cycles.push(cycle);
        }
        cycles
    }

    fn step(&mut self, step: &Step) -> Vec<(u32, Option<String>)> {
        let mut made = Vec::new();
        match step {
            Step::Alternating(throws) => {
                self.act(self.next, throws, Kind::Async, 0, &mut made);
                self.next = 1 - self.next;
                self.beat += 1;
            }
            Step::Pair([left, right]) => {
                self.act(0, left, Kind::Sync, 0, &mut made);
                self.act(1, right, Kind::Sync, left.len(), &mut made);
                self.beat += 2;
            }
        }
        made
    }

    fn act(
        &mut self,
        hand: usize,
        throws: &[WrittenThrow],
        kind: Kind,
        before: usize,
        made: &mut Vec<(u32, Option<String>)>,
    ) {
        let now = self.beat;
        let (mut here, elsewhere): (Vec<Going>, Vec<Going>) =
            self.going.drain(..).partition(|one| one.hand == hand && one.due == now);
        self.going = elsewhere;
        here.sort_by_key(|one| one.stands);
        let wanted = throws.iter().filter(|one| one.throw.value > 0).count();
        let called: Vec<String> = self.at_rest[hand].drain(..wanted - here.len()).collect();
        // What has rested since the cold start stands before all that came later.
        let resting = here.iter().filter(|one| one.stands.2 == usize::MAX).count();
        let called = called.into_iter().map(|colour| Going {
            hand,
            due: now,
            stands: (0, now, usize::MAX),
            colour,
        });
        here.splice(resting..resting, called.collect::<Vec<_>>());
        let mut here = here.into_iter();
        for (place, written) in throws.iter().enumerate() {
            let value = written.throw.value;
            if value == 0 {
                made.push((written.number, None));
                continue;
            }
            let prop = here.next().unwrap();
            made.push((written.number, Some(prop.colour.clone())));
            let crosses = match kind {
                Kind::Async => value % 2 == 1,
                Kind::Sync => written.throw.crossing,
            };
            let due = now + u32::from(value);
            let held = value == 2 && !crosses;
            self.going.push(Going {
                hand: if crosses { 1 - hand } else { hand },
                due,
                stands: if held { prop.stands } else { (due, now, before + place) },
                colour: prop.colour,
            });
        }
    }
}
