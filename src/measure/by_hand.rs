//! Small timelines made by hand, so that measures are tested without the compiler.

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};

use crate::hand::Hand;
use crate::notation::Throw;
use crate::patterns::hands::ActionKind;
use crate::time::{Pace, Piece, TempoMap, Time};
use crate::timeline::{
    Action, Face, Gather, HandLoading, Joining, JuggleSpan, Prop, Run, SectionSpan, Timeline,
};

/// One run of one section, `throws` written out beat by beat (multiplexes in brackets), from a
/// cold start at 0:00, at a steady tempo, dwell 2/3.
pub(super) fn alternating(throws: &str, lead: Hand, per_minute: i64) -> Timeline {
    let beats = beats_of(throws);
    let mut loading = HandLoading::default();
    let mut colours = 0;
    let mut waiting: Vec<Vec<Prop>> = vec![Vec::new(); beats.len() + 40];
    let mut actions = Vec::new();
    for (beat, values) in beats.iter().enumerate() {
        let beat_number = u32::try_from(beat).unwrap();
        let hand = lead.after(beat_number);
        for (place, &value) in values.iter().enumerate() {
            let throw = Throw::straight(value);
            let kind = ActionKind::of(throw, false);
            let prop = (kind != ActionKind::Empty).then(|| {
                if waiting[beat].is_empty() {
                    let prop = Prop(u8::try_from(colours).unwrap());
                    colours += 1;
                    loading.hands[hand.index()].push(prop);
                    prop
                } else {
                    waiting[beat].remove(0)
                }
            });
            let due = beat_number + u32::from(value);
            if let Some(prop) = prop {
                waiting[due as usize].push(prop);
            }
            actions.push(Action {
                beat: beat_number,
                hand,
                throw,
                kind,
                prop,
                section: 0,
                number: std::num::NonZeroU32::new(beat_number + 1),
                written: u32::try_from(place).unwrap() + 1,
                to: hand.after(u32::from(value)),
                due,
            });
        }
    }
    let dwell = Ratio::new(2, 3);
    let count = u32::try_from(beats.len()).unwrap();
    let pace = Pace::Steady(BigRational::from_integer(BigInt::from(per_minute)));
    let piece = Piece { first_beat: 0, beats: count, starts: Time::zero(), pace };
    let tempo = TempoMap { pieces: vec![piece] };
    let caught = actions.iter().filter_map(|action| action.caught(dwell)).max();
    let ends = tempo.at_beat(count);
    let gather = Gather {
        hands: HandLoading::default(),
        last_catch: caught.map(|position| tempo.at(position)),
        ends: ends.clone(),
    };
    let span = JuggleSpan {
        joining: Joining::Fits,
        face_known: true,
        beats_known: true,
        way_known: true,
        hands_known: true,
        pace_known: true,
        run: 0,
        first_beat: 0,
        own_first_beat: 0,
        beats: count,
        cycles: (1, 0),
        lead: Some(lead),
        transition: None,
        actions: 0..actions.len(),
        face: None,
        other_face: false,
        ends_run: true,
        bend: None,
        fixed_end: None,
    };
    let run = Run {
        breaks_off: false,
        sections: 0..1,
        set: 0,
        loading,
        loaded: crate::timeline::Loaded::Natural,
        colours: (0..colours).collect(),
        backs: Vec::new(),
        face: Face::Front,
        other_faces: Vec::new(),
        lead: Some(lead),
        actions,
        beats: count,
        tempo,
        gather,
    };
    Timeline {
        runs: vec![run],
        sections: vec![SectionSpan {
            hides_throws: false,
            starts: Time::zero(),
            ends,
            juggle: Some(span),
            regrip: None,
        }],
        tracks: Vec::new(),
        dwell,
        encore_lasts: None,
    }
}

/// The values of each beat.
fn beats_of(throws: &str) -> Vec<Vec<u8>> {
    let mut beats: Vec<Vec<u8>> = Vec::new();
    let mut inside = false;
    for character in throws.chars() {
        match character {
            '[' => {
                inside = true;
                beats.push(Vec::new());
            }
            ']' => inside = false,
            digit => {
                let value = u8::try_from(digit.to_digit(36).unwrap()).unwrap();
                if inside {
                    beats.last_mut().unwrap().push(value);
                } else {
                    beats.push(vec![value]);
                }
            }
        }
    }
    beats
}
