//! What fits: the cycles and tempos that land a section on its end, and those that music offers.
//!
//! Heights are of the throw alone at one tempo, in metres above the hand, an estimate; the rate of
//! catches is that of the check that calls a section too fast. Tempos are throws a minute.

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};
use num_traits::{Signed, ToPrimitive};

use crate::act::Act;
use crate::hand::Hand;
use crate::patterns::hands::ActionKind;
use crate::routine::{Juggle, Routine, Twos};
use crate::time::Seconds;
use crate::timeline::{Bend, FixedEnd, Timeline};

use super::bend::usual_may_bend;
use super::counts::actions_of;
use super::height::{above_hand_m, clear_height_m};

/// The fastest seen is nearly 500 catches a minute ("Juggling dynamics", Physics Today 73(2), 2020,
/// p. 62).
pub const MOST_CATCHES_A_MINUTE: f64 = 500.0;

/// At most so many choices are offered.
const MOST_CHOICES: usize = 12;

/// One number of cycles that lands a section on its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// Cycles, tempo and length.
    pub bend: Bend,
    /// The highest throw.
    pub reach: Option<Reach>,
    /// Why it is not to be thrown; empty where it is.
    pub why_not: Vec<WhyNot>,
}

/// How high a throw goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Above the hand, in metres.
    pub above_hand_m: f64,
    /// The clear height that it needs, in metres; `None` where no room or no prop is known.
    pub needs_m: Option<f64>,
}

/// Why a tempo is not to be thrown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WhyNot {
    /// It bends further than the section's tempo may.
    BendsTooFar,
    /// It needs so many metres more than the room has.
    TooHigh(f64),
    /// So many catches a minute: more than have ever been seen.
    TooFast(f64),
}

/// A section whose end is fixed.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Its end.
    pub end: FixedEnd,
    /// How much its tempo may bend.
    pub may_bend: BigRational,
    /// Whether that is written; else it is the usual one.
    pub may_bend_is_written: bool,
    /// Least bend first, the faster of equal ones first.
    pub choices: Vec<Choice>,
}

/// What throws of a pattern come to at any tempo.
struct Thrown {
    /// Beats of the longest flight; `None` where nothing is thrown.
    longest: Option<Ratio<i64>>,
    /// Catches of the beats looked at.
    catches: u32,
    /// Beats from the end of the last beat to the last catch; 0 where that comes before.
    tail: Ratio<i64>,
}

/// What fits an entry of the score, of a routine that is compiled to fit; `None` where its end is
/// not fixed.
#[must_use]
pub fn of_section(act: &Act, section: usize) -> Option<Fit> {
    let Act { routine, timeline, .. } = act;
    let juggle = juggled(routine, section)?;
    let span = timeline.sections.get(section)?.juggle.as_ref()?;
    let end = span.fixed_end.clone()?;
    let written = juggle.may_bend.as_ref().map(|may_bend| may_bend.most.value.clone());
    let may_bend_is_written = written.is_some();
    let may_bend = written.unwrap_or_else(usual_may_bend);
    let own = cycle(juggle, timeline.dwell);
    let lead_in = transition(timeline, section);
    let room = Room::of(act, section);
    let within = BigRational::new(BigInt::from(1), BigInt::from(4));
    let choice = |bend: Bend| {
        let before = if end.bending_beats > 0 { &bend.per_minute } else { &bend.written };
        let flights = [(own.longest, &bend.per_minute), (lead_in.longest, before)]
            .into_iter()
            .filter_map(|(beats, per_minute)| Some(above_hand_m(&lasting(beats?, per_minute))));
        let reach = flights.reduce(f64::max).map(|above| room.reach(above));
        let catches = f64::from(own.catches) * f64::from(bend.cycles) + f64::from(lead_in.catches);
        let tail =
            if span.ends_run { lasting(own.tail, &bend.per_minute) } else { Seconds::zero() };
        let mut why_not = Vec::new();
        if bend.bend().abs() > may_bend {
            why_not.push(WhyNot::BendsTooFar);
        }
        why_not.extend(room.too_high(reach));
        why_not.extend(too_fast(catches, (&bend.lasts + &tail).to_f64() / 60.0));
        Choice { bend, reach, why_not }
    };
    let choices = end.choices(&within, MOST_CHOICES).into_iter().map(choice).collect();
    Some(Fit { end, may_bend, may_bend_is_written, choices })
}

/// A tempo that a stretch of bars offers.
#[derive(Clone, Debug, PartialEq)]
pub struct MusicTempo {
    /// Throws on each music beat.
    pub throws_per_music_beat: Ratio<i64>,
    /// Throws a minute.
    pub per_minute: BigRational,
    /// How long a hand holds a prop from catch to throw.
    pub dwell: Seconds,
    /// What the sections come to, in the order that was asked.
    pub sections: Vec<AtTempo>,
}

/// A section's pattern at a tempo.
#[derive(Clone, Debug, PartialEq)]
pub struct AtTempo {
    /// Its highest throw.
    pub reach: Option<Reach>,
    /// Why it is not to be thrown; empty where it is.
    pub why_not: Vec<WhyNot>,
}

/// Throws on each music beat that are looked at: one on every second beat, one, three on two, two
/// and three.
const PER_MUSIC_BEAT: [(i64, i64); 5] = [(1, 2), (1, 1), (3, 2), (2, 1), (3, 1)];

/// The tempos that so many music beats a minute offer, and what the patterns of these entries of
/// the score come to at each.
#[must_use]
pub fn to_music(act: &Act, bpm: &BigRational, sections: &[usize]) -> Vec<MusicTempo> {
    let Act { routine, timeline, .. } = act;
    let tempo = |(throws, beats): (i64, i64)| {
        let per_minute = bpm * BigRational::new(BigInt::from(throws), BigInt::from(beats));
        let at_tempo = |&section: &usize| {
            let juggle = juggled(routine, section)?;
            let own = cycle(juggle, timeline.dwell);
            let room = Room::of(act, section);
            let above = own.longest.map(|beats| above_hand_m(&lasting(beats, &per_minute)));
            let reach = above.map(|above| room.reach(above));
            let minutes = f64::from(juggle.pattern.pattern.period())
                / per_minute.to_f64().unwrap_or(f64::NAN);
            let mut why_not: Vec<WhyNot> = room.too_high(reach).into_iter().collect();
            why_not.extend(too_fast(f64::from(own.catches), minutes));
            Some(AtTempo { reach, why_not })
        };
        MusicTempo {
            throws_per_music_beat: Ratio::new(throws, beats),
            dwell: lasting(timeline.dwell * 2, &per_minute),
            sections: sections.iter().filter_map(at_tempo).collect(),
            per_minute,
        }
    };
    PER_MUSIC_BEAT.map(tempo).into()
}

fn juggled(routine: &Routine, section: usize) -> Option<&Juggle> {
    routine.score.get(section)?.juggle()
}

/// What one cycle of a section's pattern comes to.
fn cycle(juggle: &Juggle, dwell: Ratio<i64>) -> Thrown {
    let pattern = &juggle.pattern.pattern;
    let whole = |beats: u32| Ratio::from_integer(i64::from(beats));
    let mut thrown = Thrown { longest: None, catches: 0, tail: whole(0) };
    let mut beat = 0;
    while beat < pattern.period() {
        for step in &pattern.sequence().steps {
            let throws = step.by_hand(Hand::Right.after(beat)).flat_map(|(_, throws)| throws);
            for throw in throws.map(|written| written.throw) {
                let kind = ActionKind::of(throw, juggle.twos == Twos::Thrown);
                let flies = match (kind, throw.value) {
                    (ActionKind::Held | ActionKind::Empty, _) => continue,
                    (_, 1) => Ratio::new(1, 2),
                    (_, value) => Ratio::from_integer(i64::from(value)) - dwell * 2,
                };
                thrown.catches += 1;
                thrown.tail = thrown.tail.max(whole(beat) + flies - whole(pattern.period()));
                if kind == ActionKind::Thrown {
                    thrown.longest = Some(thrown.longest.map_or(flies, |most| most.max(flies)));
                }
            }
            beat += step.beats();
        }
    }
    thrown
}

/// What the transition into an entry comes to.
fn transition(timeline: &Timeline, section: usize) -> Thrown {
    let mut thrown = Thrown { longest: None, catches: 0, tail: Ratio::from_integer(0) };
    let actions = actions_of(timeline, section).unwrap_or_default();
    for action in actions.iter().filter(|action| action.number.is_none()) {
        let Some(caught) = action.caught(timeline.dwell) else { continue };
        thrown.catches += 1;
        if action.kind == ActionKind::Thrown {
            let flies = caught - Ratio::from_integer(i64::from(action.beat));
            thrown.longest = Some(thrown.longest.map_or(flies, |most| most.max(flies)));
        }
    }
    thrown
}

/// How long so many beats take.
fn lasting(beats: Ratio<i64>, per_minute: &BigRational) -> Seconds {
    let beats = BigRational::new(BigInt::from(*beats.numer()), BigInt::from(*beats.denom()));
    Seconds::from(beats * BigRational::from_integer(BigInt::from(60)) / per_minute)
}

fn too_fast(catches: f64, minutes: f64) -> Option<WhyNot> {
    let a_minute = catches / minutes;
    (minutes > 0.0 && a_minute > MOST_CATCHES_A_MINUTE).then_some(WhyNot::TooFast(a_minute))
}

/// The room, and the length of the props that a section throws in it.
struct Room<'a> {
    room: Option<&'a crate::routine::Room>,
    prop_length_m: Option<f64>,
}

impl<'a> Room<'a> {
    fn of(act: &'a Act, section: usize) -> Room<'a> {
        let Act { routine, timeline, .. } = act;
        let span = timeline.sections.get(section).and_then(|span| span.juggle.as_ref());
        let run = span.and_then(|span| timeline.runs.get(span.run));
        let prop_length_m = run.and_then(|run| routine.sets.get(run.set)).map(|set| set.length);
        Room { room: routine.room.as_ref(), prop_length_m }
    }

    fn reach(&self, above_hand_m: f64) -> Reach {
        let known = self.room.zip(self.prop_length_m);
        let needs_m = known.map(|(room, length)| clear_height_m(room, above_hand_m, length));
        Reach { above_hand_m, needs_m }
    }

    fn too_high(&self, reach: Option<Reach>) -> Option<WhyNot> {
        let over = reach?.needs_m? - self.room?.clear_height.value;
        (over > 0.0).then_some(WhyNot::TooHigh(over))
    }
}
