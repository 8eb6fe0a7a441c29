//! The routine of the worked example, made by hand, so that sheets are tested without the reader.
//!
//! Worked on paper (dwell 2/3, show clock): tide starts at 7.5, beam at 15.3, wake at 22.5, ebb at
//! 28.8; the last catch of ebb is at 31.1, fleet starts at 37.1, the act's last catch is at
//! 50.26666…, inside a minute by 9.73333….

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};

use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;
use crate::notation::Sequence;
use crate::patterns::Pattern;
use crate::routine::{
    Cue, CueNumber, Desk, FollowFrom, Juggle, Length, Limit, Moment, NamedColour, OnTheLine, Part,
    Pause, Penalty, PropKind, PropSet, Rgb, Room, Routine, Section, StepsFrom, Tempo, Track,
    Transition, Trigger, Twos, When, WrittenPattern, WrittenThrows,
};
use crate::time::Seconds;
use crate::timeline::{Timeline, compile};
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

pub(crate) fn when(moment: Moment, shift_ms: i64) -> When {
    When { moment: placed(moment), shift: ms(shift_ms) }
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
        shows: Vec::new(),
        declares: None,
        turn: None,
        place: None,
    };
    (Section { name: name(section), at: Place::default(), part: Part::Unread }, juggle)
}

pub(crate) fn section((section, juggle): (Section, Juggle)) -> Section {
    Section { part: Part::Juggle(Box::new(juggle)), ..section }
}

pub(crate) fn pause(section: &str, lasts: Length) -> Section {
    let pause = Pause { lasts: placed(lasts), pick_up: Vec::new(), place: None };
    Section { name: name(section), at: Place::default(), part: Part::Pause(pause) }
}

pub(crate) fn balls(set: &str, colours: &[&str]) -> PropSet {
    PropSet {
        name: name(set),
        at: Place::default(),
        kind: PropKind::Ball,
        length: 0.072,
        colours: colours.iter().map(|colour| name(colour)).collect(),
        burn: Vec::new(),
    }
}

/// A cue by number (0 for none), at a moment and a shift.
pub(crate) fn cue(desk: Desk, number: u32, when: Option<When>, by: Trigger, does: &str) -> Cue {
    Cue {
        at: Place::default(),
        desk: placed(desk),
        number: (number > 0).then(|| placed(CueNumber { tenths: number * 10 })),
        when,
        by: placed(by),
        does: name(does),
        count: None,
        standby: None,
        dark: false,
        flashes: None,
        spot: None,
        spot_stays: false,
    }
}

pub(crate) fn follow(number: u32, from: FollowFrom, after_ms: i64) -> Trigger {
    Trigger::Follow {
        desk: None,
        number: placed(CueNumber { tenths: number * 10 }),
        from,
        after: ms(after_ms),
    }
}

/// A routine of these sections: right leads, 200 throws a minute, zero where it begins to throw.
pub(crate) fn routine(score: Vec<Section>, sets: Vec<PropSet>) -> Routine {
    let colours = ["coral", "teal", "pearl"]
        .map(|colour| NamedColour { name: name(colour), rgb: Rgb { red: 9, green: 9, blue: 9 } });
    Routine {
        title: name("Lantern Quay"),
        issue: 3,
        lead: Hand::Right,
        tempo: Some(placed(per_minute(200))),
        dwell: Ratio::new(2, 3),
        room: Some(Room { clear_height: placed(4.5), hands_at: 1.0 }),
        transitions: Bounds { highest: 7, at_once: 2, beats: 6 },
        colours: colours.into(),
        sets,
        music: None,
        zero: placed(Moment::FirstThrow),
        score,
        limits: Vec::new(),
        cues: Vec::new(),
    }
}

/// The timeline of a routine that compiles.
pub(crate) fn compiled(routine: &Routine) -> Timeline {
    let compiled = compile(routine);
    assert_eq!(compiled.troubles, []);
    compiled.timeline
}

/// The worked example.
pub(crate) fn lantern_quay() -> Routine {
    let (tide, mut tide_juggle) = juggle("tide", "3", Length::Beats(26));
    tide_juggle.set = Some(name("three"));
    let beam = juggle("beam", "531", Length::Cycles(8));
    let (wake, mut wake_juggle) = juggle("wake", "51", Length::Cycles(10));
    wake_juggle.transition = placed(Transition::Auto);
    let (ebb, mut ebb_juggle) = juggle("ebb", "3", Length::Beats(6));
    ebb_juggle.transition = placed(Transition::Throws(WrittenThrows {
        throws: Sequence::read("2").expect("one throw").0,
        at: Place::default(),
        characters: Vec::new(),
    }));
    let (fleet, mut fleet_juggle) = juggle("fleet", "5", Length::Cycles(50));
    fleet_juggle.set = Some(name("five"));
    fleet_juggle.tempo = Some(placed(per_minute(240)));
    let until_drum = Length::Until(Moment::Mark(name("drum")));
    let score = vec![
        pause("walk on", Length::For(ms(6_000))),
        pause("stillness", until_drum),
        section((tide, tide_juggle)),
        section(beam),
        section((wake, wake_juggle)),
        section((ebb, ebb_juggle)),
        pause("pick up two", Length::For(ms(6_000))),
        section((fleet, fleet_juggle)),
        pause("bow", Length::For(ms(5_000))),
    ];
    let sets = vec![
        balls("three", &["coral", "teal", "pearl"]),
        balls("five", &["pearl", "pearl", "teal", "teal", "coral"]),
    ];
    let mut quay = routine(score, sets);
    quay.music = Some(Track {
        file: name("lantern.wav"),
        length: placed(ms(65_000)),
        starts: placed(Moment::Start(name("stillness"))),
        bars: Vec::new(),
        marks: vec![(name("drum"), placed(ms(7_500)))],
    });
    quay.zero = placed(Moment::TrackStart);
    quay.limits = vec![Limit {
        at: Place::default(),
        rule: "tin cup, short class".to_owned(),
        starts: when(Moment::TrackStart, 0),
        stops: when(Moment::LastCatch(None), 0),
        at_least: Some(placed(ms(40_000))),
        at_most: Some(placed(ms(60_000))),
        margin: ms(3_000),
        grace: ms(5_000),
        on_the_line: OnTheLine::Inside,
        penalty: Some(Penalty::Steps {
            every: ms(8_000),
            or_part: true,
            from: StepsFrom::Limit,
            points: 1.0,
        }),
    }];
    quay.cues = cues();
    quay
}

fn cues() -> Vec<Cue> {
    let count = |cue: Cue, seconds: i64| Cue { count: Some(placed(ms(seconds * 1000))), ..cue };
    let house = when(Moment::TrackStart, -20_000);
    let tide = when(Moment::Start(name("tide")), 0);
    let ebb = when(Moment::LastCatch(Some(name("ebb"))), 0);
    let drum = Trigger::Hear("first drum".to_owned());
    let in_hands = Trigger::See(Some("all balls in hands".to_owned()));
    vec![
        count(cue(Desk::House, 0, Some(house), Trigger::Called, "to half"), 5),
        count(cue(Desk::Light, 15, Some(tide), drum, "sides up, front low"), 1),
        Cue { dark: true, ..cue(Desk::Light, 20, Some(ebb), in_hands, "blackout") },
        count(
            cue(Desk::Light, 25, None, follow(20, FollowFrom::Complete, 3_500), "sides and back"),
            2,
        ),
    ]
}
