//! Routines made by hand and compiled, so that drawings are tested without the reader of files.

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};

use crate::act::Act;
use crate::diagnostic::Place;
use crate::hand::Hand;
use crate::measure::examples;
pub(super) use crate::measure::examples::{name, placed};
use crate::notation::Sequence;
use crate::routine::{
    AddsUp, Bars, Crew, Cue, Hidden, Juggle, Length, Limit, Moment, NamedColour, OnTheLine, Part,
    Pause, PropKind, PropSet, Rgb, Room, Routine, Section, Tempo, Track, Transition, Trigger,
    WrittenThrows,
};
use crate::time::Seconds;
use crate::transition::Bounds;

fn tenths(tenths: i64) -> Seconds {
    Seconds::fraction(tenths, 10)
}

/// Builds a routine entry by entry.
pub(super) struct Builder(pub(super) Routine);

/// A routine without sections: colours as name and `0xrrggbb`, sets as indices of colours.
pub(super) fn routine(title: &str, colours: &[(&str, u32)], sets: &[&[usize]]) -> Builder {
    let colours: Vec<NamedColour> = colours
        .iter()
        .map(|&(colour, rgb)| {
            let [_, red, green, blue] = rgb.to_be_bytes();
            NamedColour { name: name(colour), rgb: Rgb { red, green, blue }, at: Place::default() }
        })
        .collect();
    let sets = sets.iter().enumerate().map(|(index, set)| PropSet {
        name: name(&index.to_string()),
        at: Place::default(),
        kind: PropKind::Ball,
        length: 0.072,
        colours: set.iter().map(|&colour| colours[colour].name.clone()).collect(),
        backs: Vec::new(),
        burn: Vec::new(),
        danger: None,
    });
    Builder(Routine {
        title: name(title),
        issue: 3,
        issue_at: Place::default(),
        lead: Hand::Right,
        tempo: Some(placed(Tempo::PerMinute(whole(200)))),
        room: Some(Room {
            clear_height: placed(4.5),
            hands_at: 1.0,
            margin: crate::routine::USUAL_MARGIN_M,
        }),
        dwell: Ratio::new(2, 3),
        transitions: Bounds::default(),
        sets: sets.collect(),
        colours,
        backdrop: None,
        music: None,
        tracks: Vec::new(),
        zero: placed(Moment::FirstThrow),
        score: Vec::new(),
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
    })
}

fn whole(number: i64) -> BigRational {
    BigRational::from_integer(BigInt::from(number))
}

impl Builder {
    pub(super) fn music(mut self, starts: &str, length_tenths: i64) -> Builder {
        self.0.zero = placed(Moment::TrackStart);
        self.0.music = Some(Track {
            file: Some(name("lantern.wav")),
            length: placed(tenths(length_tenths)),
            starts: placed(Moment::Start(name(starts))),
            bars: vec![Bars {
                from: placed(Seconds::fraction(85, 100)),
                bpm: whole(120),
                music_beats: 4,
                upbeat: 0,
                to: None,
                over: None,
                number: 1,
            }],
            marks: vec![(name("drum"), placed(tenths(75)))],
            holds: Vec::new(),
        });
        self
    }

    pub(super) fn pause(self, called: &str, length_tenths: i64) -> Builder {
        let lasts = placed(Length::For(tenths(length_tenths)));
        self.entry(
            called,
            Part::Pause(Pause {
                lasts,
                regrip: None,
                pick_up: Vec::new(),
                handled: Vec::new(),
                place: None,
            }),
        )
    }

    pub(super) fn juggle(self, called: &str, pattern: &str, cycles: u32) -> Builder {
        let (_, juggle) = examples::juggle(called, pattern, Length::Cycles(cycles));
        self.entry(called, Part::Juggle(Box::new(juggle)))
    }

    fn entry(mut self, called: &str, part: Part) -> Builder {
        self.0.score.push(Section { name: name(called), at: Place::default(), part });
        self
    }

    /// Changes the last entry, which must be a `Juggle`.
    fn last(mut self, change: impl FnOnce(&mut Juggle)) -> Builder {
        match self.0.score.last_mut().map(|section| &mut section.part) {
            Some(Part::Juggle(juggle)) => change(juggle),
            _ => panic!("the last entry is no Juggle"),
        }
        self
    }

    pub(super) fn with_set(self, set: usize) -> Builder {
        self.last(|juggle| juggle.set = Some(name(&set.to_string())))
    }

    pub(super) fn at(self, per_minute: i64) -> Builder {
        self.last(|juggle| juggle.tempo = Some(placed(Tempo::PerMinute(whole(per_minute)))))
    }

    pub(super) fn ramp(self, from: i64, to: i64) -> Builder {
        let tempo = Tempo::Ramp { from: Some(whole(from)), to: whole(to) };
        self.last(|juggle| juggle.tempo = Some(placed(tempo)))
    }

    /// `""` for the shortest transition.
    pub(super) fn by(self, throws: &str) -> Builder {
        let transition = match throws {
            "" => Transition::Auto,
            _ => Transition::Throws(WrittenThrows {
                throws: Sequence::read(throws).unwrap().0,
                at: Place::default(),
                characters: Vec::new(),
            }),
        };
        self.last(|juggle| juggle.transition = placed(transition))
    }

    /// A cue at a time in tenths; one that does `blackout` is dark, number 0 is none.
    pub(super) fn cue(mut self, at: i64, crew: Crew, number: u32, does: &str) -> Builder {
        let when = placed(Moment::At(tenths(at)));
        self.0.cues.push(Cue {
            count: Some(placed(Seconds::zero())),
            dark: does == "blackout",
            ..examples::cue(crew, number, Some(when), Trigger::Called, does)
        });
        self
    }

    pub(super) fn limit(mut self, rule: &str, most_tenths: i64) -> Builder {
        self.0.limits.push(Limit {
            at: Place::default(),
            rule: rule.to_owned(),
            starts: placed(Moment::FirstThrow),
            stops: placed(Moment::LastCatch(None)),
            passes_over: Vec::new(),
            adds_up: AddsUp::Everything,
            encore: None,
            moves: None,
            time_signals: Vec::new(),
            at_least: None,
            at_most: Some(placed(tenths(most_tenths))),
            margin: Seconds::zero(),
            grace: Seconds::zero(),
            grace_under: Seconds::zero(),
            on_the_line: OnTheLine::Inside,
            penalty: None,
        });
        self
    }

    pub(super) fn compiled(self) -> Act {
        let act = self.compiled_with_troubles();
        assert_eq!(act.troubles, Vec::new());
        act
    }

    /// As a routine that has errors comes out of the compiler.
    pub(super) fn compiled_with_troubles(self) -> Act {
        Act::of(&self.0)
    }
}

pub(super) const COLOURS: [(&str, u32); 3] =
    [("coral", 0xec6a5c), ("teal", 0x0f8b8d), ("pearl", 0xf4f1e6)];

/// An act of three, then five props, with a pause between, music and cues.
pub(super) fn lantern() -> Builder {
    routine("Lantern Quay", &COLOURS, &[&[0, 1, 2], &[2, 2, 1, 1, 0]])
        .music("stillness", 650)
        .pause("walk on", 60)
        .pause("stillness", 75)
        .juggle("tide", "3", 26)
        .with_set(0)
        .juggle("beam", "531", 8)
        .juggle("wake", "51", 10)
        .by("4")
        .juggle("ebb", "3", 6)
        .by("2")
        .pause("pick up two", 60)
        .juggle("fleet", "5", 50)
        .with_set(1)
        .at(240)
        .pause("bow", 50)
        .cue(-200, Crew::House, 0, "to half")
        .cue(75, Crew::Light, 15, "sides up, front low")
        .cue(81, Crew::Sound, 3, "waves in")
        .cue(311, Crew::Light, 20, "blackout")
        .cue(346, Crew::Light, 25, "sides and back")
        .limit("tin cup, short class", 600)
}

/// An act of pairs, a multiplex, a ramp and many cues at once.
pub(super) fn kelp() -> Builder {
    let colours = [
        ("amber", 0xf6d55c),
        ("navy", 0x20639b),
        ("rose", 0xd1495b),
        ("foam", 0xeef1ef),
        ("weed", 0x3c7a57),
    ];
    routine("Kelp & <Tide>", &colours, &[&[0, 1, 2, 3], &[0, 1, 2, 3, 4]])
        .juggle("pairs", "(4,4)", 8)
        .with_set(0)
        .juggle("a box of four with a long name", "(4,4)(4x,4x)", 4)
        .juggle("fountain", "4", 24)
        .by("")
        .juggle("in pairs again", "(4,4)", 4)
        .pause("breath", 30)
        .juggle("nets", "[54]24", 8)
        .with_set(1)
        .juggle("lift", "5", 30)
        .by("")
        .ramp(200, 260)
        .juggle("high", "97531", 5)
        .pause("bow", 40)
        .cue(20, Crew::Light, 5, "a wash that is described at some length")
        .cue(20, Crew::Sound, 5, "drone")
        .cue(24, Crew::Spot, 1, "up")
        .cue(25, Crew::Fly, 101, "cloth in")
        .cue(27, Crew::Deck, 0, "lamp off")
        .cue(115, Crew::Light, 10, "warm")
}
