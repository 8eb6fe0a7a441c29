//! A course: the throws and waits between what is left and a section's own first throw.
//!
//! The schedule is kept per hand. Where the notation changes, a hand waits one beat: from
//! alternating hands to pairs the hand due next waits and the pair falls on that later beat; from
//! pairs to alternating hands the hand that does not lead waits and no beat is added. Beats count
//! from 0 at the join.

use crate::hand::Hand;
use crate::notation::{Kind, Sequence, Step, WrittenThrow};
use crate::patterns::{Pattern, Schedule};
use crate::transition::Origin;

/// One thing that happens between two sections.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Move {
    /// A hand waits one beat.
    Wait {
        /// The hand.
        hand: Hand,
        /// Whether the wait takes a beat of its own (async to sync).
        takes_beat: bool,
    },
    /// A hand makes the throws of a step of the sequence.
    Alternate {
        /// The hand.
        hand: Hand,
        /// Index of the step.
        step: usize,
    },
    /// Both hands make the throws of a step of the sequence.
    Pair {
        /// Index of the step.
        step: usize,
    },
}

/// A slot of the written throws that does not fit what is due there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// Beats from the join.
    pub beat: u32,
    /// The hand.
    pub hand: Hand,
    /// Props due there.
    pub due: u8,
    /// Props that the written throws throw there.
    pub thrown: u8,
    /// Index of the step in the written throws.
    pub step: usize,
}

/// The laid-out way from an origin to a pattern.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Course {
    /// In order of time.
    pub(super) moves: Vec<Move>,
    /// Beats from the join to the pattern's first throw.
    pub(super) beats: u32,
    /// The first hand that waits.
    pub(super) waits: Option<Hand>,
    /// The hand of the first throw after the join, the pattern's own included; `None` for a pair.
    pub(super) begins: Option<Hand>,
    /// The hand of the pattern's own first throw; `None` for pairs.
    pub(super) lead: Option<Hand>,
    /// From rest: when each prop at rest is called for, from the join on.
    pub(super) called: Schedule,
    /// Written throws that do not fit.
    pub(super) misfits: Vec<Misfit>,
    /// What is due when the pattern's own first throw comes.
    pub(super) left: Schedule,
    /// What the pattern needs there.
    pub(super) needed: Schedule,
}

impl Course {
    /// Whether every throw fits and the pattern finds what it needs.
    pub(super) fn fits(&self) -> bool {
        self.misfits.is_empty() && self.left == self.needed
    }
}

/// Which hand acts next.
#[derive(Clone, Copy)]
enum Next {
    /// Nothing was thrown yet.
    Rest,
    /// This hand is due next.
    Alternating(Hand),
    /// Both are due next.
    Pairs,
}

/// How many times a course must be told which hand goes on alone: from rest, or after pairs.
pub(super) fn open_choices(origin: &Origin, throws: &Sequence, goal: Kind) -> u32 {
    let mut before = match origin {
        Origin::AtRest { .. } | Origin::Pairs { .. } => Kind::Sync,
        Origin::Alternating { .. } => Kind::Async,
    };
    let mut choices = 0;
    for kind in throws.steps.iter().map(Step::kind).chain([goal]) {
        choices += u32::from(before == Kind::Sync && kind == Kind::Async);
        before = kind;
    }
    choices
}

/// Lays throws out from an origin to a pattern. `choices` says, in order, which hand goes on alone
/// from rest or after pairs; the right where it runs out.
pub(super) fn lay(origin: &Origin, throws: &Sequence, goal: &Pattern, choices: &[Hand]) -> Course {
    let mut walk = Walk::from(origin, choices);
    for (index, step) in throws.steps.iter().enumerate() {
        match step {
            Step::Alternating(throws) => {
                let hand = walk.one_hand();
                walk.course.moves.push(Move::Alternate { hand, step: index });
                walk.act(hand, throws, Kind::Async, index);
                walk.on(1);
                walk.next = Next::Alternating(hand.other());
            }
            Step::Pair(pair) => {
                walk.both_hands();
                walk.course.moves.push(Move::Pair { step: index });
                for hand in Hand::BOTH {
                    walk.act(hand, &pair[hand.index()], Kind::Sync, index);
                }
                walk.on(2);
                walk.next = Next::Pairs;
            }
        }
    }
    let lead = match goal.kind() {
        Kind::Async => Some(walk.one_hand()),
        Kind::Sync => {
            walk.both_hands();
            None
        }
    };
    walk.arrive(goal, lead)
}

/// The state of laying a course out.
struct Walk<'a> {
    next: Next,
    due: Schedule,
    choices: std::slice::Iter<'a, Hand>,
    from_rest: bool,
    waited: [u32; 2],
    course: Course,
}

impl<'a> Walk<'a> {
    fn from(origin: &Origin, choices: &'a [Hand]) -> Walk<'a> {
        let (next, due) = match origin {
            Origin::Alternating { schedule, next, .. } => {
                (Next::Alternating(*next), schedule.clone())
            }
            Origin::Pairs { schedule, .. } => (Next::Pairs, schedule.clone()),
            Origin::AtRest { .. } => (Next::Rest, Schedule::empty()),
        };
        let course = Course {
            moves: Vec::new(),
            beats: 0,
            waits: None,
            begins: None,
            lead: None,
            called: Schedule::empty(),
            misfits: Vec::new(),
            left: Schedule::empty(),
            needed: Schedule::empty(),
        };
        let from_rest = matches!(origin, Origin::AtRest { .. });
        Walk { next, due, choices: choices.iter(), from_rest, waited: [0; 2], course }
    }

    /// Goes on with alternating hands, with a wait after pairs; the hand that acts.
    fn one_hand(&mut self) -> Hand {
        let hand = match self.next {
            Next::Alternating(next) => next,
            Next::Rest => self.chosen(),
            Next::Pairs => {
                let lead = self.chosen();
                self.wait(lead.other(), false);
                lead
            }
        };
        if !self.course.moves.iter().any(|step| matches!(step, Move::Pair { .. })) {
            self.course.begins.get_or_insert(hand);
        }
        hand
    }

    fn chosen(&mut self) -> Hand {
        self.choices.next().copied().unwrap_or(Hand::Right)
    }

    /// Goes on with pairs, with a wait after alternating hands.
    fn both_hands(&mut self) {
        if let Next::Alternating(next) = self.next {
            self.wait(next, true);
            self.on(1);
        }
    }

    fn wait(&mut self, hand: Hand, takes_beat: bool) {
        self.due = self.due.waited(hand);
        self.waited[hand.index()] += 1;
        self.course.waits.get_or_insert(hand);
        self.course.moves.push(Move::Wait { hand, takes_beat });
    }

    fn on(&mut self, beats: u32) {
        self.due = self.due.later(beats);
        self.course.beats += beats;
    }

    /// A hand throws: what is due must be what is thrown; what is missing comes from rest.
    fn act(&mut self, hand: Hand, throws: &[WrittenThrow], notation: Kind, step: usize) {
        let due = self.due.due(hand, 0);
        let thrown = throws.iter().filter(|written| written.throw.value > 0).count();
        let thrown = u8::try_from(thrown).unwrap_or(u8::MAX);
        let missing = thrown.saturating_sub(due);
        if self.from_rest {
            self.call(hand, 0, missing);
        }
        if due > thrown || (missing > 0 && !self.from_rest) {
            let beat = self.course.beats;
            self.course.misfits.push(Misfit { beat, hand, due, thrown, step });
        }
        for written in throws.iter().filter(|written| written.throw.value > 0) {
            let value = u32::from(written.throw.value);
            self.due.add(written.throw.to(hand, notation), value);
        }
    }

    /// Calls props from rest for a beat from now on, in beats before the waits of their hand.
    fn call(&mut self, hand: Hand, from_now: u32, props: u8) {
        let beat = (self.course.beats + from_now).saturating_sub(self.waited[hand.index()]);
        for _ in 0..props {
            self.course.called.add(hand, beat);
        }
    }

    fn arrive(mut self, goal: &Pattern, lead: Option<Hand>) -> Course {
        let needed = goal.schedule_led_by(lead.unwrap_or(Hand::Right));
        if self.from_rest {
            for hand in Hand::BOTH {
                for beat in 0..needed.span() {
                    let missing = needed.due(hand, beat).saturating_sub(self.due.due(hand, beat));
                    self.call(hand, beat, missing);
                    for _ in 0..missing {
                        self.due.add(hand, beat);
                    }
                }
            }
        }
        self.course.lead = lead;
        self.course.left = self.due;
        self.course.needed = needed;
        self.course
    }
}
