//! The timing sheet: sections, the act on each clock, limits, counts, moves and heights.
//!
//! Plain contents for the exporters; every figure comes from [`crate::measure`], exact and
//! unrounded. Times are seconds on the show clock unless a field says otherwise.

use num_rational::BigRational;

use crate::act::Act;
use crate::hand::Hand;
use crate::measure::arms;
use crate::measure::bend::{self, Bent};
use crate::measure::counts::{self, Counts};
use crate::measure::figures::{Figures, figures};
use crate::measure::in_use::{self, Burn, shortest_burn};
use crate::measure::limit_range::{JudgedRange, judged_range};
use crate::measure::made::{self, MadeCounts};
use crate::measure::moves::{self, Move};
use crate::measure::{empty_hands, height};
use crate::routine::{Arms, Limit, Part};
use crate::time::{Seconds, Time, TimeRange};
use crate::timeline::{Face, SectionSpan};

use super::clocks::{ClockLine, clocks, open_in_words};
use super::loading::{ColdStart, Gathered, cold_starts, gathers};
use super::regrip::{self, RegripLine};
use super::slot::{SlotLine, slot};
use super::stamp::{Stamp, StampClocks, TimecodeClock};
use super::words::{self, plain};

/// The contents of the timing sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct TimingSheet {
    /// The routine's title.
    pub title: String,
    /// Its issue.
    pub issue: u32,
    /// Where the show clock reads zero, in words.
    pub zero: String,
    /// The clock of its time codes, if it has any.
    pub timecode: Option<TimecodeClock>,
    /// Whether the music has bars.
    pub has_bars: bool,
    /// One for each entry of the score, in order.
    pub sections: Vec<SectionLine>,
    /// What is in which hand before every cold start.
    pub loadings: Vec<ColdStart>,
    /// What is in which hand after every gather.
    pub gathers: Vec<Gathered>,
    /// The whole act's figures.
    pub act: ActLine,
    /// What the hands do in all.
    pub counts: Counts,
    /// How often the arms cross in all; `None` where no section has an arm cycle.
    pub crossings: Option<u32>,
    /// How throws are made in all; `None` where no section says so.
    pub made: Option<MadeCounts>,
    /// The act on each clock.
    pub clocks: Vec<ClockLine>,
    /// What the routine leaves open, in words; empty where every time is certain.
    pub open: Vec<String>,
    /// The limits in order; one whose start or stop never comes is left out (the checks refuse it
    /// before a sheet is written).
    pub limits: Vec<LimitLine>,
    /// The room's clear height, in metres.
    pub clear_height_m: Option<f64>,
    /// The sets with a tested burn, each time that they are in use.
    pub burns: Vec<BurnLine>,
    /// Set-up, act, encore and strike; empty where only the act is written.
    pub slot: Vec<SlotLine>,
    /// The encore, on its own clock.
    pub encore: Option<Box<TimingSheet>>,
}

/// The whole act's figures.
#[derive(Clone, Debug, PartialEq)]
pub struct ActLine {
    /// The first release; `None` when no prop leaves a hand.
    pub first_throw: Option<Stamp>,
    /// The last catch; `None` when nothing is caught.
    pub last_catch: Option<Stamp>,
    /// From its first section's start to its last one's end.
    pub lasts: Option<TimeRange>,
    /// The runs together.
    pub juggled: TimeRange,
}

/// A burn held against its shortest test.
#[derive(Clone, Debug, PartialEq)]
pub struct BurnLine {
    /// The set.
    pub set: String,
    /// When it is first in use and when it is last caught, in words and on the show clock.
    pub from: (String, TimeRange),
    /// See `from`.
    pub to: (String, TimeRange),
    /// How long that is.
    pub lasts: TimeRange,
    /// The shortest test.
    pub shortest: Seconds,
    /// What is left of it; below zero where it is too short, which the checks refuse.
    pub left: TimeRange,
}

/// An entry of the score.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionLine {
    /// Its name.
    pub name: String,
    /// Where it starts.
    pub starts: Stamp,
    /// Where it ends.
    pub ends: Stamp,
    /// How long it lasts.
    pub lasts: TimeRange,
    /// Where on stage.
    pub place: Option<String>,
    /// Logged pick-ups of a pause, in seconds, as they were written.
    pub pick_up: Vec<Seconds>,
    /// What is juggled; `None` for a pause.
    pub juggled: Option<JuggledLine>,
    /// How a pause loads the hands anew.
    pub regrip: Option<RegripLine>,
}

impl SectionLine {
    /// The slowest logged pick-up.
    #[must_use]
    pub fn slowest_pick_up(&self) -> Option<&Seconds> {
        let slower = |slowest, logged| if logged > slowest { logged } else { slowest };
        self.pick_up.iter().reduce(slower)
    }
}

/// A juggled section.
#[derive(Clone, Debug, PartialEq)]
pub struct JuggledLine {
    /// The section as a move, with its pattern, props and catches.
    pub listed: Move,
    /// The hand of its own first throw; `None` for pairs.
    pub lead: Option<Hand>,
    /// Its own beats.
    pub beats: u32,
    /// What joins it; `None` for a direct join without a wait.
    pub transition: Option<TransitionLine>,
    /// The face that the props show; `None` where they have but one.
    pub face: Option<Face>,
    /// What it does to the faces, in words; `None` where it goes on as before.
    pub other_face: Option<String>,
    /// Whether it starts cold.
    pub starts_cold: bool,
    /// The run's last catch, if it ends one.
    pub last_catch: Option<Stamp>,
    /// What the hands do.
    pub counts: Counts,
    /// Where the arms are on its own first and last beat.
    pub arms: (Arms, Arms),
    /// How often they cross.
    pub crossings: u32,
    /// How its throws are made.
    pub made: MadeCounts,
    /// Whether its run ends with it.
    pub ends_run: bool,
    /// The longest time with both hands empty.
    pub empty_hands: Seconds,
    /// Its longest flight; `None` when nothing is thrown.
    pub highest: Option<HighLine>,
    /// Its own throws a minute; `None` on a ramp.
    pub per_minute: Option<BigRational>,
    /// How its tempo is bent, where it may.
    pub bent: Option<BentLine>,
}

/// A transition or a wait.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TransitionLine {
    /// Its throws as the notation writes them; empty for a mere wait.
    pub throws: String,
    /// Beats it takes.
    pub beats: u32,
    /// The hand that waits.
    pub waits: Option<Hand>,
}

/// The highest throw of a section. Estimates.
#[derive(Clone, Debug, PartialEq)]
pub struct HighLine {
    /// The throw as written.
    pub value: String,
    /// How long it flies.
    pub flight: Seconds,
    /// Above the hand, in metres.
    pub above_hand_m: f64,
    /// The clear height that it needs, in metres; `None` where no room is written.
    pub needs_m: Option<f64>,
}

/// A tempo that was bent to land whole cycles on a section's end.
#[derive(Clone, Debug, PartialEq)]
pub struct BentLine {
    /// The most that it may bend, as a part of the written tempo.
    pub may_bend: BigRational,
    /// What it was bent to and does.
    pub bent: Bent,
}

/// A limit with its verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitLine {
    /// The rule, as its user calls it.
    pub rule: String,
    /// Where it starts the time.
    pub starts_at: Stamp,
    /// Where it stops it.
    pub stops_at: Stamp,
    /// Where it starts the time, in words.
    pub starts: String,
    /// Where it stops it, in words.
    pub stops: String,
    /// The limit as written.
    pub limit: Limit,
    /// What it says.
    pub judged: JudgedRange,
}

impl TimingSheet {
    /// The sheet with the time code of every section's start.
    #[must_use]
    pub fn with_timecode(mut self, clock: TimecodeClock) -> TimingSheet {
        for section in &mut self.sections {
            clock.mark(&mut section.starts);
        }
        self.timecode = Some(clock);
        self
    }
}

/// Composes the timing sheet.
#[must_use]
pub fn compose(act: &Act) -> TimingSheet {
    let Act { routine, timeline, .. } = act;
    let empty_hands = empty_hands::longest(timeline);
    let clocks_read = StampClocks::of(act);
    let limits = limits(act, &clocks_read);
    let crossings = arms::crossings(act);
    let burns = burns(act);
    TimingSheet {
        title: plain(&routine.title.value),
        issue: routine.issue,
        zero: words::moment(&routine.zero.value),
        timecode: None,
        has_bars: clocks_read.have_bars(),
        sections: timeline
            .sections
            .iter()
            .zip(empty_hands)
            .enumerate()
            .map(|(index, (_, empty))| section(act, (index, empty), &clocks_read))
            .zip(&crossings)
            .map(|(line, &crossings)| line.with_crossings(crossings))
            .collect(),
        loadings: cold_starts(act, &[]),
        gathers: gathers(act, &[]),
        counts: counts::in_all(timeline),
        crossings: routine.has_arms().then(|| crossings.iter().sum()),
        made: routine.says_how_made().then(|| made::in_all(act)),
        clocks: clocks(act, &limits),
        open: open_in_words(routine),
        act: act_line(act, &clocks_read),
        limits,
        clear_height_m: routine.room.as_ref().map(|room| room.clear_height.value),
        burns,
        slot: slot(act),
        encore: encore(act),
    }
}

impl SectionLine {
    fn with_crossings(mut self, crossings: u32) -> SectionLine {
        if let Some(juggled) = &mut self.juggled {
            juggled.crossings = crossings;
        }
        self
    }
}

fn act_line(act: &Act, clocks: &StampClocks) -> ActLine {
    let Figures { begins, first_throw, last_catch, ends, juggled } = figures(&act.timeline);
    ActLine {
        first_throw: first_throw.map(|time| clocks.stamp(&time)),
        last_catch: last_catch.map(|time| clocks.stamp(&time)),
        lasts: ends.zip(begins).map(|(ends, begins)| (&ends - &begins).range()),
        juggled: juggled.range(),
    }
}

fn encore(act: &Act) -> Option<Box<TimingSheet>> {
    Some(Box::new(compose(act.encore.as_deref()?)))
}

fn burns(act: &Act) -> Vec<BurnLine> {
    let Act { routine, .. } = act;
    let name = |index: usize| {
        routine.score.get(index).map_or_else(String::new, |section| plain(&section.name.value))
    };
    let line = |burn: &Burn| {
        let set = routine.sets.get(burn.in_use.set)?;
        let sections = &burn.in_use.sections;
        let last = name(sections.end.checked_sub(1)?);
        Some(BurnLine {
            set: plain(&set.name.value),
            from: (format!("start of {}", name(sections.start)), burn.in_use.from.range()),
            to: (format!("last catch of {last}"), burn.in_use.to.range()),
            lasts: burn.in_use.lasts().range(),
            shortest: shortest_burn(set, burn)?.clone(),
            left: burn.left.range(),
        })
    };
    in_use::burns(act).iter().filter_map(line).collect()
}

fn section(act: &Act, (index, empty_hands): (usize, Seconds), clocks: &StampClocks) -> SectionLine {
    let Act { routine, timeline, .. } = act;
    let entry = routine.score.get(index);
    let name = entry.map_or_else(String::new, |entry| plain(&entry.name.value));
    let time =
        |of: fn(&SectionSpan) -> Time| timeline.sections.get(index).map_or_else(Time::zero, of);
    let (place, pick_up) = match entry.map(|entry| &entry.part) {
        Some(Part::Juggle(juggle)) => (juggle.place.as_deref(), Vec::new()),
        Some(Part::Pause(pause)) => {
            let logged = pause.pick_up.iter().map(|logged| logged.value.clone());
            (pause.place.as_deref(), logged.collect())
        }
        Some(Part::Unread) | None => (None, Vec::new()),
    };
    let place = place.map(plain);
    let juggled = juggled(act, (index, empty_hands), clocks);
    let regrip = regrip::of_section(act, index);
    SectionLine {
        name,
        starts: clocks.stamp(&time(|span| span.starts.clone())),
        ends: clocks.stamp(&time(|span| span.ends.clone())),
        lasts: time(|span| &span.ends - &span.starts).range(),
        place,
        pick_up,
        juggled,
        regrip,
    }
}

fn juggled(
    act: &Act,
    (index, empty_hands): (usize, Seconds),
    clocks: &StampClocks,
) -> Option<JuggledLine> {
    let Act { routine, timeline, .. } = act;
    let juggle = timeline.sections.get(index)?.juggle.as_ref()?;
    let run = timeline.runs.get(juggle.run)?;
    let mut listed = moves::of_section(act, index)?;
    listed.name = plain(&listed.name);
    listed.pattern = plain(&listed.pattern);
    let prop_length_m = routine.sets.get(run.set).map(|set| set.length);
    let highest = height::highest(timeline, index).map(|highest| HighLine {
        value: highest.action.throw.to_string(),
        flight: highest.flight,
        above_hand_m: highest.above_hand_m,
        needs_m: routine
            .room
            .as_ref()
            .zip(prop_length_m)
            .map(|(room, length)| height::clear_height_m(room, highest.above_hand_m, length)),
    });
    Some(JuggledLine {
        listed,
        lead: juggle.lead,
        beats: juggle.beats,
        transition: juggle.transition.as_ref().map(|taken| TransitionLine {
            throws: taken.throws.to_string(),
            beats: taken.beats,
            waits: taken.waits,
        }),
        face: juggle.face,
        other_face: regrip::other_face_words(timeline, index),
        starts_cold: juggle.first_beat == 0,
        last_catch: run
            .gather
            .last_catch
            .as_ref()
            .filter(|_| juggle.ends_run)
            .map(|caught| clocks.stamp(caught)),
        counts: counts::of_section(timeline, index)?,
        arms: timeline.arms_at_ends(routine, index)?,
        crossings: 0,
        made: made::of_section(act, index)?,
        ends_run: juggle.ends_run,
        empty_hands,
        highest,
        per_minute: bend::per_minute(timeline, index),
        bent: bent(act, index),
    })
}

fn bent(act: &Act, index: usize) -> Option<BentLine> {
    let Act { routine, timeline, .. } = act;
    let bent = bend::of_section(timeline, index)?;
    let Some(juggle) = routine.juggle(index) else {
        return None;
    };
    Some(BentLine { may_bend: juggle.may_bend.as_ref()?.most.value.clone(), bent })
}

fn limits(act: &Act, clocks: &StampClocks) -> Vec<LimitLine> {
    let Act { routine, .. } = act;
    let line = |limit: &Limit| {
        let judged = judged_range(act, limit).ok()?;
        Some(LimitLine {
            rule: plain(&limit.rule),
            starts_at: clocks.stamp(&judged.starts),
            stops_at: clocks.stamp(&judged.stops),
            starts: words::moment(&limit.starts.value),
            stops: words::moment(&limit.stops.value),
            limit: limit.clone(),
            judged,
        })
    };
    routine.limits.iter().filter_map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{
        balls, compiled, juggle, name, per_minute, placed, routine, section,
    };
    use crate::routine::{Length, Tempo};

    #[test]
    fn a_hand_that_waits_is_a_transition_and_counts_no_empty_hand() {
        let (tide, mut tide_juggle) = juggle("tide", "3", Length::Beats(6));
        tide_juggle.set = Some(name("three"));
        let showers = juggle("showers", "(4,2x)(2x,4)", Length::Beats(8));
        let set = balls("three", &["coral", "teal", "pearl"]);
        let quay = routine(vec![section((tide, tide_juggle)), section(showers)], vec![set]);
        let sheet = compose(&compiled(&quay));
        let showers = sheet.sections[1].juggled.as_ref().unwrap();
        assert_eq!(showers.lead, None);
        let waits = TransitionLine { throws: String::new(), beats: 1, waits: Some(Hand::Right) };
        assert_eq!(showers.transition, Some(waits));
        assert_eq!(sheet.counts.hands.iter().map(|hand| hand.empty).sum::<u32>(), 0);
        assert_eq!(showers.counts.hands.each_ref().map(|hand| hand.handed_across), [2, 2]);
    }

    #[test]
    fn the_highest_throw_of_a_ramp_is_its_slowest() {
        for (from, to, number) in [(180, 220, 1), (220, 180, 40)] {
            let (tide, mut tide_juggle) = juggle("tide", "3", Length::Beats(40));
            tide_juggle.set = Some(name("three"));
            let tempo = |tempo| match per_minute(tempo) {
                Tempo::PerMinute(tempo) => tempo,
                Tempo::Ramp { .. } | Tempo::PerMusicBeat { .. } => {
                    unreachable!("`per_minute` is steady")
                }
            };
            tide_juggle.tempo =
                Some(placed(Tempo::Ramp { from: Some(tempo(from)), to: tempo(to) }));
            let set = balls("three", &["coral", "teal", "pearl"]);
            let quay = routine(vec![section((tide, tide_juggle))], vec![set]);
            let highest = height::highest(&compiled(&quay).timeline, 0).unwrap();
            let thrown = highest.action.number.map(|number| number.get());
            assert_eq!(thrown, Some(number), "{from} to {to}");
        }
    }
}
