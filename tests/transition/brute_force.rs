//! The same search without any idea: every throw tried from every explicit schedule.
//!
//! Shares nothing with the library but its types for throws and hands.

use std::collections::HashMap;

use throwbook::hand::Hand;
use throwbook::notation::{Kind, Throw};

/// Props due, in hand or at rest, and which hand acts next.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct State {
    /// Left, then right; by beats from now.
    pub(crate) due: [Vec<u8>; 2],
    /// Left, then right: props at rest.
    pub(crate) rest: [u8; 2],
    /// The hand due next; `None` between pairs.
    pub(crate) next: Option<Hand>,
}

/// What must be reached.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// Due when the right hand leads (or a pair comes); left, then right.
    pub(crate) due: [Vec<u8>; 2],
    pub(crate) kind: Kind,
    pub(crate) lead: Option<Hand>,
    pub(crate) preferred: Hand,
    pub(crate) highest: u8,
    pub(crate) at_once: usize,
}

/// A way; derived order is the order of preference.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct BruteWay {
    pub(crate) multiplexes: usize,
    pub(crate) highest: u8,
    pub(crate) throws: Vec<Vec<Throw>>,
    /// Slots in the notation that the origin does not have.
    pub(crate) slots_after_change: usize,
    pub(crate) not_preferred: bool,
    pub(crate) beats: u32,
    pub(crate) waits: Option<Hand>,
    pub(crate) begins: Option<Hand>,
    pub(crate) lead: Option<Hand>,
}

fn at(due: &[u8], beat: usize) -> u8 {
    due.get(beat).copied().unwrap_or(0)
}

fn trim(mut due: Vec<u8>) -> Vec<u8> {
    while due.last() == Some(&0) {
        due.pop();
    }
    due
}

/// Every list of throws (highest first, straight before crossing) that one hand can make.
fn throws_of(count: usize, kind: Kind, highest: u8) -> Vec<Vec<Throw>> {
    let mut single: Vec<Throw> = Vec::new();
    for value in (1..=highest).rev() {
        match kind {
            Kind::Async => single.push(Throw::straight(value)),
            Kind::Sync if value % 2 == 0 => {
                single.extend([Throw::straight(value), Throw::crossing(value)]);
            }
            Kind::Sync => {}
        }
    }
    let mut lists = vec![(vec![], 0)];
    for _ in 0..count {
        lists = lists
            .into_iter()
            .flat_map(|(list, from)| {
                (from..single.len()).map({
                    let single = &single;
                    move |index| {
                        let mut list: Vec<Throw> = list.clone();
                        list.push(single[index]);
                        (list, index)
                    }
                })
            })
            .collect();
    }
    lists.into_iter().map(|(list, _)| list).collect()
}

/// Throws, the beats they take, the hand that waits, what comes of it.
type Move = (Vec<Vec<Throw>>, u32, Option<Hand>, State);

impl State {
    fn at_goal(&self, wanted: &Wanted) -> bool {
        let due = match (self.next, wanted.kind) {
            (Some(Hand::Right), Kind::Async) | (None, Kind::Sync) => wanted.due.clone(),
            (Some(Hand::Left), Kind::Async) => [wanted.due[1].clone(), wanted.due[0].clone()],
            _ => return false,
        };
        if self.next.is_some() && wanted.lead.is_some() && wanted.lead != self.next {
            return false;
        }
        (0..2).all(|hand| {
            let span = self.due[hand].len().max(due[hand].len());
            let lacking =
                |beat| i32::from(at(&due[hand], beat)) - i32::from(at(&self.due[hand], beat));
            (0..span).all(|beat| lacking(beat) >= 0)
                && (0..span).map(lacking).sum::<i32>() == i32::from(self.rest[hand])
        })
    }

    /// Throws of some hands on this beat, and what is left one beat later per `beats`.
    fn act(&self, hands: &[Hand], kind: Kind, wanted: &Wanted) -> Vec<(Vec<Vec<Throw>>, State)> {
        let mut results = vec![(Vec::new(), self.clone())];
        for &hand in hands {
            let mut grown = Vec::new();
            for (made, state) in results {
                let due = usize::from(at(&self.due[hand.index()], 0));
                for from_rest in 0..=usize::from(self.rest[hand.index()]) {
                    if due + from_rest > wanted.at_once {
                        continue;
                    }
                    for list in throws_of(due + from_rest, kind, wanted.highest) {
                        let mut state: State = state.clone();
                        state.rest[hand.index()] -= from_rest as u8;
                        for throw in &list {
                            let to = match kind {
                                Kind::Async => hand.after(u32::from(throw.value)),
                                Kind::Sync if throw.crossing => hand.other(),
                                Kind::Sync => hand,
                            };
                            let due = &mut state.due[to.index()];
                            let beat = usize::from(throw.value);
                            due.resize(due.len().max(beat + 1), 0);
                            due[beat] += 1;
                        }
                        let mut made: Vec<Vec<Throw>> = made.clone();
                        made.push(if list.is_empty() { vec![Throw::straight(0)] } else { list });
                        grown.push((made, state));
                    }
                }
            }
            results = grown;
        }
        let beats = if kind == Kind::Async { 1 } else { 2 };
        let fits = |state: &State| {
            let due = state.due.iter().flatten().all(|&due| usize::from(due) <= wanted.at_once);
            // Whoever does not act on these beats can have nothing due on them.
            let idle = Hand::BOTH.iter().all(|hand| {
                let from = usize::from(hands.contains(hand));
                (from..beats).all(|beat| at(&state.due[hand.index()], beat) == 0)
            });
            due && idle
        };
        results.retain(|(_, state)| fits(state));
        for (_, state) in &mut results {
            state.due = state.due.clone().map(|due| trim(due.get(beats..).unwrap_or(&[]).to_vec()));
            state.next = state.next.map(Hand::other);
        }
        results
    }

    fn after_wait(&self, hand: Hand) -> State {
        let mut state = self.clone();
        state.due[hand.index()].insert(0, 0);
        state
    }

    /// Every move.
    fn moves(&self, wanted: &Wanted) -> Vec<Move> {
        let mut moves = Vec::new();
        match self.next {
            Some(next) => {
                for (made, state) in self.act(&[next], Kind::Async, wanted) {
                    moves.push((made, 1, None, state));
                }
                if wanted.kind == Kind::Sync {
                    // The hand waits one beat; then both hands are due.
                    let mut state = self.after_wait(next);
                    state.due = state.due.map(|due| trim(due.get(1..).unwrap_or(&[]).to_vec()));
                    state.next = None;
                    moves.push((vec![], 1, Some(next), state));
                }
            }
            None => {
                for (made, state) in self.act(&Hand::BOTH, Kind::Sync, wanted) {
                    moves.push((made, 2, None, state));
                }
                if wanted.kind == Kind::Async {
                    for lead in Hand::BOTH {
                        let mut state = self.after_wait(lead.other());
                        state.due = state.due.map(trim);
                        state.next = Some(lead);
                        moves.push((vec![], 0, Some(lead.other()), state));
                    }
                }
            }
        }
        moves
    }
}

type Memo = HashMap<(State, u32), bool>;

fn reaches(state: &State, beats: u32, wanted: &Wanted, memo: &mut Memo) -> bool {
    if beats == 0 && state.at_goal(wanted) {
        return true;
    }
    if let Some(&known) = memo.get(&(state.clone(), beats)) {
        return known;
    }
    let reached = state
        .moves(wanted)
        .into_iter()
        .any(|(_, taken, _, next)| taken <= beats && reaches(&next, beats - taken, wanted, memo));
    memo.insert((state.clone(), beats), reached);
    reached
}

/// The least beats, and every way of that length in order.
pub(crate) fn brute_ways(
    starts: &[State],
    wanted: &Wanted,
    most_beats: u32,
) -> Option<(u32, Vec<BruteWay>)> {
    let mut memo = Memo::new();
    for beats in 0..=most_beats {
        let mut ways = Vec::new();
        for start in starts {
            let way = BruteWay {
                multiplexes: 0,
                highest: 0,
                throws: vec![],
                slots_after_change: 0,
                not_preferred: false,
                beats,
                waits: None,
                begins: None,
                lead: None,
            };
            walk(start, start, beats, wanted, &mut memo, way, &mut ways);
        }
        if !ways.is_empty() {
            ways.sort();
            return Some((beats, ways));
        }
    }
    None
}

fn walk(
    start: &State,
    state: &State,
    left: u32,
    wanted: &Wanted,
    memo: &mut Memo,
    way: BruteWay,
    ways: &mut Vec<BruteWay>,
) {
    if left == 0 && state.at_goal(wanted) {
        let thrown = |list: &&Vec<Throw>| list.len() > 1;
        let mut way = way.clone();
        way.multiplexes = way.throws.iter().filter(thrown).count();
        way.highest = way.throws.iter().flatten().map(|throw| throw.value).max().unwrap_or(0);
        way.lead = state.next;
        if way.throws.is_empty() {
            way.begins = state.next;
        }
        let leads = if start.rest == [0, 0] { way.lead } else { way.begins };
        let chooses = start.next.is_none() || start.rest != [0, 0];
        way.not_preferred = chooses && leads.is_some_and(|hand| hand != wanted.preferred);
        ways.push(way);
    }
    for (made, taken, waits, next) in state.moves(wanted) {
        if taken > left || !reaches(&next, left - taken, wanted, memo) {
            continue;
        }
        let mut way = way.clone();
        if way.throws.is_empty() && !made.is_empty() {
            way.begins = state.next;
        }
        if way.waits.is_some() {
            way.slots_after_change += made.len();
        }
        way.throws.extend(made);
        way.waits = way.waits.or(waits);
        walk(start, &next, left - taken, wanted, memo, way, ways);
    }
}
