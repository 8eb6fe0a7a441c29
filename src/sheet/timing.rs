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
use crate::measure::made::{self, MadeCounts};
use crate::measure::moves::{self, Move};
use crate::measure::{empty_hands, height};
use crate::routine::{Arms, Lands, Part, Room, Section, Unread};
use crate::time::{Seconds, Time, TimeRange};
use crate::timeline::{Face, Joining, JuggleSpan, SectionSpan, Timeline};

use super::clocks::{ClockLine, clocks, open_in_words};
use super::heading::{self, Heading};
use super::limits::{BurnLine, LimitLine, burns, limits};
use super::loading::{ColdStart, Gathered, cold_starts, gathers};
use super::regrip::{self, RegripLine};
use super::slot::{SlotLine, slot};
use super::stamp::{Stamp, StampClocks, TimecodeClock};
use super::words::plain;

/// The contents of the timing sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct TimingSheet {
    /// Its head.
    pub heading: Heading,
    /// Where the show clock reads zero, in words.
    pub zero: String,
    /// The clock of its time codes, if it has any.
    pub timecode: Option<TimecodeClock>,
    /// Whether there is any music.
    pub has_music: bool,
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
    /// What the hands do in all; `None` where an error leaves that unknown.
    pub counts: Option<Counts>,
    /// How many catches are made in all; `None` where an error leaves that unknown.
    pub catches: Option<u32>,
    /// Whether a section has an arm cycle.
    pub has_arms: bool,
    /// How often the arms cross in all; `None` where an error leaves that unknown.
    pub crossings: Option<u32>,
    /// Whether a section says how throws are made.
    pub has_ways: bool,
    /// How throws are made in all; `None` where an error leaves that unknown.
    pub made: Option<MadeCounts>,
    /// The act on each clock.
    pub clocks: Vec<ClockLine>,
    /// What the routine leaves open, in words; empty where every time is certain.
    pub open: Vec<String>,
    /// The limits in order.
    pub limits: Vec<LimitLine>,
    /// What is overhead.
    pub room: Option<Room>,
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
    /// What of it, or of the next section, lands on which moment, where `Lands` is written.
    pub lands: Option<String>,
    /// Where on stage.
    pub place: Option<String>,
    /// Logged pick-ups of a pause, in seconds, as they were written.
    pub pick_up: Vec<Seconds>,
    /// What is juggled; `None` for a pause and for what could not be read.
    pub juggled: Option<JuggledLine>,
    /// What is known of it where it could not be read: nothing else is.
    pub unread: Option<Unread>,
    /// How a pause loads the hands anew.
    pub regrip: Option<RegripLine>,
}

impl SectionLine {
    /// Whether it is juggled, or may be: it could not be read.
    #[must_use]
    pub fn may_be_juggled(&self) -> bool {
        let unread = self.unread.as_ref();
        self.juggled.is_some() || unread.is_some_and(|unread| unread.is_juggled != Some(false))
    }

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
    /// The hand of its own first throw; `None` for pairs, and where it is not known which hand
    /// does what.
    pub lead: Option<Hand>,
    /// Whether it is known which hand does what.
    pub hands_known: bool,
    /// Whether it is known how long its throws fly.
    pub flights_known: bool,
    /// Its own beats; `None` where an error leaves them unknown.
    pub beats: Option<u32>,
    /// Its whole cycles, and the beats of a cut one; `None` where an error leaves them unknown.
    pub cycles: Option<(u32, u32)>,
    /// How often it goes round, in words that go on from the pattern; `None` where an error leaves
    /// that unknown.
    pub how_often: Option<String>,
    /// Whether its props come as it needs them.
    pub joining: Joining,
    /// What joins it; `None` for a direct join without a wait.
    pub transition: Option<TransitionLine>,
    /// The face that the props show; `None` where they have but one.
    pub face: Option<Face>,
    /// Whether it is known which one.
    pub face_known: bool,
    /// What it does to the faces, in words; `None` where it goes on as before.
    pub other_face: Option<String>,
    /// Whether it starts cold.
    pub starts_cold: bool,
    /// The run's last catch, if it ends one.
    pub last_catch: Option<Stamp>,
    /// What the hands do; `None` where an error leaves that unknown.
    pub counts: Option<Counts>,
    /// Where the arms are on its own first and last beat.
    pub arms: (Arms, Arms),
    /// How often they cross; `None` where an error leaves its beats unknown.
    pub crossings: Option<u32>,
    /// How its throws are made; `None` where an error leaves that unknown.
    pub made: Option<MadeCounts>,
    /// Whether its run ends with it.
    pub ends_run: bool,
    /// The longest time with both hands empty; `None` where an error leaves that unknown.
    pub empty_hands: Option<Seconds>,
    /// Its longest flight; `None` when nothing is thrown, and where an error leaves it unknown.
    pub highest: Option<HighLine>,
    /// Its own throws a minute; `None` on a ramp, and where an error leaves them unknown.
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

impl TimingSheet {
    /// The sheet with the time code of every section's start, in the encore too where that has a
    /// clock for it.
    #[must_use]
    pub fn with_timecode(mut self, clock: TimecodeClock) -> TimingSheet {
        for section in &mut self.sections {
            clock.mark(&mut section.starts);
        }
        if let Some(of_encore) = &clock.encore {
            let of_encore = TimecodeClock::clone(of_encore);
            self.encore = self.encore.map(|encore| Box::new(encore.with_timecode(of_encore)));
        }
        self.timecode = Some(clock);
        self
    }
}

/// Composes the timing sheet.
#[must_use]
pub fn compose(act: &Act) -> TimingSheet {
    let Act { routine, timeline, .. } = act;
    let clocks_read = StampClocks::of(act);
    let limits = limits(act, &clocks_read);
    let sections = section_lines(act, &clocks_read);
    // In all is known where every part is.
    let is_hidden = sections.iter().any(|line| line.juggled.is_none() && line.may_be_juggled());
    let juggled = || sections.iter().filter_map(|line| line.juggled.as_ref());
    let counts_known = !is_hidden && juggled().all(|line| line.counts.is_some());
    let catches_known = !is_hidden && juggled().all(|line| line.listed.makes.is_some());
    let beats_known = !is_hidden && juggled().all(|line| line.beats.is_some());
    let crossings = beats_known.then(|| juggled().filter_map(|line| line.crossings).sum());
    let in_all = counts::in_all(timeline);
    TimingSheet {
        heading: Heading::of(act),
        zero: heading::zero(routine),
        timecode: None,
        has_music: routine.first_track().is_some(),
        has_bars: clocks_read.have_bars(),
        sections,
        loadings: cold_starts(act, &[]),
        gathers: gathers(act, &[]),
        catches: catches_known.then_some(in_all.catches),
        counts: counts_known.then_some(in_all),
        has_arms: routine.has_arms(),
        crossings,
        has_ways: routine.says_how_made(),
        made: counts_known.then(|| made::in_all(act)),
        clocks: clocks(act, &limits),
        open: open(act),
        act: act_line(act, &clocks_read),
        limits,
        room: routine.room.clone(),
        burns: burns(act),
        slot: slot(act),
        encore: encore(act),
    }
}

/// The entries of an act's score in order.
pub(super) fn section_lines(act: &Act, clocks: &StampClocks) -> Vec<SectionLine> {
    let empty_hands = empty_hands::longest(&act.timeline).into_iter().enumerate();
    let lines = empty_hands.map(|section_and_empty| section(act, section_and_empty, clocks));
    let crossings = arms::crossings(act);
    lines.zip(crossings).map(|(line, crossings)| line.with_crossings(crossings)).collect()
}

impl SectionLine {
    fn with_crossings(mut self, crossings: u32) -> SectionLine {
        if let Some(juggled) = &mut self.juggled {
            juggled.crossings = juggled.beats.map(|_| crossings);
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

/// What the act and its encore leave open, in words.
fn open(act: &Act) -> Vec<String> {
    let mut open = open_in_words(&act.routine);
    let encore = act.encore.iter().flat_map(|encore| open_in_words(&encore.routine));
    open.extend(encore.enumerate().map(|(index, open)| match index {
        0 => format!("in the encore {open}"),
        _ => open,
    }));
    open
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
        Some(Part::Unread(_)) | None => (None, Vec::new()),
    };
    let place = place.map(plain);
    let until = entry.and_then(Section::lasts).and_then(|lasts| lasts.value.until());
    let lands = until.filter(|until| until.lands != Lands::Next).map(super::words::lands);
    let juggled = juggled(act, (index, empty_hands), clocks);
    let regrip = regrip::of_section(act, index);
    SectionLine {
        name,
        starts: clocks.stamp(&time(|span| span.starts.clone())),
        ends: clocks.stamp(&time(|span| span.ends.clone())),
        lasts: time(|span| &span.ends - &span.starts).range(),
        lands,
        place,
        pick_up,
        juggled,
        unread: entry.and_then(|entry| entry.unread().cloned()),
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
    let flights_known = height::flights_known(act, index);
    let highest =
        height::highest(timeline, index).filter(|_| flights_known).map(|highest| HighLine {
            value: highest.action.throw.to_string(),
            flight: highest.flight,
            above_hand_m: highest.above_hand_m,
            needs_m: routine
                .room
                .as_ref()
                .zip(prop_length_m)
                .map(|(room, length)| height::clear_height_m(room, highest.above_hand_m, length)),
        });
    let hands_known = juggle.hands_known;
    let counts_known = hands_known && juggle.beats_known && juggle.way_known;
    Some(JuggledLine {
        listed,
        lead: juggle.lead.filter(|_| hands_known),
        hands_known,
        flights_known,
        beats: juggle.beats_known.then_some(juggle.beats),
        cycles: juggle.beats_known.then_some(juggle.cycles),
        how_often: juggle.how_often(),
        joining: juggle.joining,
        transition: juggle.transition.as_ref().filter(|_| juggle.way_known).map(|taken| {
            TransitionLine {
                throws: taken.throws.to_string(),
                beats: taken.beats,
                waits: taken.waits,
            }
        }),
        face: juggle.face.filter(|_| juggle.face_known),
        face_known: juggle.face_known,
        other_face: regrip::other_face_words(timeline, index).filter(|_| juggle.face_known),
        starts_cold: juggle.first_beat == 0,
        last_catch: run
            .gather
            .last_catch
            .as_ref()
            .filter(|_| juggle.ends_run)
            .map(|caught| clocks.stamp(caught)),
        counts: counts::of_section(timeline, index).filter(|_| counts_known),
        arms: timeline.arms_at_ends(routine, index)?,
        crossings: None,
        made: made::of_section(act, index).filter(|_| counts_known),
        ends_run: juggle.ends_run,
        empty_hands: Some(empty_hands).filter(|_| gaps_known(timeline, index, juggle)),
        highest,
        per_minute: bend::per_minute(timeline, index).filter(|_| juggle.pace_known),
        bent: bent(act, index),
    })
}

/// Whether it is known how long both hands are empty at once in a section: not from before a
/// junction on that is torn or not known, and not before what could not be read.
fn gaps_known(timeline: &Timeline, index: usize, juggle: &JuggleSpan) -> bool {
    let Some(run) = timeline.runs.get(juggle.run) else { return false };
    let up_to_next = run.sections.start..run.sections.end.min(index + 2);
    let mut sections = timeline.sections.get(up_to_next).unwrap_or_default().iter();
    let is_torn = |span: &SectionSpan| match &span.juggle {
        Some(juggle) if juggle.first_beat == 0 => juggle.joining == Joining::Torn,
        Some(juggle) => juggle.joining != Joining::Fits,
        None => true,
    };
    let is_last = index + 1 == run.sections.end;
    let is_whole = !(sections.any(is_torn) || run.breaks_off && is_last);
    is_whole && juggle.beats_known && juggle.pace_known
}

fn bent(act: &Act, index: usize) -> Option<BentLine> {
    let Act { routine, timeline, .. } = act;
    let bent = bend::of_section(timeline, index)?;
    let juggle = routine.juggle(index)?;
    Some(BentLine { may_bend: juggle.may_bend.as_ref()?.most.value.clone(), bent })
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
        assert_eq!(sheet.counts.unwrap().hands.iter().map(|hand| hand.empty).sum::<u32>(), 0);
        assert_eq!(
            showers.counts.as_ref().unwrap().hands.each_ref().map(|hand| hand.handed_across),
            [2, 2]
        );
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
