//! Routines that measures, sheets and exporters are tested with: the worked example, and small ones
//! put together from sections and cues.
//!
//! The example worked on paper (dwell 2/3, show clock): tide starts at 7.5, beam at 15.3, wake at
//! 22.5, ebb at 28.8; the last catch of ebb is at 31.1, fleet starts at 37.1, the act's last catch
//! is at 50.26666…, inside a minute by 9.73333….

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};

use crate::act::Act;
use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;
use crate::patterns::Pattern;
use crate::routine::{
    Crew, Cue, CueNumber, Does, FollowFrom, Hidden, Juggle, Length, Moment, NamedColour, Part,
    Pause, PropKind, PropSet, Rgb, Room, Routine, Section, Tempo, Transition, Trigger, Twos,
    Unread, WrittenPattern,
};
use crate::time::{Seconds, Time};
use crate::transition::Bounds;

pub(crate) fn placed<T>(value: T) -> Placed<T> {
    Placed { value, at: Place::default() }
}

pub(crate) fn name(text: &str) -> Placed<String> {
    placed(text.to_owned())
}

pub(crate) fn ms(thousandths: i64) -> Seconds {
    Seconds::fraction(thousandths, 1000)
}

/// So many thousandths of a second on a clock, whatever is left open.
pub(crate) fn time(thousandths: i64) -> Time {
    Time::from(ms(thousandths))
}

pub(crate) fn when(moment: Moment, shift_ms: i64) -> Placed<Moment> {
    placed(match shift_ms {
        0 => moment,
        shift => Moment::Shift(Box::new(moment), ms(shift)),
    })
}

pub(crate) fn per_minute(tempo: i64) -> Tempo {
    Tempo::PerMinute(BigRational::from_integer(BigInt::from(tempo)))
}

/// A section of a pattern, joined directly.
pub(crate) fn juggle(section: &str, pattern: &str, lasts: Length) -> (Section, Juggle) {
    let juggle = Juggle {
        pattern: WrittenPattern {
            pattern: Pattern::read(pattern).expect("a valid pattern").0,
            text: pattern.to_owned(),
            at: Place::default(),
            characters: Vec::new(),
        },
        lasts: placed(lasts),
        set: None,
        tempo: None,
        transition: placed(Transition::Direct),
        lead: None,
        twos: Twos::Held,
        loading: None,
        seen: crate::routine::Seen::default(),
        free: Vec::new(),
        free_at: None,
        other_face: None,
        arms: None,
        made: Vec::new(),
        declares: None,
        turn: None,
        may_bend: None,
        place: None,
    };
    (
        Section {
            name: name(section),
            at: Place::default(),
            part: Part::Unread(Unread::default()),
        },
        juggle,
    )
}

pub(crate) fn section((section, juggle): (Section, Juggle)) -> Section {
    Section { part: Part::Juggle(Box::new(juggle)), ..section }
}

pub(crate) fn pause(section: &str, lasts: Length) -> Section {
    let pause = Pause {
        lasts: placed(lasts),
        regrip: None,
        pick_up: Vec::new(),
        handled: Vec::new(),
        place: None,
    };
    Section { name: name(section), at: Place::default(), part: Part::Pause(pause) }
}

pub(crate) fn balls(set: &str, colours: &[&str]) -> PropSet {
    PropSet {
        name: name(set),
        at: Place::default(),
        kind: PropKind::Ball,
        length: 0.072,
        colours: colours.iter().map(|colour| name(colour)).collect(),
        backs: Vec::new(),
        burn: Vec::new(),
        danger: None,
    }
}

/// A cue by number (0 for none), at a moment and a shift.
pub(crate) fn cue(
    crew: Crew,
    number: u32,
    when: Option<Placed<Moment>>,
    trigger: Trigger,
    does: &str,
) -> Cue {
    Cue {
        number: (number > 0).then(|| placed(CueNumber { tenths: number * 10 })),
        when,
        ..Cue::new(
            Place::default(),
            placed(crew),
            placed(trigger),
            placed(Does::Written(does.to_owned())),
        )
    }
}

pub(crate) fn follow(number: u32, from: FollowFrom, after_ms: i64) -> Trigger {
    Trigger::Follow {
        crew: None,
        number: placed(CueNumber { tenths: number * 10 }),
        from,
        after: ms(after_ms),
    }
}

/// A routine of these sections: right leads, 200 throws a minute, zero where it begins to throw.
pub(crate) fn routine(score: Vec<Section>, sets: Vec<PropSet>) -> Routine {
    let colours = ["coral", "teal", "pearl"].map(|colour| NamedColour {
        name: name(colour),
        rgb: Rgb { red: 9, green: 9, blue: 9 },
        at: Place::default(),
    });
    Routine {
        title: name("Lantern Quay"),
        issue: 3,
        issue_at: Place::default(),
        lead: Hand::Right,
        tempo: Some(placed(per_minute(200))),
        dwell: Ratio::new(2, 3),
        room: Some(Room {
            clear_height: placed(4.5),
            hands_at: 1.0,
            margin: crate::routine::USUAL_MARGIN_M,
        }),
        transitions: Bounds { highest: 7, at_once: 2, beats: 6 },
        colours: colours.into(),
        sets,
        backdrop: None,
        music: None,
        tracks: Vec::new(),
        zero: placed(Moment::FirstThrow),
        score,
        limits: Vec::new(),
        crews: Vec::new(),
        cues: Vec::new(),
        set_up: None,
        strike: None,
        encore: None,
        venue: None,
        is_encore: false,
        issued: None,
        hidden: Hidden::default(),
    }
}

/// The act of a routine that compiles.
pub(crate) fn compiled(routine: &Routine) -> Act {
    let act = Act::of(routine);
    assert_eq!(act.troubles, []);
    act
}

/// The worked example, read from its file.
pub(crate) fn lantern_quay() -> Routine {
    let reading = crate::read::read(include_str!("../../tests/routines/lantern.ron"));
    assert_eq!(reading.diagnostics, []);
    let mut quay = reading.routine.expect("a routine where there is no fault");
    // Worked by hand without the cue that plays its music.
    quay.cues.truncate(4);
    quay
}
