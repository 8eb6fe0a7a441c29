//! Limits and cues of a random act, close to where they are just met or just missed.

use crate::estimate::Estimate;
use crate::random::{Known, Making};
use crate::said::chance::Chance;
use crate::said::names::{CREW, TRIGGER, at, clock, seconds};

const CREWS: [&str; 6] = ["House", "Light", "Sound", "Spot", "Fly", "Deck"];

/// Up to three limits.
pub(crate) fn limits(making: &mut Making) {
    let known = slot(making);
    let opens = making.opens.clone();
    let chance = &mut making.chance;
    for index in 0..chance.below(4) {
        let first = chance.pick(&known).clone();
        let later: Vec<&Known> =
            known.iter().filter(|one| one.comes.least > first.comes.least).collect();
        let Some(last) = (!later.is_empty()).then(|| (*chance.pick(&later)).clone()) else {
            continue;
        };
        let (least, most) = last.comes.after(&first.comes).range(&opens);
        // A stop that may come before the start is an error.
        if least < first.comes.slack {
            continue;
        }
        let edge = |chance: &mut Chance| chance.within(least / 100 - 20, most / 100 + 20) * 100;
        let (low, high) = (edge(chance).max(0), edge(chance).max(100));
        let (low, high) = (low.min(high), low.max(high));
        let edges = match chance.below(3) {
            0 => format!("at_least: {}", clock(low)),
            1 => format!("at_most: {}", clock(high)),
            _ => format!("at_least: {}, at_most: {}", clock(low), clock(high)),
        };
        let margin = if chance.often(40) { ", margin: 1.5" } else { "" };
        let grace = match (chance.often(30), edges.contains("at_most")) {
            (true, true) => ", grace: 2.0",
            (true, false) => ", grace_under: 2.0",
            (false, _) => "",
        };
        let line = chance.pick(&["Inside", "Outside"]);
        let penalty = *chance.pick(&[
            "",
            ", penalty: Flat(2.0)",
            ", penalty: Steps(every: 2.0, or_part: true, from: Limit, points: 1.0)",
            ", penalty: Graded([(over: 0.0, points: 1.0), (over: 3.0, points: 4.0)])",
        ]);
        making.act.limits.push(format!(
            "Limit(rule: \"rule {index}\", starts: {}, stops: {}, {edges}{margin}{grace}, \
             on_the_line: {line}{penalty})",
            first.moment, last.moment
        ));
    }
}

/// The moments of the act and those around it.
fn slot(making: &Making) -> Vec<Known> {
    let mut known = making.known.clone();
    let ends = making.now.clone();
    let mut add = |moment: &str, comes: Estimate| {
        known.push(Known { moment: moment.to_owned(), comes });
    };
    let has = |part: &str| making.act.head.iter().any(|field| field.starts_with(part));
    if has("set_up") {
        add("SetUpStart", Estimate::default().plus(-30_000));
        add("SetUpEnd", Estimate::default());
    }
    let mut over = ends.clone();
    if making.act.encore.is_some() {
        let lasts = &making.encore.1;
        let begins = Estimate { slack: 0, ..Estimate::default().after(lasts) };
        over = ends.after(&begins);
        for _ in 0..2 {
            add("EncoreStart", ends.clone());
            add("EncoreEnd", over.clone());
        }
    }
    if has("strike") {
        add("StrikeStart", over.clone());
        add("StrikeEnd", over.plus(30_000));
    }
    known
}

/// Cues of the act.
pub(crate) fn cues(making: &mut Making) {
    let known = slot(making);
    let mut writing = Writing { known: &known, opens: &making.opens, cues: Vec::new(), taken: 0 };
    for _ in 0..making.chance.below(5) {
        match making.chance.below(7) {
            0 | 1 => writing.dark(&mut making.chance),
            2 | 3 => writing.called(&mut making.chance),
            4 => writing.sound(&mut making.chance),
            5 => writing.fade(&mut making.chance),
            _ => writing.any(&mut making.chance),
        }
    }
    making.act.cues = writing.cues;
}

/// Cues of the encore.
pub(crate) fn encore_cues(making: &mut Making) -> Vec<String> {
    let known = making.encore.0.clone();
    // Its numbers go on from those of the act.
    let taken = 100;
    let mut writing = Writing { known: &known, opens: &making.opens, cues: Vec::new(), taken };
    for _ in 0..making.chance.below(3) {
        match making.chance.below(3) {
            0 => writing.dark(&mut making.chance),
            1 => writing.called(&mut making.chance),
            _ => writing.any(&mut making.chance),
        }
    }
    writing.cues
}

struct Writing<'k> {
    known: &'k [Known],
    opens: &'k [(i64, i64)],
    cues: Vec<String>,
    taken: u32,
}

impl Writing<'_> {
    fn number(&mut self) -> u32 {
        self.taken += 1;
        self.taken
    }

    /// What stands behind the crew and the number, of the same crew as the cue before.
    fn cue(&mut self, crew: &str, rest: &str) -> u32 {
        let number = self.number();
        self.cues.push(format!("Cue({CREW}: {crew}, number: {number}, {rest})"));
        number
    }

    fn moment(&self, chance: &mut Chance) -> Known {
        chance.pick(self.known).clone()
    }

    /// Another moment that may come close to this one, with the shift that brings it there.
    fn close_to(&self, one: &Known, chance: &mut Chance) -> Option<(Known, i64)> {
        let other = self.moment(chance);
        let (least, most) = one.comes.after(&other.comes).range(self.opens);
        let shift = chance.within(least, most);
        let shift = if chance.often(30) { 0 } else { shift };
        (shift.abs() < 30_000).then_some((other, shift / 100 * 100))
    }

    /// A stretch of dark, and what brings the light back.
    fn dark(&mut self, chance: &mut Chance) {
        let from = self.moment(chance);
        let shift = chance.within(-10, 20) * 100;
        let takes = *chance.pick(&["See(\"bows\")", "Called", "Hear(\"bell\")"]);
        let does = "does: \"out\", dark: true";
        let begun = format!("{}, {TRIGGER}: {takes}, {does}", at(&from.moment, shift));
        let number = self.cue("Light", &begun);
        if chance.often(35) {
            let spot = if chance.often(50) { "Up" } else { "Out" };
            let when = at(&self.moment(chance).moment, chance.within(-2, 2) * 1000);
            self.cue("Spot", &format!("{when}, {TRIGGER}: Called, does: \"spot\", spot: {spot}"));
        }
        let back = match chance.below(4) {
            0 => {
                let after = seconds(chance.within(1, 60) * 100);
                format!("{TRIGGER}: Follow({number}, Go, {after})")
            }
            1 => {
                let shift = shift + chance.within(3, 60) * 100;
                format!("{}, {TRIGGER}: See(\"up\")", at(&from.moment, shift))
            }
            _ => match self.close_to(&from, chance) {
                Some((other, shift)) => {
                    let shift = shift + chance.within(0, 40) * 100;
                    format!("{}, {TRIGGER}: See(\"up\")", at(&other.moment, shift))
                }
                None => return,
            },
        };
        let count = chance.pick(&[0, 1, 1, 3]);
        self.cue("Light", &format!("{back}, does: \"up\", count: {count}"));
    }

    /// Two called cues that may come close to each other.
    fn called(&mut self, chance: &mut Chance) {
        let first = self.moment(chance);
        let Some((other, shift)) = self.close_to(&first, chance) else { return };
        for (known, shift) in [(first, 0), (other, shift)] {
            let crew = chance.pick(&CREWS);
            let count = if *crew == "Light" { ", count: 1" } else { "" };
            let standby = if chance.often(20) { ", standby: 12.0" } else { "" };
            let when = at(&known.moment, shift);
            self.cue(crew, &format!("{when}, {TRIGGER}: Called, does: \"go\"{count}{standby}"));
        }
    }

    /// A Sound cue that plays or fades a track, at its start or its end or close to it.
    fn sound(&mut self, chance: &mut Chance) {
        let of_track = |one: &&Known| one.moment.starts_with("Track");
        let of_tracks: Vec<&Known> = self.known.iter().filter(of_track).collect();
        let known = match of_tracks.is_empty() || chance.often(30) {
            true => self.moment(chance),
            false => (*chance.pick(&of_tracks)).clone(),
        };
        let shift = if chance.often(60) { 0 } else { chance.within(-3, 3) * 100 };
        let does = chance.pick(&["play", "play day", "run night", "fade out", "fade day", "surf"]);
        let when = at(&known.moment, shift);
        self.cue("Sound", &format!("{when}, {TRIGGER}: Called, does: \"{does}\", count: 1"));
    }

    /// A fade, a cue of the same crew that may cut it short, and what follows its completion.
    fn fade(&mut self, chance: &mut Chance) {
        let first = self.moment(chance);
        let Some((other, shift)) = self.close_to(&first, chance) else { return };
        let crew = *chance.pick(&CREWS);
        let count = chance.within(1, 5);
        let begins = at(&first.moment, 0);
        let takes = "does: \"fade\", count";
        let number = self.cue(crew, &format!("{begins}, {TRIGGER}: Called, {takes}: {count}"));
        let cuts = at(&other.moment, shift + chance.within(-2, 6) * 1000);
        self.cue(crew, &format!("{cuts}, {TRIGGER}: See(\"a nod\"), {takes}: 1"));
        let follows = format!("{TRIGGER}: Follow({crew}({number}), Complete, 0.5)");
        self.cue(crew, &format!("{follows}, {takes}: 1"));
    }

    /// Any cue, and perhaps one that goes with it or follows it.
    fn any(&mut self, chance: &mut Chance) {
        let known = self.moment(chance);
        let shift = if chance.often(50) { 0 } else { chance.within(-30, 30) * 100 };
        let crew = *chance.pick(&CREWS);
        let takes = *chance.pick(&["See", "See(\"a nod\")", "Hear(\"a bell\")", "Called"]);
        let is_timed = chance.often(10);
        let (_, latest) = known.comes.range(self.opens);
        let moment = match is_timed {
            true => format!("At({})", clock(latest / 100 * 100)),
            false => known.moment.clone(),
        };
        let when = at(&moment, shift);
        let number = self.cue(crew, &format!("{when}, {TRIGGER}: {takes}, does: \"go\", count: 2"));
        if chance.often(40) {
            let other = *chance.pick(&CREWS);
            let takes = match chance.below(3) {
                0 => format!("With({crew}({number}))"),
                1 => format!("Follow({crew}({number}), Go, 0.5)"),
                _ => format!("Follow({crew}({number}), Complete, 1.5)"),
            };
            self.cue(other, &format!("{TRIGGER}: {takes}, does: \"too\", count: 1"));
        }
    }
}
