//! Routines and their timelines made by hand, so that drawings are tested without the compiler.

use std::collections::BTreeMap;
use std::num::NonZeroU32;

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};

use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;
use crate::notation::{Sequence, Throw};
use crate::patterns::Pattern;
use crate::patterns::hands::ActionKind;
use crate::routine::{
    Cue, CueNumber, Desk, Juggle, Length, Moment, NamedColour, Part, Pause, PropKind, PropSet, Rgb,
    Room, Routine, Section, Transition, Trigger, Twos, WrittenPattern,
};
use crate::time::{Pace, Piece, Seconds, TempoMap};
use crate::timeline::{
    Action, Gather, HandLoading, JuggleSpan, Prop, Run, SectionSpan, TakenTransition, Timeline,
};
use crate::transition::Bounds;

use super::CueGo;

fn placed<T>(value: T) -> Placed<T> {
    Placed { value, at: Place::default() }
}

/// Makes a routine and its timeline side by side.
pub(super) struct Act {
    pub(super) routine: Routine,
    pub(super) timeline: Timeline,
    pub(super) cues: Vec<CueGo>,
    now: Seconds,
    set: usize,
    run: Option<UnendedRun>,
}

struct UnendedRun {
    first_section: usize,
    starts: Seconds,
    loading: HandLoading,
    colours: Vec<usize>,
    actions: Vec<Action>,
    beats: u32,
    lead: Hand,
    pieces: Vec<Piece>,
    due: BTreeMap<(u32, Hand), Vec<Prop>>,
}

impl Act {
    pub(super) fn new(title: &str, colours: &[(&str, u32)], sets: &[&[usize]]) -> Act {
        let colours: Vec<NamedColour> = colours
            .iter()
            .map(|&(name, rgb)| {
                let [_, red, green, blue] = rgb.to_be_bytes();
                NamedColour { name: placed(name.to_owned()), rgb: Rgb { red, green, blue } }
            })
            .collect();
        let sets = sets
            .iter()
            .enumerate()
            .map(|(index, set)| PropSet {
                name: placed(format!("set {index}")),
                at: Place::default(),
                kind: PropKind::Ball,
                length: 0.072,
                colours: set.iter().map(|&colour| colours[colour].name.clone()).collect(),
                burn: Vec::new(),
            })
            .collect();
        let routine = Routine {
            title: placed(title.to_owned()),
            issue: 3,
            lead: Hand::Right,
            tempo: None,
            dwell: Ratio::new(2, 3),
            room: Some(Room { clear_height: placed(4.5), hands_at: 1.0 }),
            transitions: Bounds::default(),
            colours,
            sets,
            music: None,
            zero: placed(Moment::TrackStart),
            score: Vec::new(),
            limits: Vec::new(),
            cues: Vec::new(),
        };
        let timeline = Timeline {
            runs: Vec::new(),
            sections: Vec::new(),
            track_start: None,
            dwell: Ratio::new(2, 3),
        };
        Act { routine, timeline, cues: Vec::new(), now: Seconds::zero(), set: 0, run: None }
    }

    pub(super) fn starts_at(mut self, tenths: i64) -> Act {
        self.now = Seconds::fraction(tenths, 10);
        self
    }

    pub(super) fn with_set(mut self, set: usize) -> Act {
        self.set = set;
        self
    }

    pub(super) fn cue(mut self, tenths: i64, desk: Desk, number: u32, does: &str) -> Act {
        let dark = does == "blackout";
        self.routine.cues.push(Cue {
            at: Place::default(),
            desk: placed(desk),
            number: (number > 0).then(|| placed(CueNumber { tenths: number * 10 })),
            when: None,
            by: placed(Trigger::Called),
            does: placed(does.to_owned()),
            count: None,
            standby: None,
            dark,
            flashes: None,
            spot: None,
            spot_stays: false,
        });
        let cue = self.routine.cues.len() - 1;
        self.cues.push(CueGo { cue, go: Seconds::fraction(tenths, 10) });
        self
    }

    pub(super) fn pause(mut self, name: &str, tenths: i64) -> Act {
        self = self.end_run();
        let length = Seconds::fraction(tenths, 10);
        let pause =
            Pause { lasts: placed(Length::For(length.clone())), pick_up: vec![], place: None };
        self.routine.score.push(Section {
            name: placed(name.to_owned()),
            at: Place::default(),
            part: Part::Pause(pause),
        });
        let ends = &self.now + &length;
        let starts = std::mem::replace(&mut self.now, ends.clone());
        self.timeline.sections.push(SectionSpan { starts, ends, juggle: None });
        self
    }

    /// A section: its pattern as text, the throws of its transition and its own, written out.
    pub(super) fn juggle(
        mut self,
        name: &str,
        pattern: &str,
        (transition, own): (&str, &str),
        per_minute: i64,
    ) -> Act {
        let section = self.routine.score.len();
        let (read, _) = Pattern::read(pattern).unwrap();
        self.routine.score.push(Section {
            name: placed(name.to_owned()),
            at: Place::default(),
            part: Part::Juggle(Box::new(Juggle {
                pattern: WrittenPattern {
                    pattern: read,
                    text: pattern.to_owned(),
                    at: Place::default(),
                    characters: Vec::new(),
                },
                lasts: placed(Length::Beats(1)),
                set: None,
                tempo: None,
                transition: placed(Transition::Direct),
                lead: None,
                twos: Twos::Held,
                loading: None,
                shows: Vec::new(),
                declares: None,
                turn: None,
                place: None,
            })),
        });
        let (now, set) = (self.now.clone(), self.set);
        let run = self.run.get_or_insert_with(|| UnendedRun {
            first_section: section,
            starts: now,
            loading: HandLoading::default(),
            colours: Vec::new(),
            actions: Vec::new(),
            beats: 0,
            lead: Hand::Right,
            pieces: Vec::new(),
            due: BTreeMap::new(),
        });
        let names = &self.routine.sets[set].colours;
        let set_colours: Vec<usize> = names
            .iter()
            .map(|name| {
                self.routine.colours.iter().position(|c| c.name.value == name.value).unwrap()
            })
            .collect();
        let first_beat = run.beats;
        let first_action = run.actions.len();
        let pace = Pace::Steady(BigRational::from_integer(BigInt::from(per_minute)));
        let starts = run.pieces.last().map_or_else(|| run.starts.clone(), Piece::ends);
        run.juggle(transition, section, &set_colours, true);
        let own_first_beat = run.beats;
        run.juggle(own, section, &set_colours, false);
        let beats = run.beats - first_beat;
        run.pieces.push(Piece { first_beat, beats, starts: starts.clone(), pace });
        let ends = run.pieces.last().unwrap().ends();
        self.now = ends.clone();
        let taken = (!transition.is_empty()).then(|| TakenTransition {
            throws: Sequence::read(transition).unwrap().0,
            beats: own_first_beat - first_beat,
            waits: None,
        });
        self.timeline.sections.push(SectionSpan {
            starts,
            ends,
            juggle: Some(JuggleSpan {
                run: self.timeline.runs.len(),
                first_beat,
                own_first_beat,
                beats: run.beats - own_first_beat,
                cycles: (1, 0),
                lead: Some(Hand::Right),
                transition: taken,
                actions: first_action..run.actions.len(),
                ends_run: false,
            }),
        });
        self
    }

    pub(super) fn end_run(mut self) -> Act {
        let Some(run) = self.run.take() else { return self };
        let tempo = TempoMap { pieces: run.pieces };
        let dwell = self.timeline.dwell;
        let last = run.actions.iter().filter_map(|action| action.caught(dwell)).max();
        let last_catch = last.map(|position| tempo.at(position));
        let mut hands = HandLoading::default();
        for ((_, hand), props) in run.due.iter().rev() {
            hands.hands[hand.index()].extend(props);
        }
        let beats_end = tempo.at_beat(run.beats);
        let ends = match &last_catch {
            Some(last) if last > &beats_end => last.clone(),
            _ => beats_end,
        };
        self.now = ends.clone();
        if let Some(span) = self.timeline.sections.last_mut() {
            span.ends = ends.clone();
        }
        self.timeline.runs.push(Run {
            sections: run.first_section..self.timeline.sections.len(),
            set: self.set,
            loading: run.loading,
            colours: run.colours,
            lead: Some(run.lead),
            actions: run.actions,
            beats: run.beats,
            tempo,
            gather: Gather { hands, last_catch, ends },
        });
        self
    }
}

impl UnendedRun {
    fn juggle(&mut self, throws: &str, section: usize, set: &[usize], is_transition: bool) {
        let mut number = 0;
        let mut hand = self.lead.after(self.beats);
        let (mut in_pair, mut in_multiplex) = (false, false);
        let mut characters = throws.chars().peekable();
        while let Some(character) = characters.next() {
            match character {
                '(' => (in_pair, hand) = (true, Hand::Left),
                ',' => hand = Hand::Right,
                ')' => {
                    in_pair = false;
                    self.beats += 2;
                    hand = self.lead.after(self.beats);
                }
                '[' => in_multiplex = true,
                ']' => in_multiplex = false,
                digit => {
                    let crossing = characters.next_if_eq(&'x').is_some();
                    let value = u8::try_from(digit.to_digit(36).unwrap()).unwrap();
                    number += 1;
                    let own = NonZeroU32::new(number).filter(|_| !is_transition);
                    let to = match in_pair {
                        true if crossing => hand.other(),
                        true => hand,
                        false => hand.after(u32::from(value)),
                    };
                    let throw = Throw { value, crossing };
                    self.act(throw, hand, to, (section, own, number), set);
                }
            }
            if !in_pair && !in_multiplex && !matches!(character, '(' | ',' | ')' | '[') {
                self.beats += 1;
                hand = self.lead.after(self.beats);
            }
        }
    }

    fn act(
        &mut self,
        throw: Throw,
        hand: Hand,
        to: Hand,
        (section, number, written): (usize, Option<NonZeroU32>, u32),
        set: &[usize],
    ) {
        let kind = ActionKind::of(throw, false);
        let due = self.beats + u32::from(throw.value);
        let prop = (kind != ActionKind::Empty).then(|| {
            let waiting = self.due.entry((self.beats, hand)).or_default();
            if waiting.is_empty() {
                let prop = Prop(u8::try_from(self.colours.len()).unwrap());
                self.colours.push(set[self.colours.len()]);
                self.loading.hands[hand.index()].push(prop);
                prop
            } else {
                waiting.remove(0)
            }
        });
        if let Some(prop) = prop {
            self.due.entry((due, to)).or_default().push(prop);
        }
        let section = u32::try_from(section).unwrap();
        self.actions.push(Action {
            beat: self.beats,
            hand,
            throw,
            kind,
            prop,
            section,
            number,
            written,
            to,
            due,
        });
    }
}

/// An act of three, then five props, with a pause between, cues, pairs and a multiplex.
pub(super) fn lantern() -> Act {
    let colours = [("coral", 0xec6a5c), ("teal", 0x0f8b8d), ("pearl", 0xf4f1e6)];
    let three = &[0, 1, 2][..];
    let five = &[2, 2, 1, 1, 0][..];
    Act::new("Lantern Quay", &colours, &[three, five])
        .starts_at(-60)
        .pause("walk on", 60)
        .pause("stillness", 75)
        .juggle("tide", "3", ("", &"3".repeat(26)), 200)
        .juggle("beam", "531", ("", &"531".repeat(8)), 200)
        .juggle("wake", "51", ("4", &"51".repeat(10)), 200)
        .juggle("ebb", "3", ("2", "333333"), 200)
        .pause("pick up two", 60)
        .with_set(1)
        .juggle("fleet", "5", ("", &"5".repeat(50)), 240)
        .pause("bow", 50)
        .cue(-200, Desk::House, 0, "to half")
        .cue(75, Desk::Light, 15, "sides up, front low")
        .cue(81, Desk::Sound, 3, "waves in")
        .cue(311, Desk::Light, 20, "blackout")
        .cue(346, Desk::Light, 25, "sides and back")
}
