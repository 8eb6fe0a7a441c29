//! When fire is alight, and when blades are in somebody's hands.
//!
//! Fire is in use from the start of the pause that says `lit`, or else of the pause before the
//! first section with it, to the end of the pause that says `put_out`, or else to the end of the
//! act and on into its encore: torches may burn in a stand while something else is juggled. Blades
//! are in use from the start of the pause that says `picked_up`, or else of the pause before their
//! first section, to the end of the pause that says `put_down`, or else until another set is
//! juggled. Blades that burn are both. Unit: seconds on the show clock.

use crate::routine::{Hazard, Pause, Routine};
use crate::time::{Seconds, Time, TimeRange, Within};
use crate::timeline::{Run, Timeline};

use super::Act;

/// Fire or blades in use.
#[derive(Clone, Debug, PartialEq)]
pub struct InUse {
    /// The set, as an index into the routine.
    pub set: usize,
    /// Its flames, or its blades.
    pub hazard: Hazard,
    /// The entry of the score in which it is lit or picked up; `None` in an encore that starts
    /// with it in use.
    pub begins: Option<usize>,
    /// The pause in which it is put out or down, or the entry that is juggled with another set
    /// than these blades; `None` where it is in use to the end of the act and beyond.
    pub ends: Option<usize>,
    /// Where the first of these starts.
    pub from: Time,
    /// Where that pause ends, where that section starts, or where the act ends.
    pub to: Time,
}

impl InUse {
    /// How long that is.
    #[must_use]
    pub fn lasts(&self) -> Time {
        &self.to - &self.from
    }

    /// Whether it is of that set's flames, or blades.
    #[must_use]
    pub fn is(&self, set: usize, hazard: Hazard) -> bool {
        self.set == set && self.hazard == hazard
    }

    /// Whether it is in use in an entry of the score, at its start at least.
    #[must_use]
    pub fn reaches(&self, entry: usize) -> bool {
        self.begins.is_none_or(|begins| begins <= entry)
            && self.ends.is_none_or(|ends| entry <= ends)
    }
}

/// When fire and blades are in use, in order; `before` are those of the act before an encore.
pub(super) fn in_use(routine: &Routine, timeline: &Timeline, before: &[InUse]) -> Vec<InUse> {
    let (Some(first), Some(last)) = (timeline.sections.first(), timeline.sections.last()) else {
        return Vec::new();
    };
    let carried = before.iter().filter(|used| used.ends.is_none()).map(|used| InUse {
        set: used.set,
        hazard: used.hazard,
        begins: None,
        ends: None,
        from: first.starts.clone(),
        to: last.ends.clone(),
    });
    let mut walk = Walk { routine, timeline, found: carried.collect() };
    let mut runs = timeline.runs.iter().peekable();
    for (index, section) in routine.score.iter().enumerate() {
        if let Some(pause) = section.pause() {
            walk.pause(index, pause);
        }
        if let Some(run) = runs.next_if(|run| run.sections.start == index) {
            walk.run(run);
        }
    }
    let mut found = walk.found;
    if let Some(hidden) = timeline.hides_throws() {
        // It may be in use there too.
        for used in &mut found {
            used.from = used.from.clone().hidden_within(hidden, Within::Starts);
            used.to = used.to.clone().hidden_within(hidden, Within::LastCatch);
        }
    }
    found
}

/// The way through the score.
struct Walk<'a> {
    routine: &'a Routine,
    timeline: &'a Timeline,
    found: Vec<InUse>,
}

impl Walk<'_> {
    fn is_in_use(&self, set: usize, hazard: Hazard) -> bool {
        self.found.iter().any(|used| used.is(set, hazard) && used.ends.is_none())
    }

    fn begin(&mut self, set: usize, hazard: Hazard, entry: usize) {
        let (Some(span), Some(last)) =
            (self.timeline.sections.get(entry), self.timeline.sections.last())
        else {
            return;
        };
        let (from, to) = (span.starts.clone(), last.ends.clone());
        self.found.push(InUse { set, hazard, begins: Some(entry), ends: None, from, to });
    }

    fn end(&mut self, set: usize, hazard: Hazard, entry: usize, at: &Time) {
        let mut in_use = self.found.iter_mut();
        if let Some(used) = in_use.find(|used| used.is(set, hazard) && used.ends.is_none()) {
            (used.ends, used.to) = (Some(entry), at.clone());
        }
    }

    fn pause(&mut self, index: usize, pause: &Pause) {
        let Some(span) = self.timeline.sections.get(index) else { return };
        for (handling, name) in &pause.handled {
            let hazard = handling.hazard();
            let Some(set) = self.routine.set_index(&name.value) else { continue };
            let is = self.routine.sets.get(set).is_some_and(|set| set.is(hazard));
            match (is, handling.begins()) {
                (true, true) if !self.is_in_use(set, hazard) => self.begin(set, hazard, index),
                (true, false) => self.end(set, hazard, index, &span.ends),
                _ => {}
            }
        }
    }

    fn run(&mut self, run: &Run) {
        let entry = run.sections.start;
        let Some(span) = self.timeline.sections.get(entry) else { return };
        for other in (0..self.routine.sets.len()).filter(|other| *other != run.set) {
            self.end(other, Hazard::Blades, entry, &span.starts);
        }
        let Some(written) = self.routine.sets.get(run.set) else { return };
        let before = entry.checked_sub(1);
        let pause = before.filter(|&before| self.routine.score[before].pause().is_some());
        for hazard in Hazard::ALL.into_iter().filter(|hazard| written.is(*hazard)) {
            if !self.is_in_use(run.set, hazard) {
                self.begin(run.set, hazard, pause.unwrap_or(entry));
            }
        }
    }
}

/// A tested burn held against how long the set is alight.
#[derive(Clone, Debug, PartialEq)]
pub struct Burn {
    /// When the set is in use.
    pub in_use: InUse,
    /// By how much each pause in it is shorter than its slowest logged pick-up, which then counts
    /// in its place; below zero where and when the pause is longer.
    pub slow: Vec<Time>,
    /// Which of its tests was the shortest, as an index.
    pub shortest: usize,
    /// That test, in seconds.
    pub test: Seconds,
}

impl Burn {
    /// How long it is alight, from lighting to putting out, from the shortest to the longest.
    #[must_use]
    pub fn lasts(&self) -> TimeRange {
        let certain = |slow: &&Time| slow.least() > Seconds::zero();
        let sum = |lasts: Time, slow: &Time| &lasts + slow;
        let always = self.slow.iter().filter(certain).fold(self.in_use.lasts(), sum);
        if always.is_unknown() {
            return always.range();
        }
        // Where it depends on the night whether a pick-up is too slow, the longest is with those
        // that make it longer.
        let longer = |lasts: Time, slow: &Time| {
            let with = &lasts + slow;
            if with.most() > lasts.most() { with } else { lasts }
        };
        let sometimes = self.slow.iter().filter(|slow| !certain(slow));
        let most = sometimes.fold(always.clone(), longer).most();
        TimeRange::between(always.least(), most)
    }

    /// What is left of the shortest test; below zero where it is too short.
    #[must_use]
    pub fn left(&self) -> TimeRange {
        let lasts = self.lasts();
        match (lasts.earliest(), lasts.latest()) {
            (Some(least), Some(most)) => {
                let left = |lasts: &Seconds| &self.test - lasts;
                TimeRange::between(left(most), left(least))
            }
            _ => lasts,
        }
    }
}

/// Every set with a tested burn, each time that it is lit. Fire that an encore starts with is not
/// among them: how long the applause takes before it, no clock knows.
#[must_use]
pub fn burns(act: &Act) -> Vec<Burn> {
    let burn = |in_use: &InUse| {
        in_use.begins.filter(|_| in_use.hazard == Hazard::Fire)?;
        let tests = &act.routine.sets.get(in_use.set)?.burn;
        let shortest = shortest(tests.iter().map(|test| &test.value))?;
        let test = tests.get(shortest)?.value.clone();
        let pauses = act.sections().filter(|(index, ..)| in_use.reaches(*index));
        let slow = pauses.filter_map(|(_, section, span)| {
            let slowest = Time::from(section.pause()?.slowest_pick_up()?.clone());
            Some(&slowest - &(&span.ends - &span.starts))
        });
        // Where a pause is of unknown length, so is the burn.
        let slow = slow.filter(|slow| !slow.is_unknown() && slow.most() > Seconds::zero());
        let slow = slow.collect();
        Some(Burn { in_use: in_use.clone(), slow, shortest, test })
    };
    act.in_use.iter().filter_map(burn).collect()
}

fn shortest<'a>(tests: impl Iterator<Item = &'a Seconds>) -> Option<usize> {
    let shorter = |best: Option<(usize, &'a Seconds)>, (index, test): (usize, &'a Seconds)| {
        if best.is_some_and(|(_, best)| best <= test) { best } else { Some((index, test)) }
    };
    tests.enumerate().fold(None, shorter).map(|(index, _)| index)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// When the sets of a score are in use: the name, from and to in seconds, and whether it ends.
    fn used(score: &str, rest: &str) -> Vec<(String, f64, f64, bool)> {
        let act = act(score, rest);
        act.in_use.iter().map(|used| told(&act, used)).collect()
    }

    fn told(act: &Act, used: &InUse) -> (String, f64, f64, bool) {
        let second = |time: &Time| time.certain().unwrap().to_f64();
        let name = act.routine.sets[used.set].name.value.clone();
        (name, second(&used.from), second(&used.to), used.ends.is_some())
    }

    fn act(score: &str, rest: &str) -> Act {
        let set = |name: &str, says: &str| {
            format!("\"{name}\": Set({says}, length: 0.5, colours: [\"a\", \"a\", \"a\"]),")
        };
        let sets = set("fire", "kind: Torch, burn: [95, 20, 21]")
            + &set("staffs", "kind: Other(\"staff\"), burn: [60]")
            + &set("knives", "kind: Knife")
            + &set("balls", "kind: Ball");
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), zero: Start(\"in\"), colours: {{ \"a\": \
             \"red\" }}, sets: {{ {sets} }}, score: [{score}], {rest})"
        );
        let opened = crate::open(&text);
        opened.act.unwrap_or_else(|| panic!("{:?}", opened.diagnostics))
    }

    fn juggle(name: &str, set: &str) -> String {
        // Twenty beats at 200 a minute are 6 s; its last 3 is caught 0.2 s later, where the pause
        // begins.
        format!("Juggle(name: \"{name}\", set: \"{set}\", pattern: \"3\", lasts: Beats(20)),")
    }

    fn pause(name: &str, says: &str) -> String {
        format!("Pause(name: \"{name}\", lasts: For(\"0:04\"), {says}),")
    }

    #[test]
    fn fire_burns_from_the_pause_before_it_to_the_end_of_the_act() {
        let (one, two) = (juggle("one", "fire"), juggle("two", "balls"));
        let score = pause("in", "") + &pause("light", "") + &one + &pause("swap", "") + &two;
        assert_eq!(used(&score, ""), [("fire".to_owned(), 4.0, 24.4, false)]);
    }

    #[test]
    fn fire_burns_from_where_it_is_lit_to_where_it_is_put_out() {
        let score = pause("in", "lit: \"fire\"")
            + &juggle("one", "balls")
            + &pause("swap", "")
            + &juggle("two", "fire")
            + &pause("out", "put_out: [\"fire\"]")
            + &juggle("three", "balls")
            + &pause("again", "")
            + &juggle("four", "fire");
        let expected =
            [("fire".to_owned(), 0.0, 24.4, true), ("fire".to_owned(), 30.6, 40.8, false)];
        assert_eq!(used(&score, ""), expected);
    }

    #[test]
    fn whatever_has_a_tested_burn_is_fire() {
        let score = pause("in", "") + &juggle("one", "staffs") + &pause("out", "");
        assert_eq!(used(&score, ""), [("staffs".to_owned(), 0.0, 14.2, false)]);
    }

    #[test]
    fn blades_are_in_use_until_they_are_put_down_or_others_are_juggled() {
        let score = pause("in", "")
            + &juggle("one", "knives")
            + &pause("down", "put_down: \"knives\"")
            + &pause("rest", "")
            + &juggle("two", "balls");
        assert_eq!(used(&score, ""), [("knives".to_owned(), 0.0, 14.2, true)]);
        let score = pause("in", "")
            + &juggle("one", "knives")
            + &pause("swap", "")
            + &juggle("two", "balls");
        assert_eq!(used(&score, ""), [("knives".to_owned(), 0.0, 14.2, true)]);
    }

    #[test]
    fn what_is_not_put_out_burns_on_into_the_encore() {
        let score = pause("in", "") + &juggle("one", "fire");
        let encore = |says: &str| {
            format!("encore: Encore(score: [{}{}])", pause("again", says), juggle("more", "balls"))
        };
        let of = |says: &str| {
            let act = act(&score, &encore(says));
            let encore = act.encore.as_deref().unwrap();
            encore.in_use.iter().map(|used| told(encore, used)).collect::<Vec<_>>()
        };
        assert_eq!(of(""), [("fire".to_owned(), 0.0, 10.2, false)]);
        assert_eq!(of("put_out: \"fire\""), [("fire".to_owned(), 0.0, 4.0, true)]);
    }

    #[test]
    fn the_burn_clock_takes_the_shortest_test_and_the_slowest_pick_up() {
        let burns_of = |says: &str| {
            let score =
                pause("in", says) + &juggle("one", "fire") + &pause("out", "put_out: \"fire\"");
            let act = act(&score, "");
            let burns = burns(&act);
            let [burn] = burns.as_slice() else { panic!("{burns:?}") };
            assert_eq!(burn.shortest, 1);
            let certain = |range: TimeRange| range.earliest().unwrap().to_f64();
            (certain(burn.lasts()), certain(burn.left()))
        };
        assert_eq!(burns_of(""), (14.2, 5.8));
        assert_eq!(burns_of("pick_up: [2.5, 3.5]"), (14.2, 5.8));
        assert_eq!(burns_of("pick_up: [2.5, 6.0]"), (16.2, 3.8));
    }
}
