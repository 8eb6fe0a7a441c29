//! The line-up against an independent search: every loading, beginning, list start and way.
//!
//! One run of one to three sections of one throw a beat. Props are followed here from the values
//! alone: a throw of value v made on beat t is the prop thrown on beat t + v. A loading is the
//! order in which colours are called for at the cold start.

mod told;

use std::collections::BTreeMap;
use std::fmt::Write;

use throwbook::act::Act;
use throwbook::open;
use throwbook::routine::Part;

const COLOURS: [&str; 3] = ["coral", "pearl", "teal"];
const HIGHEST: u32 = 5;
const LONGEST_WAY: usize = 2;

struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides
    }
}

#[derive(Clone, Debug)]
enum Asked {
    Shows(usize, Vec<usize>),
    Solid,
    Alike(usize, usize),
    Unlike(usize, usize),
}

#[derive(Clone, Debug)]
struct Section {
    values: Vec<u32>,
    cycles: usize,
    starting_throw: bool,
    way: bool,
    asked: Vec<Asked>,
}

/// A flight of the props: what lands on which beat from now.
#[derive(Clone, Debug, Default)]
struct Air {
    lands: BTreeMap<u32, usize>,
    beat: u32,
    called: usize,
}

impl Air {
    /// The prop that is thrown; `None` where the throw cannot be made.
    fn throw(&mut self, value: u32, props: usize) -> Option<Option<usize>> {
        let here = self.lands.remove(&self.beat);
        let beat = self.beat;
        self.beat += 1;
        if value == 0 {
            return here.is_none().then_some(None);
        }
        let prop = match here {
            Some(prop) => prop,
            None if self.called < props => {
                self.called += 1;
                self.called - 1
            }
            None => return None,
        };
        self.lands.insert(beat + value, prop).is_none().then_some(Some(prop))
    }
}

/// Whether what a section asks is seen. `made`: number of the throw from 0 and prop, in order.
fn is_seen(section: &Section, made: &[(usize, usize)], of: &[usize], starts: &[usize]) -> bool {
    let period = section.values.len();
    let by =
        |number: usize| made.iter().filter(move |(n, _)| *n == number).map(|(_, prop)| of[*prop]);
    let mut lists = starts.iter();
    section.asked.iter().all(|asked| match asked {
        Asked::Shows(number, list) => {
            let start = *lists.next().unwrap();
            by(*number).zip(list.iter().cycle().skip(start)).all(|(seen, wanted)| seen == *wanted)
        }
        Asked::Solid => (0..period).all(|number| {
            let lands = (number + section.values[number] as usize) % period;
            let all: Vec<usize> = by(number).chain(by(lands)).collect();
            all.windows(2).all(|two| two[0] == two[1])
        }),
        Asked::Alike(one, other) => by(*one).zip(by(*other)).all(|(a, b)| a == b),
        Asked::Unlike(one, other) => by(*one).zip(by(*other)).all(|(a, b)| a != b),
    })
}

/// Every combination of list starts.
fn list_starts(section: &Section) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for asked in &section.asked {
        if let Asked::Shows(_, list) = asked {
            let starts = if section.starting_throw { list.len() } else { 1 };
            all = all
                .iter()
                .flat_map(|some| (0..starts).map(|s| [some.clone(), vec![s]].concat()))
                .collect();
        }
    }
    all
}

/// The fewest beats of ways with which a loading shows everything.
fn cheapest(sections: &[Section], air: &Air, of: &[usize]) -> Option<usize> {
    let Some((section, rest)) = sections.split_first() else { return Some(0) };
    let mut ways: Vec<(usize, Air)> = vec![(0, air.clone())];
    let mut from = 0;
    for length in 1..=if section.way { LONGEST_WAY } else { 0 } {
        let until = ways.len();
        for at in from..until {
            for value in 0..=HIGHEST {
                let mut air = ways[at].1.clone();
                if air.throw(value, of.len()).is_some() {
                    ways.push((length, air));
                }
            }
        }
        from = until;
    }
    let period = section.values.len();
    let mut best = None;
    for (length, air) in ways {
        for begins in 0..if section.starting_throw { period } else { 1 } {
            let mut air = air.clone();
            let mut made = Vec::new();
            let fits = (0..period * section.cycles).all(|at| {
                let number = (begins + at) % period;
                let thrown = air.throw(section.values[number], of.len());
                made.extend(thrown.flatten().map(|prop| (number, prop)));
                thrown.is_some()
            });
            if fits
                && list_starts(section).iter().any(|starts| is_seen(section, &made, of, starts))
                && let Some(more) = cheapest(rest, &air, of)
            {
                best = Some(best.map_or(length + more, |best: usize| best.min(length + more)));
            }
        }
    }
    best
}

/// Every distinct order.
fn orders(left: &mut Vec<usize>, taken: &mut Vec<usize>, all: &mut Vec<Vec<usize>>) {
    if left.iter().all(|&count| count == 0) {
        all.push(taken.clone());
    }
    for colour in 0..left.len() {
        if left[colour] > 0 {
            left[colour] -= 1;
            taken.push(colour);
            orders(left, taken, all);
            taken.pop();
            left[colour] += 1;
        }
    }
}

const PATTERNS: [(usize, &[&str]); 3] = [
    (3, &["3", "441", "531", "423", "51", "450", "5241"]),
    (4, &["4", "534", "552", "5551", "633", "53"]),
    (5, &["5", "744", "753", "645", "66661"]),
];

fn random(dice: &mut Dice) -> (Vec<usize>, bool, Vec<Section>) {
    let (props, patterns) = PATTERNS[dice.below(3)];
    let set: Vec<usize> = (0..props).map(|_| dice.below(3)).collect();
    let found = dice.below(4) > 0;
    let sections = (0..1 + dice.below(3)).map(|place| {
        let values: Vec<u32> =
            patterns[dice.below(patterns.len())].chars().map(|c| c.to_digit(10).unwrap()).collect();
        let thrown: Vec<usize> = (0..values.len()).filter(|&n| values[n] > 0).collect();
        let mut asked = Vec::new();
        let mut shown = Vec::new();
        for _ in 0..dice.below(3) {
            let mut any = || thrown[dice.below(thrown.len())];
            let (one, other) = (any(), any());
            let new = match dice.below(6) {
                0 if !asked.iter().any(|old| matches!(old, Asked::Solid)) => Asked::Solid,
                1 if one != other => Asked::Alike(one, other),
                2 if one != other => Asked::Unlike(one, other),
                _ if !shown.contains(&one) => {
                    shown.push(one);
                    let list = (0..1 + dice.below(2)).map(|_| set[dice.below(set.len())]).collect();
                    Asked::Shows(one, list)
                }
                _ => continue,
            };
            asked.push(new);
        }
        // `shows` is written first, in the order of its throws.
        asked.sort_by_key(|asked| match asked {
            Asked::Shows(number, _) => *number,
            _ => usize::MAX,
        });
        // Long enough that every prop is called for in the first section.
        let cycles = 8usize.div_ceil(values.len()) + dice.below(2);
        Section {
            values,
            cycles,
            starting_throw: dice.below(3) == 0,
            way: place > 0 && dice.below(4) > 0,
            asked,
        }
    });
    (set.clone(), found, sections.collect())
}

fn text(set: &[usize], found: bool, sections: &[Section]) -> String {
    let names: Vec<String> = set.iter().map(|&c| format!("{:?}", COLOURS[c])).collect();
    let mut text = format!(
        "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,\n\
         transitions: Within(highest: {HIGHEST}, at_once: 1, beats: {LONGEST_WAY}),\n\
         colours: {{ \"coral\": \"#ff6f61\", \"pearl\": \"#f5f0e6\", \"teal\": \"#007a7a\" }},\n\
         sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: [{}]) }},\nscore: [\n",
        names.join(", ")
    );
    for (place, section) in sections.iter().enumerate() {
        let values: String = section.values.iter().map(u32::to_string).collect();
        let _ = write!(
            text,
            "Juggle(name: \"n{place}\", pattern: \"{values}\", lasts: Cycles({})",
            section.cycles
        );
        if place == 0 {
            text += ", set: \"s\"";
            text += if found { ", loading: Found" } else { "" };
        }
        let free = [(section.starting_throw, "StartingThrow"), (section.way, "Transition")];
        let free: Vec<&str> = free.iter().filter(|(is, _)| *is).map(|(_, name)| *name).collect();
        if section.way {
            text += ", transition: Auto";
        }
        if !free.is_empty() {
            let _ = write!(text, ", free: [{}]", free.join(", "));
        }
        let [mut shows, mut alike, mut unlike] = [const { Vec::<String>::new() }; 3];
        for asked in &section.asked {
            match asked {
                Asked::Shows(n, list) => {
                    let list: Vec<&str> = list.iter().map(|&c| COLOURS[c]).collect();
                    shows.push(format!("{}: {list:?}", n + 1));
                }
                Asked::Solid => text += ", solid: true",
                Asked::Alike(a, b) => alike.push(format!("({}, {})", a + 1, b + 1)),
                Asked::Unlike(a, b) => unlike.push(format!("({}, {})", a + 1, b + 1)),
            }
        }
        for (name, all, ends) in
            [("shows", shows, "{}"), ("alike", alike, "[]"), ("unlike", unlike, "[]")]
        {
            if !all.is_empty() {
                let _ = write!(text, ", {name}: {}{}{}", &ends[..1], all.join(", "), &ends[1..]);
            }
        }
        text += "),\n";
    }
    text + "])\n"
}

#[test]
fn random_routines_are_as_the_exhaustive_search_finds_them() {
    let mut dice = Dice(20);
    let (mut possible, mut not) = (0, 0);
    for case in 0..400 {
        let (set, found, sections) = random(&mut dice);
        let mut counts = vec![0; COLOURS.len()];
        set.iter().for_each(|&colour| counts[colour] += 1);
        let mut loadings = Vec::new();
        match found {
            true => orders(&mut counts, &mut Vec::new(), &mut loadings),
            false => loadings.push(set.clone()),
        }
        let best = loadings.iter().filter_map(|of| cheapest(&sections, &Air::default(), of)).min();
        let text = text(&set, found, &sections);
        let opened = open(&text);
        let codes: Vec<_> = opened.diagnostics.iter().map(|d| (d.code, &d.message)).collect();
        let is_possible = opened.finished().is_some()
            && opened.colours.as_ref().is_some_and(|colours| colours.are_possible());
        assert_eq!(is_possible, best.is_some(), "case {case}: {codes:?}\n{text}");
        let (Some(act), Some(best)) = (opened.finished(), best) else {
            not += 1;
            continue;
        };
        possible += 1;
        let Act { routine, timeline, .. } = act;
        let [run] = &timeline.runs[..] else { panic!("one run: {text}") };
        // Colours are read where a prop is called for; from there on it is followed here.
        let (mut air, mut of, mut ways) = (Air::default(), Vec::new(), 0);
        let mut made = vec![Vec::new(); sections.len()];
        for action in &run.actions {
            let prop = air.throw(u32::from(action.throw.value), set.len()).expect("can be thrown");
            if prop == Some(of.len()) {
                let name = &routine.colours[run.colour(action).unwrap()].name.value;
                of.push(COLOURS.iter().position(|colour| colour == name).unwrap());
            }
            match (action.number, prop) {
                (Some(_), Some(prop)) => {
                    made[action.section as usize].push((action.written as usize - 1, prop));
                }
                (None, _) => ways += 1,
                _ => {}
            }
        }
        assert!(loadings.contains(&of), "case {case}: {of:?}\n{text}");
        for ((section, made), entry) in sections.iter().zip(&made).zip(&routine.score) {
            let Part::Juggle(juggle) = &entry.part else { panic!("{text}") };
            let mut seen = section.clone();
            let mut shows = juggle.seen.shows.iter();
            for asked in &mut seen.asked {
                if let Asked::Shows(number, list) = asked {
                    let shown = shows.next().unwrap();
                    assert_eq!(shown.throw.value as usize, *number + 1);
                    let now: Vec<usize> = shown
                        .colours
                        .iter()
                        .map(|c| COLOURS.iter().position(|n| *n == c.value).unwrap())
                        .collect();
                    let rotated = (0..list.len()).any(|by| {
                        let mut list = list.clone();
                        list.rotate_left(by);
                        list == now && (by == 0 || section.starting_throw)
                    });
                    assert!(rotated, "case {case}: {now:?}\n{text}");
                    *list = now;
                }
            }
            let starts = vec![0; seen.asked.len()];
            assert!(is_seen(&seen, made, &of, &starts), "case {case}: {made:?} {of:?}\n{text}");
        }
        assert_eq!(ways, best, "case {case}\n{text}");
    }
    assert!(possible > 100 && not > 50, "{possible} possible, {not} not");
}

/// `41` into the second section and `3` into the third show everything when they are written; `23`
/// comes to the same place, its props in another order.
#[test]
fn a_way_that_works_when_written_is_found() {
    let routine = |way: &str, next: &str| {
        format!(
            "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,\n\
             transitions: Within(highest: 5, at_once: 1, beats: 2),\n\
             colours: {{ \"coral\": \"#ff6f61\", \"teal\": \"#007a7a\" }},\n\
             sets: {{ \"s\": Set(kind: Ball, length: 0.07,\n\
             colours: [\"coral\", \"coral\", \"teal\"]) }},\nscore: [\n\
             Juggle(name: \"a\", pattern: \"450\", lasts: Cycles(3), set: \"s\", loading: Found,\n\
             shows: {{2: [\"coral\", \"teal\"]}}),\n\
             Juggle(name: \"b\", pattern: \"423\", lasts: Cycles(4), transition: {way}, solid: true),\n\
             Juggle(name: \"c\", pattern: \"5241\", lasts: Cycles(2), transition: {next},\n\
             shows: {{2: [\"teal\", \"coral\"]}}),\n])\n"
        )
    };
    let is_possible = |way: &str, next: &str| {
        let opened = open(&routine(way, next));
        opened.finished().is_some() && opened.colours.is_some_and(|colours| colours.are_possible())
    };
    assert!(is_possible("Throws(\"41\")", "Throws(\"3\")"));
    assert!(is_possible("Auto, free: [Transition]", "Throws(\"3\")"));
}
