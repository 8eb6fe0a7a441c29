//! Random acts that ask for colours: what is written, and the text that writes it.

use std::fmt::Write;

use throwbook::act::Act;
use throwbook::notation::{Sequence, Step};
use throwbook::open;
use throwbook::routine::Part;

use crate::exhaustive::{Wanted, is_met};
use crate::juggler::{Juggler, Made, Steps};

/// The names of the colours.
pub(crate) const COLOURS: [&str; 5] = ["amber", "blue", "coral", "dusk", "ebony"];

/// Patterns of so many props, all with alternating hands.
const PATTERNS: [(usize, &[&str]); 3] = [
    (3, &["3", "531", "423", "441", "51", "414", "[32]1", "[42]0", "3", "531"]),
    (4, &["4", "534", "633", "552", "71", "[43]23", "4", "534", "[34]23"]),
    (5, &["5", "744", "645", "[54]24", "[45]24", "753", "5", "66661"]),
];

/// Numbers that are the same every time.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x1234_5678_9abc_def1)
    }

    /// A number below `sides` (SplitMix64, Steele, Lea and Flood 2014).
    pub(crate) fn below(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((bits ^ (bits >> 31)) % u64::try_from(sides).unwrap()).unwrap()
    }

    fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
}

/// A section of an act.
#[derive(Clone, Debug)]
pub(crate) struct Section {
    pub(crate) pattern: &'static str,
    pub(crate) steps: Steps,
    pub(crate) beats: usize,
    pub(crate) starts_anew: bool,
    pub(crate) after_pause: bool,
    pub(crate) auto: bool,
    pub(crate) starting_throw: bool,
    pub(crate) multiplex_order: bool,
    pub(crate) transition: bool,
    /// Each throw and the colours that it shows in turn.
    pub(crate) shows: Vec<(u32, Vec<usize>)>,
    pub(crate) solid: bool,
    pub(crate) alike: Option<(u32, u32)>,
    pub(crate) unlike: Option<(u32, u32)>,
}

impl Section {
    pub(crate) fn is_multiplex(&self) -> bool {
        self.pattern.contains('[')
    }

    fn random(dice: &mut Dice, props: usize, index: usize) -> Section {
        let (_, patterns) = PATTERNS.iter().find(|(of, _)| *of == props).unwrap();
        let pattern = patterns[dice.below(patterns.len())];
        let steps = steps(pattern);
        let cycles = 12_usize.div_ceil(steps.len()) + dice.below(3);
        let throws: Vec<u32> =
            steps.iter().flatten().filter(|(value, _)| *value > 0).map(|t| t.1).collect();
        let any = |dice: &mut Dice| throws[dice.below(throws.len())];
        let mut shows: Vec<(u32, Vec<usize>)> = Vec::new();
        for _ in 0..dice.below(3) {
            let throw = any(dice);
            if shows.iter().all(|(other, _)| *other != throw) {
                let colours = 1 + dice.below(3).min(dice.below(4));
                shows.push((throw, (0..colours).map(|_| dice.below(COLOURS.len())).collect()));
            }
        }
        let two = |dice: &mut Dice| {
            let (one, other) = (any(dice), any(dice));
            (one != other).then_some((one, other))
        };
        let alike = if dice.once_in(6) { two(dice) } else { None };
        let unlike = if dice.once_in(6) { two(dice) } else { None };
        let unlike = unlike.filter(|&(a, b)| alike != Some((a, b)) && alike != Some((b, a)));
        Section {
            pattern,
            beats: cycles * steps.len(),
            steps,
            starts_anew: index == 0,
            after_pause: index > 0 && dice.once_in(4),
            auto: !dice.once_in(4),
            starting_throw: dice.once_in(3),
            multiplex_order: dice.once_in(2),
            transition: !dice.once_in(3),
            shows,
            solid: dice.once_in(7),
            alike,
            unlike,
        }
    }

    pub(crate) fn wanted(&self) -> Wanted<'_> {
        Wanted { section: self, starts: vec![0; self.shows.len()] }
    }
}

/// A random act.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    /// The colour of each prop of the set.
    pub(crate) set: Vec<usize>,
    pub(crate) found: bool,
    pub(crate) highest: u8,
    pub(crate) beats: usize,
    pub(crate) sections: Vec<Section>,
    /// The exhaustive search throws no way in another order than highest first.
    pub(crate) ways_are_fixed: bool,
}

impl Case {
    /// A random act of two sections with multiplexes, of which the way into the second may be thrown
    /// in every order.
    pub(crate) fn joined(dice: &mut Dice) -> Case {
        loop {
            let props = 3 + dice.below(3);
            let set: Vec<usize> = (0..props).map(|prop| prop % (2 + dice.below(4))).collect();
            let mut sections: Vec<Section> =
                (0..2).map(|index| Section::random(dice, props, index)).collect();
            if !sections.iter().all(Section::is_multiplex) || sections[1].shows.is_empty() {
                continue;
            }
            for section in &mut sections {
                section.shows.retain(|(_, colours)| colours.iter().all(|c| set.contains(c)));
                section.after_pause = false;
                section.starting_throw = false;
                (section.solid, section.alike, section.unlike) = (false, None, None);
            }
            sections[0].shows.clear();
            (sections[0].auto, sections[0].transition) = (false, false);
            (sections[1].auto, sections[1].multiplex_order) = (true, true);
            let beats = if dice.once_in(20) { 3 } else { 2 };
            return Case { set, found: false, highest: 5, beats, sections, ways_are_fixed: false };
        }
    }

    pub(crate) fn random(dice: &mut Dice) -> Case {
        let props = 3 + dice.below(3);
        let of_colours = 1 + dice.below(COLOURS.len().min(props));
        let set: Vec<usize> = (0..props).map(|_| dice.below(of_colours)).collect();
        let mut sections: Vec<Section> =
            (0..1 + dice.below(3)).map(|index| Section::random(dice, props, index)).collect();
        let beats = 1 + dice.below(3);
        let (mut starting_throws, mut transition) = (0, 0);
        for section in &mut sections {
            // What no prop has is refused, so it is not asked here.
            section.shows.retain(|(_, colours)| colours.iter().all(|c| set.contains(c)));
            if section.after_pause || section.starts_anew {
                section.auto = false;
            }
            section.transition &= section.auto;
            starting_throws += usize::from(section.starting_throw);
            section.starting_throw &= starting_throws <= 2;
            transition += usize::from(section.transition);
            section.transition &= transition <= if beats < 3 { 2 } else { 1 };
        }
        let found = !dice.once_in(4);
        Case { set, found, highest: 7, beats, sections, ways_are_fixed: false }
    }

    /// The same with nothing left to be chosen.
    pub(crate) fn fixed(mut self) -> Case {
        self.found = false;
        for section in &mut self.sections {
            section.starting_throw = false;
            section.multiplex_order = false;
            section.transition = false;
        }
        self
    }

    /// The same with one list at most, in the last section that asks for any.
    pub(crate) fn asking_once(mut self) -> Case {
        let mut asked = false;
        for section in self.sections.iter_mut().rev() {
            section.shows.truncate(usize::from(!asked));
            asked |= !section.shows.is_empty();
            section.solid = false;
            section.alike = None;
            section.unlike = None;
        }
        self
    }

    pub(crate) fn text(&self) -> String {
        let named = |colours: &[usize]| {
            let names: Vec<String> = colours.iter().map(|&c| format!("{:?}", COLOURS[c])).collect();
            names.join(", ")
        };
        let mut text = format!(
            "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,\n\
             transitions: Within(highest: {}, at_once: 1, beats: {}),\n\
             colours: {{ \"amber\": \"orange\", \"blue\": \"navy\", \"coral\": \"red\", \
             \"dusk\": \"purple\", \"ebony\": \"black\" }},\n\
             sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: [{}]) }},\nscore: [\n",
            self.highest,
            self.beats,
            named(&self.set)
        );
        for (index, section) in self.sections.iter().enumerate() {
            if section.after_pause {
                let _ = writeln!(text, "Pause(name: \"p{index}\", lasts: For(\"0:05\")),");
            }
            let _ = write!(
                text,
                "Juggle(name: \"j{index}\", pattern: \"{}\", lasts: Beats({})",
                section.pattern, section.beats
            );
            if index == 0 {
                text += ", set: \"s\"";
                text += if self.found { ", loading: Found" } else { "" };
            }
            text += if section.auto { ", transition: Auto" } else { "" };
            let free = [
                (section.starting_throw, "StartingThrow"),
                (section.multiplex_order, "MultiplexOrder"),
                (section.transition, "Transition"),
            ];
            let free: Vec<&str> = free.iter().filter(|(free, _)| *free).map(|f| f.1).collect();
            let _ = write!(text, ", free: [{}]", free.join(", "));
            let shows: Vec<String> = section
                .shows
                .iter()
                .map(|(throw, colours)| format!("{throw}: [{}]", named(colours)))
                .collect();
            let _ = write!(text, ", shows: {{ {} }}, solid: {}", shows.join(", "), section.solid);
            for (name, two) in [("alike", section.alike), ("unlike", section.unlike)] {
                if let Some((one, other)) = two {
                    let _ = write!(text, ", {name}: [({one}, {other})]");
                }
            }
            text += "),\n";
        }
        text + "])\n"
    }

    /// Holds what the program makes of the act to what is expected: the fewest beats of
    /// transitions with which everything comes about; `None` where nothing brings it about.
    pub(crate) fn hold(&self, expected: Option<usize>, seed: u64) {
        let text = self.text();
        let opened = open(&text);
        let said = format!("seed {seed}, expected {expected:?}\n{text}{:?}", opened.diagnostics);
        let (Some(act), Some(colours)) = (opened.finished(), &opened.colours) else {
            assert_eq!(expected, None, "{said}");
            return;
        };
        assert_eq!(colours.are_possible(), expected.is_some(), "{said}");
        let Some(beats) = expected else { return };
        let taken = act.timeline.sections.iter().filter_map(|span| span.juggle.as_ref());
        let taken: u32 = taken.filter_map(|span| Some(span.transition.as_ref()?.beats)).sum();
        assert_eq!(usize::try_from(taken).unwrap(), beats, "{said}");
        self.follow(&opened);
    }

    /// Follows what was chosen and sees whether everything comes about.
    fn follow(&self, opened: &throwbook::Opened) {
        let Act { routine, timeline, .. } = opened.finished().unwrap();
        let entries = routine.score.iter().zip(&timeline.sections);
        let juggled = entries.filter_map(|(section, span)| match (&section.part, &span.juggle) {
            (Part::Juggle(juggle), Some(span)) => Some((juggle, span)),
            _ => None,
        });
        let first = &timeline.runs[0];
        let colour = |prop: throwbook::timeline::Prop| {
            let name = &routine.colours[first.colours[usize::from(prop.0)]].name.value;
            COLOURS.iter().position(|other| other == name).unwrap()
        };
        // Props by the hand and the place in it from which they start.
        let mut colours = Vec::new();
        let hands = first.loading.hands.clone().map(|hand| {
            let props = hand.into_iter().map(|prop| {
                colours.push(colour(prop));
                colours.len() - 1
            });
            props.collect::<Vec<usize>>()
        });
        let mut juggler = Juggler::holding(&hands, 1);
        for (section, (juggle, span)) in self.sections.iter().zip(juggled) {
            if section.after_pause {
                juggler = Juggler::holding(&juggler.gathered(), span.lead.unwrap().index());
            }
            if let Some(taken) = &span.transition {
                for throws in written(&taken.throws) {
                    juggler.step(&throws, false).expect("the way in can be thrown");
                }
            }
            let steps = written(juggle.pattern.pattern.sequence());
            let cold = section.after_pause || section.starts_anew;
            let made: Vec<Made> = juggler.juggle(&steps, section.beats, cold).expect("it fits");
            let lists = juggle.seen.shows.iter().map(|shown| {
                let names = shown.colours.iter().map(|colour| colour.value.as_str());
                let known = names.map(|name| COLOURS.iter().position(|c| *c == name).unwrap());
                (shown.throw.value, known.collect())
            });
            let seen = Section { shows: lists.collect(), ..section.clone() };
            assert!(is_met(&seen.wanted(), &steps, &made, &colours), "{}", self.text());
        }
    }
}

/// The throws of a text with alternating hands, read by the crate's notation only.
pub(crate) fn steps(pattern: &str) -> Steps {
    written(&Sequence::read(pattern).unwrap_or_else(|faults| panic!("{faults:?}")).0)
}

fn written(sequence: &Sequence) -> Steps {
    let throws = |step: &Step| {
        assert!(matches!(step, Step::Alternating(_)));
        step.throws().map(|written| (written.throw.value, written.number)).collect()
    };
    sequence.steps.iter().map(throws).collect()
}
